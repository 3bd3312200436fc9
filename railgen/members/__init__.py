"""Every piece and every hole, once."""

from railgen.members.fabrication import Fabrication, fabricate

__all__ = ["Fabrication", "fabricate"]
