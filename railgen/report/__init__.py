"""The pack as a folder of files."""

from railgen.report.write import write_pack

__all__ = ["write_pack"]
