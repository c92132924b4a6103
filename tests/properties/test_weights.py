"""Weight and balance of whole aircraft: what scaling, another datum, more load and less knowledge may do, and may not."""

from __future__ import annotations

import itertools
import re
from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.properties.judgements import AIRCRAFT, Said, judged, said, texts, trees, values_changed, written

from jurystrut.calculations.balance import Body, total
from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.finished import Item, finished
from jurystrut.calculations.loadings import Place, Side, worst_loading

if TYPE_CHECKING:
    from collections.abc import Callable

some = settings(max_examples=60, derandomize=True, deadline=None, database=None)
_POUNDS = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) lb(/US gal)?")
_INCHES = re.compile(r"(-?[0-9]+(?:\.[0-9]+)?) in")
ARMS = {"arm", "empty_arm", "mean_chord_leading_edge"}
SECTIONS = {"aircraft", "fuel", "weights"}


def changed(name: str, change: Callable[[str, str], str]) -> dict[str, str]:
    """The aircraft with every value of the sections that weights are judged by changed."""

    def of_file(tree: dict[str, object]) -> dict[str, object]:
        return {s: values_changed(body, change) if s in SECTIONS else body for s, body in tree.items()}

    return written(trees(name, of_file))


def arms_in(given: Said, rule: str) -> dict[tuple[str, ...], float]:
    """Measured arms and their limits, by subject."""
    return {key: value for key, value in given.figures.items() if key[0] == rule}


@pytest.mark.parametrize("name", sorted(AIRCRAFT))
def test_twice_as_heavy_throughout_balances_at_the_same_place(name: str) -> None:
    def doubled(_: str, value: str) -> str:
        found = _POUNDS.fullmatch(value)
        return f"{2 * float(found[1])!r} lb{found[2] or ''}" if found else value

    before = said(judged(texts(name), "weights/cg-envelope"))
    after = said(judged(changed(name, doubled), "weights/cg-envelope"))
    assert len(before.figures) >= 8
    assert after.verdicts == before.verdicts
    assert after.figures == pytest.approx(before.figures, rel=1e-9)


@pytest.mark.parametrize("inches", [60.0, -37.25])
@pytest.mark.parametrize("name", sorted(AIRCRAFT))
def test_another_datum_moves_arms_and_limits_alike(name: str, inches: float) -> None:
    def moved(field: str, value: str) -> str:
        found = _INCHES.fullmatch(value) if field in ARMS else None
        return f"{float(found[1]) + inches!r} in" if found else value

    before, after = (said(judged(files, "weights/")) for files in (texts(name), changed(name, moved)))
    for rule in ("weights/cg-envelope", "weights/every-loading"):
        arms = arms_in(before, rule)
        assert arms
        assert arms_in(after, rule) == pytest.approx({key: arm + inches for key, arm in arms.items()}, abs=1e-7)
    judged_alike = {key: verdict for key, verdict in before.verdicts.items() if "extreme" not in key[0]}
    assert judged_alike.items() <= after.verdicts.items()


WEIGHTS, ARM = st.floats(1, 300), st.floats(-40, 140)
EMPTY = st.builds(Body, st.floats(600, 900), st.floats(5, 30))
PLACE = st.builds(lambda least, more, arm: Place(least, least + more, arm), WEIGHTS, WEIGHTS, ARM)
PLACES = st.lists(PLACE, min_size=1, max_size=5)
BOX = Envelope(((500, 5.0), (3000, 5.0), (3000, 35.0), (500, 35.0)), "arm")


@given(EMPTY, PLACES, st.lists(st.floats(0, 1), min_size=5, max_size=5))
@some
def test_no_loading_goes_beyond_the_worst_of_all(empty: Body, places: list[Place], filled: list[float]) -> None:
    loads = [Body(p.least + part * (p.most - p.least), p.arm) for p, part in zip(places, filled, strict=False)]
    whole = total([empty, *loads])
    excesses: dict[Side, float] = {"forward": 5.0 - whole.arm, "aft": whole.arm - 35.0}
    for side, excess in excesses.items():
        worst = worst_loading(empty, places, BOX, 3000, side)
        assert worst is not None
        assert excess <= worst.excess + 1e-9


@given(EMPTY, PLACES, st.floats(0, 100))
@some
def test_a_station_that_may_hold_more_never_comes_farther_inside(empty: Body, places: list[Place], more: float) -> None:
    larger = [places[0]._replace(most=places[0].most + more), *places[1:]]
    sides: tuple[Side, ...] = ("forward", "aft")
    for side in sides:
        before, after = (worst_loading(empty, each, BOX, 3000, side) for each in (places, larger))
        assert before is not None
        assert after is not None
        assert after.excess >= before.excess - 1e-9


ITEM = st.tuples(WEIGHTS, ARM, st.sampled_from((0.0, 0.05, 0.1, 0.2))).map(lambda known: Item(*known))
ITEMS = st.lists(ITEM, min_size=1, max_size=8)


@given(ITEMS, WEIGHTS, ARM)
@some
def test_one_more_part_never_makes_the_finished_aircraft_lighter(items: list[Item], weight: float, arm: float) -> None:
    before, after = finished(items), finished([*items, Item(weight, arm, 0.1)])
    assert after.predicted > before.predicted
    assert after.most > before.most
    assert after.uncertainty >= before.uncertainty - 1e-9


@given(ITEMS)
@some
def test_a_part_that_is_known_less_well_never_narrows_the_band(items: list[Item]) -> None:
    steps = [finished([items[0]._replace(share=share), *items[1:]]) for share in (0.0, 0.05, 0.1, 0.2)]
    for better, worse in itertools.pairwise(steps):
        assert worse.most >= better.most - 1e-9
        assert worse.uncertainty >= better.uncertainty - 1e-9
