"""Every dimension under chance: what is read is finite, keeps its words and comes back the same; all else is refused."""

from __future__ import annotations

import functools
import math
from typing import TYPE_CHECKING, Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import jurystrut.quantities as q
from jurystrut.quantities.units import table

if TYPE_CHECKING:
    from collections.abc import Callable

KINDS: list[type[q.Quantity]] = [
    kind
    for kind in (getattr(q, name) for name in q.__all__)
    if isinstance(kind, type) and issubclass(kind, q.Quantity) and kind is not q.Quantity
]
UNITS = sorted({spelling for units in table().values() for spelling in units})

pieces = st.sampled_from(
    [*UNITS, *"0123456789", "..", "±", "/", "-", "+", ".", " ", "e", "E", "*", "(", "'", '"', ",", "°", "²", "\n"]
)
texts = st.lists(pieces, max_size=12).map("".join) | st.text(max_size=70)
numbers = st.decimals(-1000, 1000, places=3).map(str) | st.sampled_from(["3-1/8", "1/3", "1e-12", "1e12", "0", "-0"])


def read_or_refused(parse: Callable[[str], Any], text: str) -> Any:
    """What was read, or None where the text was refused in a few words."""
    try:
        return parse(text)
    except q.QuantityError as refused:
        words = str(refused)
    assert 0 < len(words) < 400
    return None


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(data=st.data())
@settings(max_examples=100, deadline=None)
def test_any_text_is_a_finite_quantity_or_refused(kind: type[q.Quantity], data: st.DataObject) -> None:
    unit = st.sampled_from(sorted(table()[kind.dimension]))
    text = data.draw(texts | st.tuples(numbers, unit).map(" ".join))
    read = read_or_refused(kind.parse_american, text)
    if read is None:
        return
    assert math.isfinite(read.si)
    assert kind.signed or read.si >= 0
    assert kind.parse_american(str(read)) == read
    assert len(text) <= 64


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(number=st.integers(1, 10**6), data=st.data())
@settings(max_examples=25, deadline=None)
def test_every_unit_converts_there_and_back(kind: type[q.Quantity], number: int, data: st.DataObject) -> None:
    unit = data.draw(st.sampled_from(sorted(table()[kind.dimension])))
    read = kind.parse_american(f"{number} {unit}")
    assert read.to(read.unit) == pytest.approx(number, rel=1e-12)


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
@given(text=texts)
@settings(max_examples=50, deadline=None)
def test_spreads_of_every_kind_too(kind: type[q.Quantity], text: str) -> None:
    for read in (functools.partial(q.Range.parse, kind=kind), functools.partial(q.Tolerance.parse, kind=kind)):
        assert read_or_refused(read, text) is None or len(text) <= 64


@given(text=texts)
@settings(max_examples=200, deadline=None)
def test_gauges_too(text: str) -> None:
    read_or_refused(q.Gauge.parse, text)
