"""Job files refused for what one value, key or the file itself is."""

from __future__ import annotations

from tests.job.cases import GOOD, Case, bad_job, line_of

__all__ = ["VALUES"]

_FILES = (
    Case(name="missing file", job=None, code="no-file", words=("no such file",)),
    Case(name="empty file", job="", code="format", where="format", line=1, words=("format = 1",)),
    Case(name="utf-16", job=GOOD.encode("utf-16"), code="not-utf8", words=("UTF-16", "save it as UTF-8")),
    Case(
        name="latin-1",
        job=GOOD.replace('id = "granary"', 'id = "granary"\nclient = "Müller"').encode("latin-1"),
        code="not-utf8",
        line=7,
        words=("not UTF-8",),
    ),
    Case(
        name="broken toml",
        job=GOOD.replace('side = "left"', "side = left"),
        code="not-toml",
        line=line_of(GOOD, "side"),
        words=("not valid TOML", "quotes"),
    ),
    Case(
        name="key twice",
        job=GOOD.replace("setback = 125", "setback = 125\nsetback = 120"),
        code="not-toml",
        line=line_of(GOOD, "setback = 125") + 1,
        words=("not valid TOML",),
    ),
    Case(
        name="unclosed list",
        job=GOOD + "posts = [1, 2\n",
        code="not-toml",
        line=GOOD.count("\n") + 1,
        words=("not valid TOML",),
    ),
    Case(name="nested too deeply", job="format = " + "[" * 5000, code="not-toml", line=1, words=("nested too deeply",)),
    Case(name="endless number", job="format = " + "1" * 5000, code="not-toml", words=("too many digits",)),
)

_FORM = (
    bad_job("no format", {"format = 1\n": ""}, "format", "format", "# A good job", "format = 1"),
    bad_job(
        "later format",
        {"format = 1": "format = 2"},
        "format",
        "format",
        "format",
        "does not know format 2",
        "allowed: 1",
    ),
    bad_job("format as text", {"format = 1": 'format = "1"'}, "format", "format", "format", "does not know"),
    bad_job("format true", {"format = 1": "format = true"}, "format", "format", "format", "does not know"),
    bad_job(
        "misspelt key",
        {"least_height": "least_hight"},
        "unknown-key",
        "rail.least_hight",
        "least_hight",
        "no such key",
        "did you mean least_height?",
    ),
    bad_job(
        "missing key", {"least_height = 900\n": ""}, "missing-key", "rail.least_height", "[rail]", "value is needed"
    ),
    bad_job(
        "missing table", {'[project]\nid = "granary"\ndate = 2026-03-14\n': ""}, "missing-key", "project", "# A good"
    ),
    bad_job(
        "misspelt table",
        {"[posts]": "[post]"},
        "unknown-key",
        "post",
        "[post]",
        "did you mean posts?",
    ),
    bad_job(
        "table where a value is", {"[hardware]\nset": "[hardware.set]\nid"}, "wrong-type", "hardware.set", "[hardw"
    ),
    bad_job(
        "value where a table is", {"[hardware]\nset =": "hardware ="}, "unknown-key", "project.hardware", "hardware"
    ),
    bad_job("unknown units", {'units = "mm"': 'units = "cm"'}, "unknown-word", "units", "units", '"cm"', "mm or inch"),
    bad_job(
        "wrong word",
        {'side = "left"': 'side = "lefft"'},
        "unknown-word",
        "rail.side",
        "side",
        '"lefft"',
        "did you mean left?",
    ),
    bad_job(
        "unknown turn",
        {"half-left": "u-turn"},
        "unknown-word",
        "stair[1].turn",
        "turn",
        "straight, quarter-left",
    ),
    bad_job(
        "number where a word is", {'side = "left"': "side = 1"}, "unknown-word", "rail.side", "side", "left or right"
    ),
    bad_job(
        "text where a number is",
        {"least_height = 900": 'least_height = "waist"'},
        "not-a-length",
        "rail.least_height",
        "least_height",
        "cannot read 'waist'",
    ),
    bad_job(
        "true where a length is",
        {"setback = 125": "setback = true"},
        "not-a-length",
        "posts.setback",
        "setback = ",
        "true or false",
    ),
    bad_job(
        "number where a list is", {"goings = [251, 248]": "goings = 250"}, "wrong-type", "stair[0].goings", "goings"
    ),
    bad_job("quoted date", {"2026-03-14": '"2026-03-14"'}, "wrong-type", "project.date", "date", "without quotes"),
    bad_job(
        "count as text", {"riser_count = 4": 'riser_count = "4"'}, "wrong-type", "stair[2].riser_count", "riser_cou"
    ),
    bad_job(
        "count with decimals", {"riser_count = 4": "riser_count = 4.5"}, "wrong-type", "stair[2].riser_count", "riser_c"
    ),
    bad_job("control character", {'"granary"': '"granary"\ntitle = "a\\u0007"'}, "bad-text", "project.title", "title"),
    bad_job("path in the name", {'"granary"': '"../granary"'}, "bad-text", "project.id", "id", "no path", "../granary"),
    bad_job("folder in the name", {'"granary"': '"a/b"'}, "bad-text", "project.id", "id", "no path"),
    bad_job("empty name", {'"granary"': '""'}, "bad-text", "project.id", "id"),
    bad_job("endless name", {'"granary"': f'"{"g" * 61}"'}, "bad-text", "project.id", "id", "61 characters", "60"),
)

_NUMBERS = (
    bad_job("negative", {"edge_offset = 60": "edge_offset = -60"}, "out-of-range", "posts.edge_offset", "edge_offset"),
    bad_job(
        "zero riser", {"  181,": "  0,"}, "out-of-range", "stair[0].risers[1]", "0,", "0 mm is out of range", "60 mm"
    ),
    bad_job("nan", {"  181,": "  nan,"}, "not-a-length", "stair[0].risers[1]", "nan", "nan"),
    bad_job(
        "infinite", {"least_height = 900": "least_height = inf"}, "not-a-length", "rail.least_height", "least", "inf"
    ),
    bad_job("absurd", {"  181,": "  1810,"}, "out-of-range", "stair[0].risers[1]", "1810", "60 mm to 400 mm"),
    bad_job(
        "absurdly long number",
        {"least_height = 900": f"least_height = {'9' * 400}"},
        "not-toml",
        "rail.least_height",
        "least_height",
        "larger than TOML has any",
    ),
    bad_job(
        "inches in a mm job",
        {"edge_offset = 60": "edge_offset = 2.5"},
        "out-of-range",
        "posts.edge_offset",
        "edge_offset",
        "2.5 mm is out of range",
        "looks like inches",
        'units = "inch"',
    ),
    bad_job(
        "fraction in a mm job",
        {"edge_offset = 60": 'edge_offset = "2-1/2"'},
        "not-a-length",
        "posts.edge_offset",
        "edge_offset",
        "inch mark",
    ),
    bad_job(
        "mm in an inch job",
        {'units = "mm"': 'units = "inch"'},
        "out-of-range",
        "rail.least_height",
        "least_height",
        "900 in is out of range",
        "16 more lengths (in this file)",
        "look like millimetres",
    ),
    bad_job(
        "empty list",
        {"goings = [251, 248]\n": "", "  176,\n  181,\n  178,\n": ""},
        "wrong-count",
        "stair[0].risers",
        "risers",
    ),
    bad_job("band of one", {"[70, 180]": "[70]"}, "missing-key", "posts.setback_band[1]", "setback_band"),
    bad_job("tread below zero", {"posts = [1, 3]": "posts = [-1, 3]"}, "out-of-range", "stair[0].posts[0]", "posts = "),
    bad_job(
        "too many risers", {"riser_count = 4": "riser_count = 61"}, "out-of-range", "stair[2].riser_count", "riser_c"
    ),
)

VALUES = (*_FILES, *_FORM, *_NUMBERS)
