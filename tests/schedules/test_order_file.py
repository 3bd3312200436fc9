"""The job file's tables about buying and making."""

from __future__ import annotations

import pytest
from pydantic import BaseModel, ValidationError

from railgen.job import order_file
from railgen.job.order_file import FinishTable, LabourTable, PricesTable, PrintTable, StockTable, order_input
from railgen.job.order_model import Operation, OrderInput, Paper, Projection, RackPiece, StockLength
from railgen.units import Dimensions, Unit

TABLES = [getattr(order_file, name) for name in order_file.__all__ if name.endswith("Table")]


def test_empty_tables_give_the_defaults_of_the_model() -> None:
    read = order_input(StockTable(), PricesTable(), LabourTable(), FinishTable(), PrintTable(), Unit.MM)
    assert read == OrderInput()


def test_every_value_typed_arrives() -> None:
    stock = StockTable.model_validate(
        {
            "lengths": [{"length": 240, "section": "tube", "price": 80, "limit": 3}],
            "rack": [{"length": "95-1/2", "quantity": 2}],
            "kerf": "1/8",
            "trim": "1/2",
            "keep": 10,
            "seconds": 5,
            "spares": 0.2,
        },
        context={"unit": Unit.INCH},
    )
    labour = LabourTable.model_validate({"rate": 70, "fit_rail": 33})
    prices = PricesTable.model_validate({"currency": "EUR", "items": {"cap": 4.2}})
    finish = FinishTable(surface="brushed", weep_holes="6 mm, lowest point", welds="none", protection="film")
    read = order_input(stock, prices, labour, finish, PrintTable(dimensions=Dimensions.SIXTEENTH), Unit.INCH)
    assert read.stock.lengths == (StockLength(length=6096.0, section="tube", price=80, limit=3),)
    assert read.stock.rack == (RackPiece(length=95.5 * 25.4, quantity=2),)
    assert (read.stock.kerf, read.stock.trim, read.stock.keep) == pytest.approx((3.175, 12.7, 254))
    assert (read.stock.seconds, read.spares, read.dimensions) == (5, 0.2, Dimensions.SIXTEENTH)
    assert read.labour.rate == 70
    assert read.labour.of(Operation.FIT_RAIL) == 33
    assert read.prices.of("cap") == 4.2
    assert read.prices.of("other") is None
    assert (read.projection, read.paper) == (Projection.THIRD_ANGLE, Paper.US)
    assert read.finish.weep_holes == "6 mm, lowest point"


@pytest.mark.parametrize(
    "wrong",
    [
        {"kerf": -1},
        {"kerf": 4, "trim": 3},
        {"lengths": [{"length": 6000, "limit": 0}]},
        {"lengths": [{"length": 6000, "price": -1}]},
        {"spares": 2},
        {"colour": "red"},
    ],
)
def test_stock_out_of_bounds_is_refused(wrong: dict[str, object]) -> None:
    with pytest.raises(ValidationError):
        StockTable.model_validate(wrong)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_every_option_is_described(table: type[BaseModel]) -> None:
    assert table.__doc__
    assert all(field.description for field in table.model_fields.values())


def test_every_operation_has_minutes_of_its_own() -> None:
    assert {operation.name.lower() for operation in Operation} == set(LabourTable.model_fields) - {"rate"}
