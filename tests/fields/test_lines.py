"""Lines of keys, held against the standard library's reading of the same text."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from railgen.fields.lines import KeyPath, key_lines, line_of

TRICKY = r'''# a comment with = and [brackets]
title = "a \"quoted\" # word" # comment
'single' = 'C:\no\escape'
"with space" = 1
"tab\tand \u00e4" = 2
a.b . c = [ 1, # one
  2,

  [3, 4], { x = 1, y.z = [5] } ]
long = """
[not.a.table]
key = "not one"
ends with quotes"""""
raw = \'\'\'
x = 1 \'\'\'
date = 2026-03-14T07:00:00Z
after = true

[table] # header
inner = -1e3
[table."sub.dotted".'deep']
k = nan

[[list]]
n = 0
[[list.more]]
m = 1
[[list.more]]
m = 2
[list.only]
o = 3

[[list]]

[[list.more]]
m = 4
[ spaced . out ]
end = {}
'''.replace(r"\'", "'")


def paths(tree: Any, path: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key path of what the standard library read."""
    if path:
        yield path
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield from paths(value, (*path, key))
    elif isinstance(tree, list):
        for at, value in enumerate(tree):
            yield from paths(value, (*path, at))


def line_with(text: str, part: str) -> int:
    return next(number for number, line in enumerate(text.splitlines(), start=1) if line.startswith(part))


def test_every_key_of_a_tricky_text_is_found_and_no_other() -> None:
    assert set(key_lines(TRICKY)) == set(paths(tomllib.loads(TRICKY)))


@pytest.mark.parametrize(
    ("path", "begins"),
    [
        (("title",), "title"),
        (("with space",), '"with space"'),
        (("tab\tand ä",), '"tab'),
        (("a", "b", "c"), "a.b . c"),
        (("a", "b", "c", 0), "a.b . c"),
        (("a", "b", "c", 1), "  2,"),
        (("a", "b", "c", 2, 1), "  [3, 4]"),
        (("a", "b", "c", 3, "y", "z", 0), "  [3, 4]"),
        (("raw",), "raw"),
        (("after",), "after"),
        (("table", "inner"), "inner"),
        (("table", "sub.dotted", "deep", "k"), "k = nan"),
        (("list", 0, "n"), "n = 0"),
        (("list", 0, "more", 1, "m"), "m = 2"),
        (("list", 0, "only", "o"), "o = 3"),
        (("list", 1, "more", 0, "m"), "m = 4"),
        (("spaced", "out", "end"), "end = {}"),
    ],
)
def test_a_key_is_on_the_line_where_it_stands(path: KeyPath, begins: str) -> None:
    assert key_lines(TRICKY)[path] == line_with(TRICKY, begins)


def test_what_was_not_typed_falls_back_to_the_table_around_it() -> None:
    lines = key_lines(TRICKY)
    assert line_of(lines, ("table", "missing")) == line_with(TRICKY, "[table]")
    assert line_of(lines, ("missing",)) is None


KEYS = st.one_of(st.text(max_size=6), st.sampled_from(["a", "b-c", "d.e", "ä", '"', "'", "\\", "#", "=", "]", "\n"]))
WORDS = st.one_of(
    st.text(max_size=8),
    st.sampled_from(['"', "''", '"""', "]", "}", "#", ",", "\\", "a\nb = 1\n[c]", '\\"', "# x\n", "[[a]]"]),
)
SCALARS = st.one_of(
    st.integers(-(2**40), 2**40),
    st.floats(allow_nan=False, allow_infinity=False),
    st.booleans(),
    st.dates(),
    st.datetimes(),
)
TREES = st.recursive(
    SCALARS | WORDS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4), max_leaves=25
)
GAPS = st.sampled_from(["", " ", "\n", ' # it\'s "here" [x] = {\n', "\n\n\t"])
TAILS = st.sampled_from(["", "", " # it's = \"here", "\n", "\t# [x]\n\n"])


def quoted(text: str) -> str:
    """A basic string: JSON's escapes are TOML's, but for the one control character that JSON leaves alone."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


@st.composite
def written(draw: st.DrawFn, value: Any) -> str:
    """A value as TOML, in one of the ways it may be written."""
    if isinstance(value, dict):
        pairs = [f"{draw(written_key(key))} = {draw(written(inner))}" for key, inner in value.items()]
        return "{ " + ", ".join(pairs) + " }"
    if isinstance(value, list):
        items = [draw(GAPS) + draw(written(inner)) + draw(GAPS) for inner in value]
        last = draw(st.sampled_from(["", ","])) if items else ""
        return f"[{','.join(items)}{last}{draw(GAPS)}]"
    if isinstance(value, bool):
        return str(value).lower()
    if not isinstance(value, str):
        return repr(value) if isinstance(value, int | float) else value.isoformat()
    plain = value.isprintable()
    ways = [quoted(value)]
    if plain and "'" not in value:
        ways.append(f"'{value}'")
    if all(part.isprintable() for part in value.split("\n")) and "'" not in value:
        ways.append(f"'''{value}'''")
    if all(part.isprintable() for part in value.split("\n")) and "\\" not in value and '"""' not in value:
        body = value[:-1] + '\\"' if value.endswith('"') and draw(st.booleans()) else value
        if not body.startswith("\n"):
            ways.append(f'"""{body}"""')
    return draw(st.sampled_from(ways))


@st.composite
def written_key(draw: st.DrawFn, key: str) -> str:
    bare = key and key.isascii() and key.replace("-", "a").replace("_", "a").isalnum()
    return key if bare and draw(st.booleans()) else quoted(key)


@st.composite
def documents(draw: st.DrawFn) -> str:
    """Keys at the top, then tables, arrays of tables and tables within the last of these."""
    text = draw(TAILS)

    def pairs() -> str:
        tree = draw(st.dictionaries(KEYS, TREES, max_size=3))
        return "".join(
            f"{draw(written_key(key))} = {draw(written(value))}{draw(TAILS)}\n" for key, value in tree.items()
        )

    text += "\n" + pairs()
    for number in range(draw(st.integers(0, 4))):
        name = draw(written_key(draw(KEYS)))
        kind = draw(st.sampled_from(["[T%d.%s]", "[[many.x]]", "[ many . x . %s%d ]", "[[many.x.deep]]"]))
        if kind.startswith("[T"):
            text += kind % (number, name)
        elif kind.startswith("[ many"):
            text += f"[[many.x]]\n[ many . x . {name} . n{number} ]"
        else:
            text += ("[[many.x]]\n" if "deep" in kind else "") + kind
        text += f"{draw(TAILS)}\n{pairs()}"
    return text


@given(documents())
def test_the_scanner_finds_what_the_standard_library_reads(text: str) -> None:
    try:
        tree = tomllib.loads(text)
    except tomllib.TOMLDecodeError:  # a random key came twice
        reject()
    assert set(key_lines(text)) == set(paths(tree))


@given(st.lists(st.tuples(st.sampled_from(["key", "table", "element", "blank", "list"]), st.booleans()), max_size=30))
def test_lines_are_those_counted_while_writing(plan: list[tuple[str, bool]]) -> None:
    """The document is written line by line, each key's line kept as it is written."""
    out: list[str] = []
    wanted: dict[KeyPath, int] = {}
    table: KeyPath = ()
    elements = 0
    for number, (what, comment) in enumerate(plan):
        tail = ' # it\'s "here"' if comment else ""
        name = f"k{number}"
        if what == "key":
            out.append(f"{json.dumps(name)} = 'x = [1'{tail}")
            wanted[(*table, name)] = len(out)
        elif what == "table":
            out.append(f"[t{number}]{tail}")
            table = (f"t{number}",)
            wanted[table] = len(out)
        elif what == "element":
            out.append(f"[[many]]{tail}")
            table = ("many", elements)
            elements += 1
            wanted[table] = len(out)
        elif what == "blank":
            out.append(tail)
        else:
            out += [f"{name} = [{tail}", "  1,", "", f'  """a{tail}', 'b""",', "]"]
            wanted |= {(*table, name): len(out) - 5, (*table, name, 0): len(out) - 4, (*table, name, 1): len(out) - 2}
    text = "\n".join(out)
    lines = key_lines(text)
    assert {path: lines[path] for path in wanted} == wanted
    assert set(lines) == set(paths(tomllib.loads(text)))
