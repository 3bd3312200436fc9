"""Which face a text is set in: Helvetica, which every PDF reader has, or one that is put into the file with it."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache
from importlib.util import find_spec
from pathlib import Path

__all__ = ["face", "lost", "shown"]

_HELVETICA = {False: "Helvetica", True: "Helvetica-Bold"}
_DEJAVU = {False: "DejaVuSans", True: "DejaVuSans-Bold"}
_UNSHOWN = "?"


def face(text: str, *, bold: bool) -> str:
    """Name of the face for a text that is ``shown``: Helvetica, or DejaVu Sans where Helvetica lacks a letter of it."""
    if (text.isascii() and text.isprintable()) or all(map(_in_helvetica, text)):
        return _HELVETICA[bold]
    _others()  # registers them
    return _DEJAVU[bold]


@lru_cache(maxsize=8192)
def shown(text: str) -> str:
    """The text in characters that a face has: Latin, Greek and Cyrillic; of others the plain form, or ``?``.

    >>> shown("Łódź, Αθήνα 48.3 × 2 Ø5°"), shown("№ ﬁ 木")
    ('Łódź, Αθήνα 48.3 × 2 Ø5°', '№ ﬁ ?')
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
    """Code points of DejaVu Sans (free licence, comes with matplotlib), of which a PDF takes the letters it uses.

    Letters written from right to left are left out: nothing here sets them in their order.
    """
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont

    found = find_spec("matplotlib")  # looked up, not imported
    places = list(found.submodule_search_locations or ()) if found else []
    points = []
    for name in _DEJAVU.values():
        font = TTFont(name, str(Path(places[0], "mpl-data", "fonts", "ttf", f"{name}.ttf")))
        registerFont(font)
        points.append(frozenset(point for point in font.face.charToGlyph if _from_left(chr(point))))
    return points[0] & points[1]


def _from_left(char: str) -> bool:
    return char.isprintable() and unicodedata.bidirectional(char) not in ("R", "AL")
