"""Small files made to keep the program busy or to make it say much: by name, what each does, and the files of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from railgen.fields.document import MOST_BYTES
from tests.job.cases import GOOD, GOOD_CATALOGUE

__all__ = ["HOSTILE"]

Files = Mapping[str, str]
"""Text by file name; the job is ``job.toml``."""

_WITH_MINE = GOOD.replace('set = "wide-48.3"', 'set = "mine"\ncatalogue = ["mine.toml"]')


def _filled(start: str, item: Callable[[int], str], end: str = "") -> str:
    """As many items between start and end as the largest file may hold."""
    parts, room, number = [start], MOST_BYTES - len(start) - len(end), 0
    while room >= (size := len(text := item(number))):
        parts.append(text)
        room -= size
        number += 1
    return "".join((*parts, end))


def _job(text: str) -> Files:
    return {"job.toml": text}


def _list(key: str, item: str) -> Files:
    """The good job with a list in place of one key's value, as long as may be."""
    before, after = GOOD.split(f"{key} = ", 1)
    return _job(_filled(f"{before}{key} = [", lambda _: f"{item},", "]\n" + after.split("\n", 1)[1]))


def _entries(table: str, rows: Iterable[str]) -> Files:
    """A catalogue of as many entries as may be, each with these keys ({0}: its number)."""
    row = f"[[{table}]]\n" + "".join(f"{one}\n" for one in rows)
    return {"job.toml": _WITH_MINE, "mine.toml": _filled("format = 1\n", lambda k: row.replace("{0}", str(k)))}


def _many_catalogues() -> Files:
    names = [f"c{number}.toml" for number in range(10)]
    keys = "tube post_tube material base_plate cover_plate fixed_saddle adjustable_saddle elbow_saddle elbow end_cap"
    row = "[[set]]\nid = '{0}'\n" + "".join(f"{key} = 'nearly{key}'\n" for key in (*keys.split(), "end_scroll"))
    row += "anchors = {timber = 'timbre', steel = 'stele'}\n"
    row += "[[tube]]\nid = 't{0}'\nod = 48.3\nwall = 2\n"
    text = [
        "format = 1\n" + "".join(row.replace("{0}", f"s{file}-{number}") for number in range(200)) for file in range(10)
    ]
    job = GOOD.replace('set = "wide-48.3"', f'set = "mine"\ncatalogue = {names}')
    return {"job.toml": job, **dict(zip(names, text, strict=True))}


def _good_catalogues() -> Files:
    """Tubes that all fit, in as many files as may be: each could take the place of the job's own."""
    names = [f"c{number}.toml" for number in range(10)]
    files = {
        f"c{file}.toml": "format = 1\n"
        + "".join(f"[[tube]]\nid = 't{file}-{k}'\nod = 48.3\nwall = {2 + (file * 200 + k) / 1e4}\n" for k in range(200))
        for file in range(10)
    }
    load = '[strength]\nloads = ["asce-7", "en-b"]\n[rail]'
    job = GOOD.replace('set = "wide-48.3"', f'set = "wide-48.3"\ncatalogue = {names}').replace("[rail]", load)
    return {"job.toml": job, **files}


def _largest() -> Files:
    """A stair of a hundred flights of sixty risers: as large as may be."""
    head, _ = GOOD.split("[[stair]]", 1)
    flight = "[[stair]]\nkind = 'flight'\nrise = 170\ngoing = 280\nriser_count = 60\nwidth = 900\n"
    landing = "[[stair]]\nkind = 'landing'\nlength = 1000\nturn = 'straight'\n"
    return _job(head + "".join((flight + landing) * 99) + flight)


HOSTILE: Mapping[str, Files] = {
    "brackets": _job("a = " + "[" * 100_000),
    "inline tables": _job("a = " + "{a = " * 40_000),
    "dotted key": _job(".".join("a" * 100_000) + " = 1\n"),
    "dotted header": _job("[" + ".".join("a" * 100_000) + "]\n"),
    "dotted in a list": _job("a = [{" + ".".join("a" * 100_000) + " = 1}]\n"),
    "quotes that never end": _job('a = """' + '\\"""' * 50_000),
    "apostrophes that never end": _job("a = " + "'''a''''" * 30_000),
    "unknown keys": _job(_filled(GOOD, lambda k: f"wid{k:x} = 1\n")),
    "unknown keys in front": _job(_filled("format = 1\n", lambda k: f"x{k:x} = 1\n", GOOD.split("format = 1")[1])),
    "unknown tables": _job(_filled(GOOD, lambda k: f"[stairs{k:x}]\n")),
    "unknown lists of tables": _job(_filled(GOOD, lambda _: "[[stairs]]\n")),
    "empty tables of a list": _job(_filled(GOOD, lambda _: "[[stair]]\n")),
    "flights without steps": _job(_filled(GOOD, lambda _: "[[stair]]\nkind = 'flight'\nwidth = 900\n")),
    "a key that is a book": _job(GOOD + "x" * 250_000 + " = 1\n"),
    "a value that is a book": _job(GOOD.replace('"granary"', '"' + "x" * 250_000 + '"')),
    "a word that is a book": _job(GOOD.replace('"left"', '"' + "\\u0007" * 40_000 + '"')),
    "a line that is a book": _job(GOOD.replace("900\n", "7 3/4," * 40_000 + "\n", 1)),
    "a table twice with a long name": _job(GOOD + f"[{'x' * 120_000}]\n" * 2),
    "hex of many digits": _job(GOOD.replace("edge_offset = 60", f"edge_offset = 0x{'f' * 200_000}")),
    "hex as a count": _job(GOOD.replace("riser_count = 4", f"riser_count = 0x{'f' * 200_000}")),
    "hex as a format": _job(GOOD.replace("format = 1", f"format = 0x{'f' * 200_000}")),
    "hex as a word": _job(GOOD.replace('"left"', f"0x{'f' * 200_000}")),
    "hex as a kind": _job(GOOD.replace('kind = "landing"', f"kind = 0x{'f' * 200_000}")),
    "hex as a rotation": _job(GOOD + f"[site]\nrotation = 0x{'f' * 200_000}\n"),
    "decimal of many digits": _job(GOOD.replace("edge_offset = 60", f"edge_offset = {'9' * 200_000}")),
    "a fraction of many digits": _job(GOOD.replace("edge_offset = 60", f"edge_offset = {'9.' + '9' * 200_000}")),
    "goings of nothing": _list("goings", "0"),
    "goings that are lists": _list("goings", "[[1],[2]]"),
    "posts of nothing": _list("posts", "-1"),
    "setbacks of nothing": _list("setback_band", "{a=1}"),
    "lists of nothing": _list("goings", ""),
    "names of files": _job(GOOD.replace('"wide-48.3"', '"x"\ncatalogue = [' + '"a.toml",' * 25_000 + "]")),
    "names of rule files": _job(GOOD + "[rules]\nfiles = [" + '"a/b.toml",' * 20_000 + "]\n"),
    "names of rule sets": _job(GOOD + "[rules]\nsets = [" + '"us-irc-2012",' * 18_000 + "]\n"),
    "names of loads": _job(GOOD + "[strength]\nloads = [" + '"asce7",' * 25_000 + "]\n"),
    "prices": _job(_filled(GOOD + "[prices.items]\n", lambda k: f"x{k:x} = -1\n")),
    "rivets without keys": _entries("rivet", ()),
    "rivets of one name": _entries(
        "rivet", ("id='r'", "diameter=4", "hole_diameter=4", "length=9", "head_diameter=8", "head_height=1")
    ),
    "tubes without bore": _entries("tube", ("id = 't{0}'", "od = 20", "wall = 10")),
    "tubes of one name": _entries("tube", ("id = 't'", "od = 20", "wall = 1")),
    "sets of nothing": _many_catalogues(),
    "tubes that fit": _good_catalogues(),
    "a rule set of nothing": {
        "job.toml": GOOD + "[rules]\nfiles = ['mine.toml']\n",
        "mine.toml": _filled("format = 1\nid = 'x'\ntitle = 'x'\n", lambda _: "[[rule]]\nid='a'\nunit='length'\n"),
    },
    "a rule set of one rule": {
        "job.toml": GOOD + "[rules]\nfiles = ['mine.toml']\n",
        "mine.toml": _filled(
            "format = 1\nid = 'x'\ntitle = 'x'\n",
            lambda k: f"[[rule]]\nid='a{k // 2}'\nunit='length'\nkind='riser'\ncertainty='own'\nsays=''\n",
        ),
    },
    "the largest stair": _largest(),
    "a catalogue of 256 KB as a job": _job(_filled(GOOD_CATALOGUE, lambda k: f"# {k}\n")),
}
