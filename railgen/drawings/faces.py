"""Which face a text is set in: Helvetica, which every PDF reader has, or one that is put into the file with it."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from importlib.resources import files

__all__ = ["face", "lost", "shown"]

_HELVETICA = {False: "Helvetica", True: "Helvetica-Bold"}
_FIRA = {False: "FiraSans-Regular", True: "FiraSans-Bold"}
_UNSHOWN = "?"


def face(text: str, *, bold: bool) -> str:
    """Name of the face for a text that is ``shown``: Helvetica, or Fira Sans where Helvetica lacks a letter of it."""
    if (text.isascii() and text.isprintable()) or all(map(_in_helvetica, text)):
        return _HELVETICA[bold]
    _others()  # registers them
    return _FIRA[bold]


@lru_cache(maxsize=8192)
def shown(text: str) -> str:
    """The text in characters that a face has: Latin, Greek and Cyrillic; of others the plain form, or ``?``.

    >>> shown("Łódź, Αθήνα 48.3 × 2 Ø5°"), shown("№ ① 木")
    ('Łódź, Αθήνα 48.3 × 2 Ø5°', '№ 1 ?')
    """
    return "".join(map(_nearest, _composed(text)))


def lost(text: str) -> str:
    """Those of its characters that ``shown`` puts ``?`` for, each once, in order.

    >>> lost("木 and 木水?")
    '木水'
    """
    return "".join(dict.fromkeys(c for c in _composed(text) if c != _UNSHOWN and _UNSHOWN in _nearest(c)))


def _composed(text: str) -> str:
    return unicodedata.normalize("NFC", text) if not text.isascii() else text


@lru_cache(maxsize=2048)
def _nearest(char: str) -> str:
    if _known(char):
        return char
    if char.isspace():
        return " "
    base = "".join(c for c in unicodedata.normalize("NFKD", char) if not unicodedata.combining(c))
    return base if base and all(map(_known, base)) else _UNSHOWN


def _known(char: str) -> bool:
    return _in_helvetica(char) or ord(char) in _others()


@lru_cache(maxsize=2048)
def _in_helvetica(char: str) -> bool:
    try:
        char.encode("cp1252")
    except UnicodeEncodeError:
        return False
    return char.isprintable()


@cache
def _others() -> frozenset[int]:
    """Code points of Fira Sans (SIL Open Font License 1.1), of which a PDF takes the letters it uses."""
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    points = []
    for name in _FIRA.values():
        with files("fontpkg_fira_sans").joinpath("files", f"{name}.ttf").open("rb") as file:
            font = TTFont(name, file)
        registerFont(font)
        points.append(frozenset(point for point in font.face.charToGlyph if chr(point).isprintable()))
    return points[0] & points[1]
