"""Job files refused for what does not go together, or is not in the catalogue."""

from __future__ import annotations

from tests.job.cases import bad_job

__all__ = ["JOBS"]

_TOGETHER = (
    bad_job(
        "lists of unequal length",
        {"[251, 248]": "[251, 248, 250]"},
        "step-count",
        "stair[0].goings",
        "goings",
        "3 goings for 3 risers",
        "2 goings",
    ),
    bad_job(
        "steps in two ways",
        {"goings = [251, 248]": "goings = [251, 248]\nrise = 178.3"},
        "flight-form",
        "stair[0].rise",
        "rise = 178.3",
        "two ways",
    ),
    bad_job(
        "no steps", {"rise = 178\ngoing = 250\nriser_count = 4\n": ""}, "flight-form", "stair[2]", "[[stair]] # upper"
    ),
    bad_job(
        "half a nominal flight",
        {"going = 250\n": ""},
        "flight-form",
        "stair[2]",
        "[[stair]] # upper",
        "going wanted too",
    ),
    bad_job(
        "nosings that go down",
        {"rise = 178\ngoing = 250\nriser_count = 4": "nosings = [[0, 178], [250, 100]]"},
        "out-of-range",
        "stair[2].nosings[1]",
        "nosings",
        "riser 2",
    ),
    bad_job(
        "total of another stair",
        {"total_rise = 536": "total_rise = 353.6"},
        "closure",
        "stair[0].total_rise",
        "total_rise",
        "535 mm",
    ),
    bad_job(
        "no such tread", {"posts = [1, 3]": "posts = [1, 4]"}, "out-of-range", "stair[0].posts[1]", "posts", "tread 4"
    ),
    bad_job("treads descend", {"posts = [1, 3]": "posts = [3, 1]"}, "not-ascending", "stair[0].posts", "posts = "),
    bad_job("no well", {"well = 120\n": ""}, "missing-key", "stair[1].well", "[[stair]] # landing", "half turn"),
    bad_job("well straight on", {"half-left": "straight"}, "not-here", "stair[1].well", "well"),
    bad_job(
        "square at a quarter turn",
        {'"half-left"\nwell = 120': '"quarter-left"\nsquare = true'},
        "not-here",
        "stair[1].square",
        "square",
    ),
    bad_job(
        "corner at a half turn",
        {"well = 120": 'well = 120\ncorner = "rise-piece"'},
        "not-here",
        "stair[1].corner",
        "corner",
    ),
    bad_job(
        "offset straight on",
        {'"half-left"\nwell = 120': '"straight"\nupper_offset = 50'},
        "not-here",
        "stair[1].upper_offset",
        "upper_offset",
    ),
    bad_job(
        "short landing",
        {"length = 950": "length = 800", '"half-left"\nwell = 120': '"quarter-left"'},
        "landing-short",
        "stair[1].length",
        "length = 800",
        "900 mm",
    ),
    bad_job(
        "widths differ",
        {'"half-left"\nwell = 120': '"straight"', "riser_count = 4\nwidth = 900": "riser_count = 4\nwidth = 950"},
        "widths-differ",
        "stair[1].turn",
        "turn",
        "950 mm",
    ),
    bad_job(
        "ends with a landing",
        {'[[stair]] # upper flight\nkind = "flight"\nrise = 178\ngoing = 250\nriser_count = 4\nwidth = 900\n': ""},
        "stair-order",
        "stair[1]",
        "[[stair]] # landing",
    ),
    bad_job(
        "unknown kind",
        {'kind = "landing"': 'kind = "ramp"'},
        "unknown-word",
        "stair[1].kind",
        'kind = "ramp"',
        '"ramp"',
        "flight or landing",
    ),
    bad_job("no kind", {'kind = "landing"\n': ""}, "missing-key", "stair[1].kind", "[[stair]] # landing"),
    bad_job("band upside down", {"[70, 180]": "[180, 70]"}, "setback-band", "posts.setback_band", "setback_band"),
    bad_job(
        "setback outside its band", {"setback = 125": "setback = 60"}, "setback-band", "posts.setback", "setback = "
    ),
    bad_job(
        "an end told in two ways",
        {"overhang = 150 }": "overhang = 150, level_extension = 300 }"},
        "end-form",
        "rail.bottom.overhang",
        "bottom = ",
        "overhang, level_extension",
    ),
    bad_job(
        "a level end longer than any",
        {"overhang = 150 }": "level_extension = 1200 }"},
        "out-of-range",
        "rail.bottom.level_extension",
        "bottom = ",
        "50 mm to 1000 mm",
    ),
    bad_job(
        "a bend over the only riser",
        {
            "least_height = 900": "least_height = 900\ntop = { level_extension = 305 }",
            "going = 250\nriser_count = 4": "design_going = 250\nriser_count = 1",
        },
        "level-extension",
        "rail.top.level_extension",
        "top = ",
        "flight 2 has one riser",
        "overhang",
    ),
)

_CHOICES = (
    bad_job(
        "unknown set",
        {"wide-48.3": "wide-48.2"},
        "unknown-reference",
        "hardware.set",
        "set = ",
        "did you mean wide-48.3?",
    ),
    bad_job(
        "unknown tube",
        {'set = "wide-48.3"': 'set = "wide-48.3"\ntube = "48.3x2"'},
        "unknown-reference",
        "hardware.tube",
        "tube",
        "did you mean 48.3x2.0?",
    ),
    bad_job(
        "a tube as an elbow",
        {'set = "wide-48.3"': 'set = "wide-48.3"\nelbow = "42.4x2.0"'},
        "unknown-reference",
        "hardware.elbow",
        "elbow",
        "42.4x2.0 is a tube",
    ),
    bad_job(
        "tube too narrow for its fittings",
        {'set = "wide-48.3"': 'set = "wide-48.3"\ntube = "48.3x3.2"'},
        "misfit",
        "hardware.tube",
        "tube",
        "bore",
        "41.9 mm",
    ),
    bad_job(
        "posts too narrow for their fittings",
        {'set = "wide-48.3"': 'set = "wide-48.3"\npost_tube = "42.4x2.0"'},
        "misfit",
        "hardware.post_tube",
        "post_tube",
        "socket_od 43.9",
    ),
    bad_job(
        "anchor for something else",
        {
            'substrate = "timber"': 'substrate = "steel"',
            'set = "wide-48.3"': 'set = "wide-48.3"\nanchor = "timber-screw-6.3x45"',
        },
        "anchor-substrate",
        "hardware.anchor",
        "anchor",
        "timber, and posts.substrate is steel",
    ),
    bad_job(
        "no catalogue file",
        {'set = "wide-48.3"': 'set = "wide-48.3"\ncatalogue = ["mine.toml"]'},
        "no-file",
        "hardware.catalogue[0]",
        "catalogue",
        "beside the job",
    ),
    bad_job(
        "catalogue with a path",
        {'set = "wide-48.3"': 'set = "wide-48.3"\ncatalogue = ["../mine.toml"]'},
        "bad-text",
        "hardware.catalogue[0]",
        "catalogue",
        "without a path",
    ),
)

JOBS = (*_TOGETHER, *_CHOICES)
