"""Dead ends taken off a network one by one, worked by hand: a triangle with a tail of two and a tail of one."""

from __future__ import annotations

import pytest

from jurystrut.calculations.circuit import Edge, Network, Sink, Supply, analyse
from jurystrut.calculations.circuit.peeling import Branch, Branches, peel

PLACES = {"A": 0, "B": 1, "C": 2, "near": 3, "far": 4, "short": 5}
ENDS = [(0, 1), (1, 2), (2, 0), (0, 3), (3, 4), (5, 1)]


def peeled() -> Branches:
    return peel(PLACES, ENDS, kept=[2])


def test_tails_lead_to_the_triangle_and_it_stays() -> None:
    branches = peeled()
    assert dict(branches) == {"near": Branch("A", 3), "far": Branch("near", 4), "short": Branch("B", 5)}
    assert len(branches) == 3
    order = list(branches)
    assert order.index("far") < order.index("near")
    assert "near" in branches
    assert "A" not in branches
    assert "elsewhere" not in branches


@pytest.mark.parametrize("point", ["A", "elsewhere"])
def test_what_is_in_no_tree_has_no_branch(point: str) -> None:
    with pytest.raises(KeyError, match=point):
        peeled()[point]


def test_a_place_that_is_kept_is_no_dead_end() -> None:
    assert set(peel(PLACES, ENDS, kept=[4])) == {"short"}


def test_some_of_the_branches_alone() -> None:
    branches = peeled()
    assert branches.only(list(branches.outer), {}) is branches
    assert dict(branches.only([PLACES["short"]], {})) == {"short": Branch("B", 5)}


def test_branches_that_only_now_lead_away() -> None:
    """The triangle cut open at A - C, C hangs on B, and B on A."""
    late = {"C": Branch("B", 1), "B": Branch("A", 0)}
    branches = peeled()
    more = branches.only([*branches.outer, PLACES["C"], PLACES["B"]], late)
    assert dict(more) == dict(branches) | late


def fused(amperes: float) -> Network:
    fuse = Edge("F", "BAT", "L", "protection", amperes)
    return Network(
        (fuse, Edge("R", "L.back", "G", "wire")), (Supply("BAT", "BAT", "G"),), (Sink("L", "L", "L.back", 1.0),)
    )


def test_nothing_reaches_a_point_that_is_not_there() -> None:
    assert analyse(fused(5.0)).available("L") == 5.0
    assert analyse(fused(5.0)).available("elsewhere") == 0.0


@pytest.mark.parametrize(("amperes", "fed"), [(0.0, False), (0.5, True)])
def test_what_lets_nothing_through_feeds_nothing(amperes: float, fed: bool) -> None:
    assert ("L" in fused(amperes).fed()) is fed
