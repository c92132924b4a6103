"""Panel, lights, covering and placards as the page shows them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.calculations.light_arcs import uncovered
from jurystrut.drawings.light_arcs import Ring, light_arcs
from jurystrut.drawings.panel_front import Place, panel_front
from jurystrut.rulebook import Verdict, worst

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.drawings.svg import Svg
    from jurystrut.judge import Judgement
    from jurystrut.records.covering import Application, Product
    from jurystrut.records.lighting import Light
    from jurystrut.records.panel import Hole, Panel

__all__ = ["Coat", "FittingsView", "PanelRow", "view"]

_ASKED = {
    "position-left": (250.0, 360.0),
    "position-right": (0.0, 110.0),
    "position-tail": (110.0, 250.0),
    "anti-collision": (0.0, 360.0),
}
"""Degrees clockwise from the nose, 14 CFR 23.1387 and 23.1401(b) before amendment 64."""


class PanelRow(NamedTuple):
    """One item on the panel, by its number in the drawing."""

    number: int
    item: Any
    legend: str


class Coat(NamedTuple):
    """One line of the covering log against its product's limits."""

    entry: Application
    product: str
    surface: str
    temperature: str
    humidity: str
    verdict: Verdict
    remark: str


class FittingsView(NamedTuple):
    """What the page shows of panel, lights, covering and placards."""

    panel: Svg | None
    panel_items: list[PanelRow]
    lights: Svg | None
    light_rows: Sequence[Any]
    coats: list[Coat]
    placards: Sequence[Any]


def view(judgement: Judgement) -> FittingsView:
    """What there is of each; an absent section leaves its part empty."""
    sections = judgement.project.sections
    panel, lighting, markings = sections.get("panel"), sections.get("lighting"), sections.get("markings")
    lights = lighting.lights if lighting else ()
    return FittingsView(
        _front(panel) if panel else None,
        _items(panel) if panel else [],
        _arcs(lights),
        lights,
        _coats(judgement),
        markings.placards if markings else (),
    )


def _items(panel: Panel) -> list[PanelRow]:
    texts = {legend.id: legend.text for legend in panel.legends}
    return [PanelRow(i, item, texts.get(item.legend or "", "")) for i, item in enumerate(panel.items, start=1)]


def _front(panel: Panel) -> Svg | None:
    if len(panel.outline) < 3:
        return None
    outline = [(x.to("in"), y.to("in")) for x, y in panel.outline]
    if max(x for x, _ in outline) <= min(x for x, _ in outline):
        return None
    holes = {hole.id: hole for hole in panel.holes}
    places = [
        _place(holes[item.hole], str(number), item)
        for number, item in enumerate(panel.items, start=1)
        if item.hole in holes
    ]
    named = {item.hole for item in panel.items}
    places += [_place(hole, "", None) for hole in panel.holes if hole.id not in named]
    return panel_front("panel-front", outline, places)


def _place(hole: Hole, label: str, item: Any) -> Place:
    bezel = item.bezel if item else None
    return Place(
        label,
        (hole.centre[0].to("in"), hole.centre[1].to("in")),
        hole.diameter.to("in") if hole.diameter else None,
        (hole.width.to("in"), hole.height.to("in")) if hole.width and hole.height else None,
        bezel.diameter.to("in") if bezel and bezel.diameter else None,
        (bezel.width.to("in"), bezel.height.to("in")) if bezel and bezel.width and bezel.height else None,
        tuple((x.to("in"), y.to("in")) for x, y in hole.corners),
        loose=item is None,
    )


def _arcs(lights: Sequence[Any]) -> Svg | None:
    """The lights that others see; landing and cabin lights have no arc to keep."""
    rings = []
    for function, asked in _ASKED.items():
        some = [light for light in lights if light.function == function]
        if some:
            lit = tuple(part for light in some for part in _seen(light))
            rings.append(Ring(function.replace("-", " "), some[0].colour or "", asked, lit))
    return light_arcs("light-arcs", rings) if rings else None


def _seen(light: Light) -> Iterator[tuple[float, float]]:
    """What an eye level with a light sees of it: what hides one light does not hide another."""
    hidden = [(s.low.to("deg"), s.high.to("deg")) for s in light.hidden_level()]
    for sector in light.covers:
        yield from uncovered((sector.low.to("deg"), sector.high.to("deg")), hidden)


def _coats(judgement: Judgement) -> list[Coat]:
    covering = judgement.project.sections.get("covering")
    if covering is None:
        return []
    products = {product.id: product for product in covering.products}
    surfaces = {surface.id: surface.what for surface in covering.surfaces}
    said: dict[str, list[Any]] = {}
    for result in judgement.results:
        if result.rule.domain == "covering":
            for finding in result.findings:
                said.setdefault(finding.subject, []).append(finding)
    entries = sorted(covering.applications, key=lambda entry: entry.started)
    return [_coat(entry, products[entry.product], surfaces[entry.surface], said.get(entry.id, [])) for entry in entries]


def _coat(entry: Application, product: Product, surface: str, said: list[Any]) -> Coat:
    verdict = worst(finding.verdict for finding in said)
    remarks = [finding.message for finding in said if finding.verdict is verdict and verdict.rank > Verdict.PASS.rank]
    return Coat(
        entry,
        product.what,
        surface,
        f"{entry.temperature or 'not recorded'} (limits {product.temperature or 'not declared'})",
        f"{entry.humidity or 'not recorded'} (limits {product.humidity or 'not declared'})",
        verdict,
        "; ".join(remarks),
    )
