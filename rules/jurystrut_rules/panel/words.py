"""Have the words on the sheet room, beside holes, bezels and one another?"""

from __future__ import annotations

import math
from collections import defaultdict
from typing import TYPE_CHECKING

from jurystrut.calculations.layout import Circle, Polygon, Shape, inside_distance, near_pairs, rectangle
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.panel.shapes import inch

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping

    from jurystrut.records.panel import Item, Legend, Panel

__all__ = ["legend_stands_by_its_item", "words_have_room", "words_stand_on_the_sheet"]

_STEP, _SPACE = 0.8, 0.2  # own-panel-words
"""Of the letters' height: from one capital to the next, and the space between; ISO 3098 type B, from memory."""


def _width(legend: Legend, height: float) -> float:
    """How wide the words are, in inches: as recorded, or else estimated from their number."""
    return legend.width.to("in") if legend.width else (_STEP * len(legend.text) - _SPACE) * height


def _places(panel: Panel) -> dict[str, Polygon]:
    """The rectangle around each legend of known place and size."""
    found = {}
    for legend in panel.legends:
        if legend.centre and legend.letter_height and legend.letter_height.si:
            height = legend.letter_height.to("in")
            found[legend.id] = rectangle(inch(legend.centre), _width(legend, height), height)
    return found


def _measure(legend: Legend, shape: Polygon) -> str:
    left, bottom, right, top = shape.box
    known = "as recorded" if legend.width else f"estimated at {_STEP} of the height a letter"
    return f"its words take {right - left:.3f} by {top - bottom:.3f} in; their width is {known}"


def _lacking(panel: Panel) -> Iterator[Finding]:
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at("legends"))
    for legend in panel.legends:
        if legend.centre is None or not (legend.letter_height and legend.letter_height.si):
            field = "letter_height" if legend.centre else "centre"
            yield no_data(legend.id, f"its {field} is not recorded", legend.at(), remedy=f"Record '{field}'.")


def _otherwise(*legends: Legend) -> Verdict:
    """Words of a recorded width that overlap fail; an estimated width only warns."""
    return Verdict.FAIL if all(legend.width for legend in legends) else Verdict.WARN


@rule(
    "panel/words-have-room",
    title="Words have room",
    asks="Do the words on the sheet keep clear of one another, of holes and of bezels?",
    references=("own-panel-words", "23-1541-b"),
    due=Stage.STRUCTURE,
    remedy="Move the words, or set them narrower.",
)
def words_have_room(
    panel: Panel, hole_shapes: Mapping[str, Shape], front_shapes: Mapping[str, Shape]
) -> Iterator[Finding]:
    """Each legend is taken as a rectangle about its `centre`, as high as its letters and as wide as recorded; where no `width` is
    recorded, as eight tenths of the height for each letter, after the standard for lettering on drawings, from memory, which
    only warns. Words must not run into others, nor be cut by a hole or hidden by a bezel.
    """
    yield from _lacking(panel)
    words = _places(panel)
    legends = {legend.id: legend for legend in panel.legends}
    things = {f"the hole {name}": shape for name, shape in hole_shapes.items()}
    things |= {f"the front of {name}": shape for name, shape in front_shapes.items()}
    # A legend and an item may have one id, so all that is compared gets a name of its own.
    shapes: dict[str, Shape] = {**{f"the words {name}": shape for name, shape in words.items()}, **things}
    worst: dict[str, tuple[float, str]] = {}
    for one, other, distance in near_pairs(shapes, 0.0):
        for name, against in ((one, other), (other, one)):
            worst[name] = min(worst.get(name, (0.0, "")), (distance, against))
    for name in words:
        distance, against = worst.get(f"the words {name}", (0.0, ""))
        legend = legends[name]
        if not against:
            yield passes(name, "its words keep clear of all else", legend.at())
            continue
        twin = legends.get(against.removeprefix("the words "), legend)
        message = f"its words run {-distance:.3f} in into {against}"
        remedy = f"Move them {-distance:.3f} in or more away from {against}."
        otherwise = _otherwise(legend, twin)
        where = (legend.at("centre"), *([] if twin is legend else [twin.at("centre")]))
        yield at_least(
            name, distance, 0.0, "in", message, *where, remedy=remedy, otherwise=otherwise,
            working=[_measure(legend, words[name])].copy,
        )  # fmt: skip


@rule(
    "panel/words-on-sheet",
    title="Words stand on the sheet",
    asks="Do all words stand inside the panel's outline?",
    references=("own-panel-words",),
    due=Stage.STRUCTURE,
    remedy="Move the words inwards, or set them narrower.",
)
def words_stand_on_the_sheet(panel: Panel, outlines: Mapping[str | None, Polygon | str]) -> Iterator[Finding]:
    """The rectangle around each legend's words must lie inside the outline; an estimated width only warns."""
    outline = outlines[None]
    if isinstance(outline, str):
        raise MissingRecord(outline, panel.at("outline"))
    yield from _lacking(panel)
    legends = {legend.id: legend for legend in panel.legends}
    for name, shape in _places(panel).items():
        distance = inside_distance(shape, outline)
        said = f"{distance:.3f} in inside the edge" if distance >= 0 else f"{-distance:.3f} in over the edge"
        where, otherwise = legends[name].at("centre"), _otherwise(legends[name])
        yield at_least(name, distance, 0.0, "in", f"its words stand {said}", where, otherwise=otherwise)


_REACH = 2.5  # own-panel-words
"""Inches: words farther than this from all that they could name are read as nobody's."""


@rule(
    "panel/legend-by-item",
    title="Legend beside what it names",
    asks="Does every legend stand nearer to its own item than to any other?",
    references=("own-panel-words", "23-1555-a"),
    due=Stage.STRUCTURE,
    remedy="Move the words beside the item that they name.",
    at_worst=Verdict.WARN,
)
def legend_stands_by_its_item(panel: Panel, front_shapes: Mapping[str, Shape]) -> Iterator[Finding]:
    """Words are read with what stands nearest to them, which is another item where both its front, its bezel or hole, and its
    middle are nearer to the middle of the words. A switch under a large instrument, or a long lever beside a knob, is left to
    the eye.
    """
    if not panel.legends:
        raise MissingRecord("no legend is recorded", panel.at("legends"))
    items = {item.legend: item for item in panel.items if item.id in front_shapes}
    named = [(legend, items[legend.id]) for legend in panel.legends if legend.id in items]
    if not named:
        yield not_applicable("aircraft", "no legend names an item of known place", panel.at("legends"))
    gaps = _gaps([legend for legend, _ in named], front_shapes)
    for legend, item in named:
        if legend.centre is None:
            yield no_data(legend.id, "its centre is not recorded", legend.at(), remedy="Record 'centre'.")
        else:
            yield _by_its_item(legend, item, gaps.get(legend.id, {}))


def _by_its_item(legend: Legend, item: Item, near: Mapping[str, tuple[float, float]]) -> Finding:
    where = (legend.at("centre"), item.at("legend"))
    if item.id not in near:
        return warns(legend.id, f"it names {item.id}, and stands {_REACH} in or more away from it", *where)
    own, middle = near[item.id]
    nearer = [name for name, (gap, far) in near.items() if gap < own and far < middle]
    if nearer:
        closest = min(nearer, key=lambda name: near[name])
        message = f"it names {item.id}, {own:.2f} in away, and stands {near[closest][0]:.2f} in from {closest}"
        return warns(legend.id, message, *where)
    return passes(legend.id, f"it stands {own:.2f} in from {item.id}, and by nothing else", *where)


def _gaps(legends: Iterable[Legend], fronts: Mapping[str, Shape]) -> dict[str, dict[str, tuple[float, float]]]:
    """From the middle of each legend to the fronts of the items within reach, and to their middles."""
    # A legend and an item may have one id, so the words get names of their own.
    words = {f"words {legend.id}": Circle(inch(legend.centre), 0.0) for legend in legends if legend.centre}
    gaps: dict[str, dict[str, tuple[float, float]]] = defaultdict(dict)
    for one, other, gap in near_pairs({**words, **fronts}, _REACH, words.keys()):
        name, item = (one, other) if one in words else (other, one)
        gaps[name.removeprefix("words ")][item] = gap, math.dist(words[name].centre, _middle(fronts[item]))
    return gaps


def _middle(shape: Shape) -> tuple[float, float]:
    left, bottom, right, top = shape.box
    return (left + right) / 2, (bottom + top) / 2
