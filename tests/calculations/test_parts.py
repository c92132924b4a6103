"""The buying list against counting by hand."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.parts import Demand, Purchase, spare, to_buy, waiting

DEMANDS = [
    Demand("J1", ("AN4-12", "AN960-416", "AN960-416", "AN310-4")),
    Demand("J2", ("AN4-12", "AN960-416", "AN365-428")),
]


def test_counted_by_hand() -> None:
    stock = {"AN4-12": 1, "AN960-416": 3, "AN310-4": 1, "AN5-7": 2}
    assert to_buy(DEMANDS, stock) == [Purchase("AN365-428", 1, 0, ("J2",)), Purchase("AN4-12", 2, 1, ("J1", "J2"))]
    assert [purchase.count for purchase in to_buy(DEMANDS, stock)] == [1, 1]
    assert waiting(DEMANDS, stock) == [Demand("J2", ("AN4-12", "AN365-428"))]
    assert spare(DEMANDS, stock) == {"AN5-7": 2}


PARTS = st.sampled_from(["A", "B", "C"])


@given(st.lists(st.lists(PARTS, max_size=5), max_size=5), st.dictionaries(PARTS, st.integers(0, 6)))
def test_what_is_bought_is_what_joints_wait_for(lists: list[list[str]], stock: dict[str, int]) -> None:
    demands = [Demand(f"J{i}", tuple(parts)) for i, parts in enumerate(lists)]
    bought = Counter({purchase.part: purchase.count for purchase in to_buy(demands, stock)})
    lacking = Counter(part for demand in waiting(demands, stock) for part in demand.parts)
    assert bought == lacking
    needed = Counter(part for parts in lists for part in parts)
    assert Counter(stock) + bought == needed + Counter(spare(demands, stock))
