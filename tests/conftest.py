"""Settings for every test: the same random examples each time, no deadline on a busy machine, packs built once.

To search further than the test call does: ``pytest --hypothesis-profile=search``.
"""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings

from tests.packs import RUN

_SLOW = [HealthCheck.too_slow]
settings.register_profile("standard", deadline=None, derandomize=True, max_examples=40, suppress_health_check=_SLOW)
settings.register_profile("search", deadline=None, max_examples=1000, suppress_health_check=_SLOW)
settings.load_profile("standard")


@pytest.fixture(scope="session", autouse=True)
def run_folder(tmp_path_factory: pytest.TempPathFactory, worker_id: str) -> None:
    """Tells tests.packs which folder all workers of this run share."""
    own = tmp_path_factory.getbasetemp()
    RUN[:] = [own if worker_id == "master" else own.parent]
