"""The pack as a folder of files."""

from railgen.report.content import Content
from railgen.report.write import Artefact, write_pack

__all__ = ["Artefact", "Content", "write_pack"]
