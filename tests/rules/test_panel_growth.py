"""The panel's rules compare neighbours, not all pairs: the work is counted, so no clock decides."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.calculations import layout
from jurystrut.testing import findings

if TYPE_CHECKING:
    from collections.abc import Callable

    import pytest

SIDES = (10, 20)
RULES = (
    "holes-keep-apart",
    "bezels-do-not-overlap",
    "bodies-apart",
    "bodies-clear-structure",
    "screws-in-metal",
    "hand-clearance",
    "guarded-or-distinct",
)


def panel(side: int) -> str:
    """A square of switches 1.25 in apart."""
    wide = 1.25 * side + 1
    places = [(1 + 1.25 * column, 1 + 1.25 * row) for column in range(side) for row in range(side)]
    more = "diameter: 0.5 in, screws: [[0.4 in, 0 in]], screw_diameter: 0.1 in"
    holes = ", ".join(f"{{id: H{n}, centre: [{x} in, {y} in], {more}}}" for n, (x, y) in enumerate(places))
    items = ", ".join(
        f"{{id: S{n}, kind: switch, hole: H{n}, depth: 1 in, confusion_hurts: true}}" for n in range(len(places))
    )
    return f"""\
panel:
  outline: [[0 in, 0 in], [{wide} in, 0 in], [{wide} in, {wide} in], [0 in, {wide} in]]
  keep_outs: [{{id: K, what: tube, corners: [[0 in, 0 in], [{wide} in, 0 in], [{wide} in, 1 in]], behind: 2 in}}]
  holes: [{holes}]
  items: [{items}]
"""


def comparisons(monkeypatch: pytest.MonkeyPatch, side: int) -> int:
    count = 0
    gap: Callable[..., float] = layout.gap

    def counted(*shapes: Any) -> float:
        nonlocal count
        count += 1
        return gap(*shapes)

    text = panel(side)
    with monkeypatch.context() as patch:
        patch.setattr(layout, "gap", counted)
        for rule in RULES:
            assert len(findings(f"panel/{rule}", text)) == side**2
    return count


def test_four_times_the_items_make_about_four_times_the_comparisons(monkeypatch: pytest.MonkeyPatch) -> None:
    few, many = (comparisons(monkeypatch, side) for side in SIDES)
    assert few > SIDES[0] ** 2
    # A square has fewer pairs at its border than in the middle: the larger one a little more than four times as many.
    assert many < 5 * few
