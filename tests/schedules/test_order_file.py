"""The job file's tables about buying and making."""

from __future__ import annotations

import math

import pytest
from pydantic import BaseModel, ValidationError

from railgen.fields import Table
from railgen.job import order_model
from railgen.job.order_model import (
    Finish,
    Labour,
    Operation,
    OrderInput,
    Paper,
    Prices,
    PrintTable,
    Projection,
    RackPiece,
    Stock,
    StockLength,
)
from railgen.units import Dimensions, Unit

TABLES = [one for one in vars(order_model).values() if isinstance(one, type) and one.__base__ is Table]


def test_what_the_file_leaves_out_is_held_in_mm_and_radians() -> None:
    assert Stock().lengths == (StockLength(length=6000.0),)
    assert Finish().angle_tolerance == pytest.approx(math.pi / 360)
    assert OrderInput().printed(PrintTable(), Unit.MM) == OrderInput()


def test_every_value_typed_arrives() -> None:
    stock = Stock.model_validate(
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
    labour = Labour.model_validate({"rate": 70, "fit_rail": 33})
    prices = Prices.model_validate({"currency": "EUR", "items": {"cap": 4.2}})
    finish = Finish(surface="brushed", weep_holes="6 mm, lowest point", welds="none", protection="film")
    order = OrderInput(stock=stock, prices=prices, labour=labour, finish=finish)
    read = order.printed(PrintTable(dimensions=Dimensions.SIXTEENTH), Unit.INCH)
    assert read.stock.lengths == (StockLength(length=6096.0, section="tube", price=80, limit=3),)
    assert read.stock.rack == (RackPiece(length=95.5 * 25.4, quantity=2),)
    assert (read.stock.kerf, read.stock.trim, read.stock.keep) == pytest.approx((3.175, 12.7, 254))
    assert (read.stock.seconds, read.stock.spares, read.dimensions) == (5, 0.2, Dimensions.SIXTEENTH)
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
        Stock.model_validate(wrong)


@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_every_option_is_described(table: type[BaseModel]) -> None:
    assert table.__doc__
    assert all(field.description for field in table.model_fields.values())


def test_every_operation_has_minutes_of_its_own() -> None:
    assert {operation.name.lower() for operation in Operation} == set(Labour.model_fields) - {"rate"}
