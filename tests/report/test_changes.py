"""Two states of one job: what is told of them is what another calculation says of them."""

from __future__ import annotations

import csv
import json
import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

import railgen
from railgen.pipeline import Pack
from railgen.report.artefacts import CHANGES
from railgen.report.build_mark import build_mark
from railgen.report.changes import Changes, What, compared
from railgen.report.earlier import sha256
from railgen.report.snapshot import Row, Snapshot, Subject, of_pack

PARTS = ("schedules",)  # what a comparison reads, without solids
RISERS = [171.0, 176.0, 169.0, 174.0, 172.0, 170.0, 175.0, 173.0]
GOINGS = [281.0, 279.0, 283.0, 280.0, 278.0, 282.0, 280.0]


def job(folder: Path, risers: list[float], goings: list[float]) -> Path:
    folder.mkdir(exist_ok=True)
    path = folder / "job.toml"
    path.write_text(
        'format = 1\nproject = { id = "one", revision = "A" }\nhardware.set = "wide-48.3"\n'
        '[posts]\nedge_offset = 62\nlengths = "cut"\n[rail]\nside = "left"\nleast_height = 900\n'
        f'[[stair]]\nkind = "flight"\nrisers = {risers}\ngoings = {goings}\nwidth = 1000\nposts = [1, {len(risers)}]\n',
        encoding="utf-8",
    )
    return path


def built(path: Path, out: Path) -> Pack:
    return railgen.build(railgen.load(path), out, only=PARTS)


def numbers(path: Path) -> tuple[dict[str, tuple[float, ...]], dict[str, float], dict[tuple[str, str], float]]:
    """Of a job: bases of posts, lengths of tubes, and how far along its tube each hole is."""
    given = railgen.load(path)
    layout = railgen.solve(given)
    made = railgen.fabricate(given, layout)
    tubes = {mark: piece for mark, piece in made.pieces.items() if hasattr(piece, "section")}
    return (
        {post.id: tuple(post.base) for post in layout.posts},
        {mark: tube.length for mark, tube in tubes.items()},
        {(mark, hole.id): hole.distance for mark, tube in tubes.items() for hole in tube.holes},
    )


def told(changes: Changes, subject: Subject, value: str) -> dict[str, tuple[object, object]]:
    return {
        change.new: change.values[value]
        for change in changes.found
        if change.subject is subject and value in change.values
    }


def differing(old: Mapping[str, float], new: Mapping[str, float]) -> dict[str, tuple[object, object]]:
    return {
        key: (pytest.approx(old[key], abs=6e-4), pytest.approx(new[key], abs=6e-4))
        for key in new
        if key in old and abs(round(old[key], 3) - round(new[key], 3)) > 5e-4
    }


@pytest.fixture
def states(tmp_path: Path) -> dict[str, Path]:
    """One job; one riser of it 1 mm higher; one riser more at its top."""
    higher = [*RISERS[:3], RISERS[3] + 1, *RISERS[4:]]
    return {
        "first": job(tmp_path / "first", RISERS, GOINGS),
        "higher": job(tmp_path / "higher", higher, GOINGS),
        "longer": job(tmp_path / "longer", [*RISERS, 172.0], [*GOINGS, 280.0]),
    }


@pytest.mark.parametrize("other", ["higher", "longer"])
def test_two_packs_a_riser_apart_have_other_marks_and_list_what_changed(
    other: str, states: Mapping[str, Path], tmp_path: Path
) -> None:
    """The list against the solved numbers of both jobs themselves; the packs, the jobs and any mix tell the same."""
    marks = [build_mark(railgen.load(states[name])) for name in ("first", other)]
    assert marks[0] != marks[1]
    first = built(states["first"], tmp_path / "out").folder
    shutil.copytree(first, tmp_path / "before")
    pack = built(states[other], tmp_path / "out")
    changes = pack.changes
    assert changes is not None
    assert changes.silent
    assert [changes.old.build, changes.new.build] == marks
    (bases, lengths, holes), (bases_now, lengths_now, holes_now) = map(numbers, (states["first"], states[other]))
    for axis, name in enumerate(("x_mm", "y_mm", "z_mm")):
        was, now = ({key: base[axis] for key, base in each.items()} for each in (bases, bases_now))
        assert told(changes, Subject.POST, name) == differing(was, now)
    assert told(changes, Subject.PIECE, "length_mm") == differing(lengths, lengths_now)
    assert told(changes, Subject.PIECE, "length_mm")
    was, now = ({f"{mark} {hole}": at for (mark, hole), at in each.items()} for each in (holes, holes_now))
    assert told(changes, Subject.HOLE, "distance_mm") == differing(was, now)
    assert told(changes, Subject.HOLE, "distance_mm")
    listed = (pack.folder / CHANGES).read_text(encoding="utf-8")
    assert listed.startswith("THE SAME REVISION HAD OTHER NUMBERS BEFORE")
    assert all(f"  {change}" in listed for change in changes.found)
    for old in (tmp_path / "before", states["first"]):
        for new in (pack.folder, states[other]):
            assert railgen.compare(old, new) == changes


def test_a_riser_of_1_mm_lifts_what_stands_above_it_by_1_mm(states: Mapping[str, Path]) -> None:
    changes = railgen.compare(states["first"], states["higher"])
    ((post, (was, now)),) = told(changes, Subject.POST, "z_mm").items()
    assert post == "F1-P2"
    assert isinstance(was, float)
    assert now == pytest.approx(was + 1, abs=1e-6)
    assert {change.what for change in changes.found} == {What.CHANGED}


def test_a_riser_more_adds_the_checks_of_its_nosing(states: Mapping[str, Path]) -> None:
    changes = railgen.compare(states["first"], states["longer"])
    added = [change.new for change in changes.found if change.what is What.ADDED]
    assert added
    assert all("nosing 9" in name for name in added)
    assert not [change for change in changes.found if change.what is What.REMOVED]
    back = railgen.compare(states["longer"], states["first"])
    assert [change.old for change in back.found if change.what is What.REMOVED] == added


def test_a_job_built_twice_has_no_changes_and_one_that_changed_back_has(
    states: Mapping[str, Path], tmp_path: Path
) -> None:
    out = tmp_path / "out"
    built(states["first"], out)
    pack = built(states["first"], out)
    assert (pack.changes, pack.uncompared) == (None, "")
    assert not (pack.folder / CHANGES).exists()
    assert railgen.compare(pack.folder, out / "one.previous").counted() == "no change"
    assert built(states["higher"], out).changes
    pack = built(states["first"], out)
    assert pack.changes
    assert CHANGES in json.loads((pack.folder / "manifest.json").read_text(encoding="ascii"))["files"]
    assert not built(states["first"], out).changes
    assert not (pack.folder / CHANGES).exists()


def test_another_revision_may_have_other_numbers(states: Mapping[str, Path], tmp_path: Path) -> None:
    built(states["first"], tmp_path / "out")
    text = states["higher"].read_text(encoding="utf-8")
    states["higher"].write_text(text.replace('revision = "A"', 'revision = "B"'), encoding="utf-8")
    pack = built(states["higher"], tmp_path / "out")
    assert pack.changes
    assert not pack.changes.silent
    assert (pack.folder / CHANGES).read_text(encoding="utf-8").startswith("old: one, revision A")


def test_what_cannot_be_compared_with_the_pack_before_is_said(states: Mapping[str, Path], tmp_path: Path) -> None:
    railgen.build(railgen.load(states["first"]), tmp_path / "out", only=["labels"])
    pack = built(states["higher"], tmp_path / "out")
    assert pack.changes is None
    assert "cut_list.csv: the pack was built without it" in pack.uncompared
    assert built(states["higher"], tmp_path / "out").uncompared == ""


def broken(folder: Path, name: str) -> None:
    """A file of a pack that is not what its manifest says, with a manifest that says it is."""
    (folder / name).write_bytes(b"{}\n{}\n")
    manifest = json.loads((folder / "manifest.json").read_text(encoding="ascii"))
    manifest["files"][name] = sha256(folder / name)
    (folder / "manifest.json").write_text(json.dumps(manifest), encoding="ascii")


def test_what_is_no_pack_or_was_changed_is_refused(states: Mapping[str, Path], tmp_path: Path) -> None:
    first, out = states["first"], tmp_path / "out"
    pack = built(first, out).folder
    for other, words in ((tmp_path, "is no railgen pack"), (tmp_path / "none.toml", "none.toml")):
        with pytest.raises(railgen.InputError, match=words):
            railgen.compare(first, other)
    text = (pack / "cut_list.csv").read_text(encoding="utf-8")
    (pack / "cut_list.csv").write_text(text.replace("square", "mitred"), encoding="utf-8")
    with pytest.raises(railgen.InputError, match=r"cut_list\.csv: it is gone, or somebody changed it"):
        railgen.compare(first, pack)
    built(first, out)
    railgen.build(railgen.load(states["higher"]), out, only=["labels"])
    with pytest.raises(railgen.InputError, match=r"cut_list\.csv: it is older than the rest"):
        railgen.compare(first, pack)
    for name in ("layout.json", "cut_list.csv", "checks.json"):
        built(first, out)
        broken(pack, name)
        with pytest.raises(railgen.InputError, match="the files of this pack cannot be read"):
            railgen.compare(first, pack)


def row(key: str, *place: float, group: str = "", **values: str | float) -> Row:
    return Row(key=key, group=(group,), place=place, values=values)


def of(**rows: list[Row]) -> Snapshot:
    return Snapshot(job="a", revision="", build="", rows={each: tuple(rows.get(each, ())) for each in Subject})


def test_a_post_more_in_the_middle_renames_the_one_above_and_no_hole_of_it() -> None:
    """Posts are counted, so P2 becomes P3 where one is set below it: it is known by its place, and its holes by it."""
    old = of(
        post=[row("P1", 0, 0, 0, surface="T1"), row("P2", 2000, 0, 0, surface="T8")],
        hole=[row("P2.H1", 5, 0, group="T8"), row("H1", 30, 0, group="R1"), row("H2", 2030, 0, group="R1")],
    )
    new = of(
        post=[
            row("P1", 0, 0, 0, surface="T1"),
            row("P2", 1000, 0, 0, surface="T4"),
            row("P3", 2000, 0, 0, surface="T8"),
        ],
        hole=[
            row("P2.H1", 5, 0, group="T4"),
            row("P3.H1", 5, 0, group="T8"),
            row("H1", 30, 0, group="R1"),
            row("H2", 1030, 0, group="R1"),
            row("H3", 2030, 0, group="R1"),
        ],
    )
    assert [(change.subject, change.what, change.old, change.new) for change in compared(old, new).found] == [
        (Subject.POST, What.ADDED, "", "P2"),
        (Subject.POST, What.RENAMED, "P2", "P3"),
        (Subject.HOLE, What.ADDED, "", "T4 P2.H1"),
        (Subject.HOLE, What.ADDED, "", "R1 H2"),
        (Subject.HOLE, What.RENAMED, "R1 H2", "R1 H3"),
    ]


def test_what_was_moved_far_keeps_its_id() -> None:
    old, new = of(node=[row("N1", 0, x_mm=0.0)]), of(node=[row("N1", 900, x_mm=900.0)])
    (change,) = compared(old, new).found
    assert f"{change}" == "N1: x_mm 0 -> 900 (+900.000)"


def test_an_angle_differs_by_the_shorter_way_round() -> None:
    old, new = of(hole=[row("H1", 0, clock_deg=359.9)]), of(hole=[row("H1", 0, clock_deg=0.2)])
    (change,) = compared(old, new).found
    assert "(+0.300)" in f"{change}"


def test_a_mark_that_differs_by_a_name_alone_is_no_change_and_says_so(
    states: Mapping[str, Path], tmp_path: Path
) -> None:
    named = job(tmp_path / "named", RISERS, GOINGS)
    text = named.read_text(encoding="utf-8")
    named.write_text(text.replace('id = "one"', 'id = "one", client = "the miller"'), encoding="utf-8")
    changes = railgen.compare(states["first"], named)
    assert changes.old.build != changes.new.build
    assert not changes.found
    assert "The builds differ by what is not compared" in changes.text()


def test_the_tables_that_are_compared_have_every_tube(states: Mapping[str, Path], tmp_path: Path) -> None:
    """A whole pack against nothing: every line of the cut list and of the drill schedule is told once."""
    pack = built(states["first"], tmp_path / "out").folder
    found = compared(of(), of_pack(pack)).found
    for name, subject in (("cut_list.csv", Subject.PIECE), ("drill_schedule.csv", Subject.HOLE)):
        with (pack / name).open(encoding="utf-8", newline="") as file:
            lines = len(list(csv.DictReader(file)))
        assert sum(change.subject is subject and change.what is What.ADDED for change in found) == lines > 0
