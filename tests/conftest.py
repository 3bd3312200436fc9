"""Settings for every test: the same random examples each time, and no deadline on a busy machine.

To search further than the test call does: ``pytest --hypothesis-profile=search``.
"""

from __future__ import annotations

from hypothesis import HealthCheck, settings

_SLOW = [HealthCheck.too_slow]
settings.register_profile("standard", deadline=None, derandomize=True, max_examples=40, suppress_health_check=_SLOW)
settings.register_profile("search", deadline=None, max_examples=1000, suppress_health_check=_SLOW)
settings.load_profile("standard")
