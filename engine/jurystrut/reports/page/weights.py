"""Weight and balance as the page shows it: the envelope drawn, and every declared loading in its states."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.drawings.cg_envelope import Mark, Track, cg_envelope

if TYPE_CHECKING:
    from jurystrut.drawings.svg import Svg
    from jurystrut.judge import Judgement
    from jurystrut.rulebook import Verdict

__all__ = ["LoadingRow", "WeightsView", "view"]


class LoadingRow(NamedTuple):
    """One loading in one state."""

    number: str
    loading: str
    what: str
    state: str
    weight: str
    arm: str
    allowed: str
    verdict: Verdict | None


class WeightsView(NamedTuple):
    """What the page shows of weights."""

    drawing: Svg | None
    units: tuple[str, str]
    rows: list[LoadingRow]
    weighings: list[Any]


def view(judgement: Judgement) -> WeightsView | None:
    """None where no weights are recorded. The loadings come from the packs' facts `loadings` and `loadings_placed`."""
    weights = judgement.project.sections.get("weights")
    if weights is None:
        return None
    loaded = [item for item in judgement.facts.get("loadings", ()) if item.body is not None]
    limits = judgement.project.aircraft.limits if judgement.project.aircraft else None
    corners = limits.cg_envelope if limits else ()
    units = (corners[0].weight.unit, corners[0].arm.unit) if corners else ("lb", "in")
    per_weight, per_arm = _factor(corners, "weight"), _factor(corners, "arm")
    numbers = {name: i for i, name in enumerate(dict.fromkeys(item.loading.id for item in loaded), start=1)}
    tracks = [
        Track(
            number,
            tuple(
                Mark(i.state, i.body.weight * per_weight, i.body.arm * per_arm) for i in loaded if i.loading.id == name
            ),
        )
        for name, number in numbers.items()
    ]
    drawn = None
    if len(corners) >= 3 and limits:
        outline = [(corner.weight.to(units[0]), corner.arm.to(units[1])) for corner in corners]
        drawn = cg_envelope("envelope", outline, tracks, units, limits.cg_envelope_joined_in or "arm")
    placed = {(p.loaded.loading.id, p.loaded.state): p for p in judgement.facts.get("loadings_placed", ())}
    rows = [
        _row(
            item,
            str(numbers[item.loading.id]),
            per_weight,
            per_arm,
            units[1],
            placed.get((item.loading.id, item.state)),
        )
        for item in loaded
    ]
    return WeightsView(drawn, units, rows, sorted(weights.weighings, key=lambda w: w.day))


def _factor(corners: Any, field: str) -> float:
    """How many of the envelope's own units one SI unit makes; pounds and inches where there is no envelope."""
    for corner in corners:
        quantity = getattr(corner, field)
        if quantity.si:
            return float(quantity.to(quantity.unit) / quantity.si)
    return 1 / 0.45359237 if field == "weight" else 1 / 0.0254


def _row(item: Any, number: str, per_weight: float, per_arm: float, unit: str, placed: Any) -> LoadingRow:
    """`placed` is what the pack says of the loading in its envelope, or None where it was not asked."""
    allowed = [f"{limit * per_arm:.2f}" for limit in placed.allowed or ()] if placed else []
    return LoadingRow(
        number,
        item.loading.id,
        item.loading.what or "",
        item.state,
        f"{item.body.weight * per_weight:.1f}",
        f"{item.body.arm * per_arm:.2f}",
        " to ".join(allowed) + f" {unit}" if allowed else ("none at this weight" if placed else "not judged"),
        placed.finding.verdict if placed else None,
    )
