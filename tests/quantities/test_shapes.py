"""What editors are told of a quantity's look: whatever reading takes fits it, and a unit that the kind has not does not."""

from __future__ import annotations

import re
from functools import partial
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import TypeAdapter

import jurystrut.quantities as q
from jurystrut.quantities.spellings import SPELLINGS

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS: list[type[q.Quantity]] = [
    kind
    for kind in (getattr(q, name) for name in q.__all__)
    if isinstance(kind, type) and issubclass(kind, q.Quantity) and kind is not q.Quantity
]
NUMBERS = ("0", "12", "+12", "-12", ".5", "0.063", "1e3", "1.5E-3", "7/16", "3-1/8", "3 1/8", "3  1/8", "-21-1/2")
ODD_UNITS = {unit for _, units in SPELLINGS.values() for unit in units} | {"", "AWG", "feet", "amps", "in.", "x", "IN"}


def schema_of(kind: Any) -> dict[str, Any]:
    return TypeAdapter(kind).json_schema()


def fits(kind: Any, text: str) -> bool:
    return re.search(schema_of(kind)["pattern"], text) is not None


def of(spread: Any, kind: type[q.Quantity]) -> Any:
    """The range or tolerance of a kind."""
    return spread[kind]


def taken(parse: Callable[[str], Any], text: str) -> bool:
    try:
        parse(text)
    except q.QuantityError:
        return False
    return True


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_every_unit_and_every_way_of_writing_a_number_fits(kind: type[q.Quantity]) -> None:
    units = SPELLINGS[kind.dimension][1]
    texts = [
        text
        for unit in units
        for number in NUMBERS
        for text in (
            f"{number} {unit}",
            f"{number}{unit}",
            f"  {number}   {unit} ",
            f"{number} {unit.replace(' ', '  ')}",
        )
    ]
    sound = [text for text in texts if taken(kind.parse_american, text)]
    assert [unit for unit in units if not taken(kind.parse_american, f"300 {unit}")] == []
    assert [text for text in sound if not fits(kind, text)] == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_a_unit_that_the_kind_has_not_does_not_fit(kind: type[q.Quantity]) -> None:
    foreign = ODD_UNITS - SPELLINGS[kind.dimension][1].keys()
    assert [
        unit for unit in sorted(foreign) if fits(kind, f"12 {unit}") or taken(kind.parse_american, f"12 {unit}")
    ] == []


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_whatever_reading_takes_fits(kind: type[q.Quantity], data: st.DataObject) -> None:
    unit = st.sampled_from(sorted(SPELLINGS[kind.dimension][1]))
    number = st.sampled_from(NUMBERS)
    blank = st.sampled_from(["", " ", "  "])
    parts = data.draw(
        st.lists(st.one_of(unit, number, blank, st.sampled_from(["..", "±", "+/-", "+", "/", "-"])), max_size=9)
    )
    text = "".join(parts)
    if taken(kind.parse_american, text):
        assert fits(kind, text)
    for spread in (q.Range, q.Tolerance):
        if taken(partial(spread.parse, kind=kind, american=True), text):
            assert fits(of(spread, kind), text)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_ranges_and_tolerances_of_every_unit_fit(kind: type[q.Quantity]) -> None:
    for unit in SPELLINGS[kind.dimension][1]:
        for text in (f"12..95 {unit}", f" 12 .. 95{unit}", f"3-1/8..4-1/2  {unit}"):
            assert taken(partial(q.Range.parse, kind=kind, american=True), text)
            assert fits(of(q.Range, kind), text)
            assert not fits(kind, text)
        for text in (f"300 ± 1 {unit}", f"300 +/- 1/2 {unit}", f"300 +1/-2 {unit}", f"300±1{unit}"):
            assert taken(partial(q.Tolerance.parse, kind=kind, american=True), text)
            assert fits(of(q.Tolerance, kind), text)
            assert not fits(of(q.Range, kind), text)


@pytest.mark.parametrize("text", ["18 AWG", "18AWG", "  18   AWG ", "00 AWG", "2/0 AWG", "1 AWG", "0 AWG"])
def test_wire_sizes_fit(text: str) -> None:
    assert taken(q.Gauge.parse, text)
    assert fits(q.Gauge, text)


@pytest.mark.parametrize("text", ["18", "#18", "18 awg", "08 AWG", "5/0 AWG", "18 AWG x"])
def test_what_is_no_wire_size_does_not_fit(text: str) -> None:
    assert not taken(q.Gauge.parse, text)
    assert not fits(q.Gauge, text)


@pytest.mark.parametrize(
    "text",
    ["5 ft 2 in", "5ft 2-1/2in", "-5 ft 2 in", "1 yd 2 ft 3 in", "12 lb 4 oz", "3 deg 30 arcmin", "1 h 20 min 3 s"],
)
def test_compounds_fit(text: str) -> None:
    kinds = [kind for kind in KINDS if taken(kind.parse, text)]
    assert kinds
    assert all(fits(kind, text) for kind in kinds)
    assert not fits(q.Current, "5 A 3 mA")


def test_an_editor_says_what_is_wanted_with_every_unit() -> None:
    for kind in KINDS:
        schema = schema_of(kind)
        assert schema["errorMessage"] == f"wanted {schema['description']}"
        assert all(unit in schema["description"] for unit in SPELLINGS[kind.dimension][1])
        assert all(fits(kind, example) for example in schema["examples"])
