"""NDS 2018: Table 12.2A (lag screws, as printed in a public permit calculation) and eq. 12.2-2 (wood screws).

#10 wood screw at G 0.45: 109 lb/in (Engineering ToolBox); G 0.50 and 0.42 worked out. Table 12A bolt: from memory.
"""

from __future__ import annotations

import pytest

from railgen.checks.strength.timber import (
    Grain,
    Timber,
    WoodFixing,
    WoodFixingKind,
    fixing_size,
    handbook_withdrawal,
    nds_unit_withdrawal,
    nds_withdrawal,
)
from railgen.checks.strength.timber_lateral import YieldInput, yield_limits
from railgen.job.strength_model import LoadDuration
from tests.validation.as_printed import INCH, POUND, as_printed

PER_INCH = POUND / INCH
LAG_TABLE = {
    0.50: {"1/4": "225", "5/16": "266", "3/8": "305", "7/16": "342", "1/2": "378", "5/8": "447", "3/4": "513"},
    0.42: {"1/4": "173", "5/16": "205", "3/8": "235", "7/16": "264", "1/2": "291"},
    0.67: {"1/4": "349", "5/16": "413", "3/8": "473", "7/16": "531", "1/2": "587"},
    0.36: {"1/4": "137", "5/16": "163", "3/8": "186"},
    0.43: {"3/8": "243"},
}
ROWS = [(g, size, value) for g, row in LAG_TABLE.items() for size, value in row.items()]


@pytest.mark.parametrize(("gravity", "size", "printed"), ROWS)
def test_lag_screw_table(gravity: float, size: str, printed: str) -> None:
    top, bottom = size.split("/")
    lag = WoodFixing(kind=WoodFixingKind.LAG, diameter=int(top) / int(bottom) * INCH)
    assert nds_unit_withdrawal(lag, gravity=gravity) == as_printed(printed, PER_INCH)


@pytest.mark.parametrize(("gravity", "worked_out"), [(0.50, "135.4"), (0.42, "95.5"), (0.45, "109.7")])
def test_wood_screw(gravity: float, worked_out: str) -> None:
    screw = fixing_size(WoodFixingKind.WOOD_SCREW, "10")
    assert nds_unit_withdrawal(screw, gravity=gravity) == pytest.approx(
        as_printed(worked_out, PER_INCH).expected, rel=6e-4
    )


def test_wood_screw_as_printed() -> None:
    screw = fixing_size(WoodFixingKind.WOOD_SCREW, "10")
    assert int(nds_unit_withdrawal(screw, gravity=0.45) / PER_INCH) == 109


def test_lag_in_end_grain_counts_three_quarters_and_a_wood_screw_nothing() -> None:
    lag, screw = fixing_size(WoodFixingKind.LAG, "3/8"), fixing_size(WoodFixingKind.WOOD_SCREW, "10")
    side, end = Timber(gravity=0.5), Timber(gravity=0.5, grain=Grain.END)
    full = nds_withdrawal(lag, side, thread=INCH).value
    assert full == as_printed("305", POUND)
    assert nds_withdrawal(lag, end, thread=INCH).value == pytest.approx(0.75 * 304.97 * POUND, rel=1e-4)
    assert nds_withdrawal(screw, end, thread=INCH).value == 0.0


def test_wet_service_and_duration() -> None:
    lag = fixing_size(WoodFixingKind.LAG, "1/2")
    dry = nds_withdrawal(lag, Timber(gravity=0.5), thread=INCH).value
    assert dry == as_printed("378.40", POUND)
    assert dry is not None
    wet = nds_withdrawal(lag, Timber(gravity=0.5, wet=True), thread=INCH, duration=LoadDuration.TEN_MINUTES)
    assert wet.value == pytest.approx(0.7 * 1.6 * dry)
    assert "from memory" in " ".join(str(source) for source in wet.sources)


@pytest.mark.parametrize(
    ("kind", "size", "ratio"), [(WoodFixingKind.LAG, "3/8", 4.5), (WoodFixingKind.WOOD_SCREW, "10", 5.5)]
)
def test_ultimate_is_four_and_a_half_to_five_and_a_half_times_allowable(
    kind: WoodFixingKind, size: str, ratio: float
) -> None:
    fixing = fixing_size(kind, size)
    ultimate = handbook_withdrawal(fixing, gravity=0.48, length=50.0).newtons
    allowable = nds_withdrawal(fixing, Timber(gravity=0.48), thread=50.0).value
    assert allowable is not None
    assert ultimate / allowable == pytest.approx(ratio, abs=0.05)


def test_yield_limits_give_the_bolt_table() -> None:
    """1/2 in bolt, 1-1/2 in members, G 0.50, along the grain: 480 lb (NDS Table 12A, from memory)."""
    bearing = 11_200 * 0.50 * 6.894757e-3
    bolt = YieldInput(
        diameter=12.7, main=38.1, side=38.1, main_bearing=bearing, side_bearing=bearing, bending=45 * 6.894757
    )
    pounds = min(yield_limits(bolt, (4.0, 3.6, 3.2))) / POUND
    assert pounds == pytest.approx(480, abs=5)  # the table is rounded to 10 lb
