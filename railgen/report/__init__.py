"""The pack as a folder of files."""

from railgen.report.write import Artefact, Content, write_pack

__all__ = ["Artefact", "Content", "write_pack"]
