"""The electrical system as the page shows it: loads by phase, the one-line diagram, and what quits when something fails."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.drawings.load_chart import Phase, load_chart
from jurystrut.reports.page.quits import Quits, quits
from jurystrut.reports.page.wiring import Sheet, sheets

if TYPE_CHECKING:
    from jurystrut.drawings.svg import Svg
    from jurystrut.judge import Judgement
    from jurystrut.records.electrical import Electrical

__all__ = ["ElectricalView", "LoadRow", "view"]


class LoadRow(NamedTuple):
    """One load, with its mean current in each phase."""

    load: Any
    phases: list[str]


class ElectricalView(NamedTuple):
    """What the page shows of the electrical system."""

    phases: list[str]
    loads: list[LoadRow]
    totals: list[str]
    chart: Svg | None
    sheets: list[Sheet]
    quits: Quits | None


def view(judgement: Judgement) -> ElectricalView | None:
    """None where nothing electrical is recorded. The diagram needs the packs' fact `circuit`, where a pack offers it."""
    electrical = judgement.project.sections.get("electrical")
    if electrical is None:
        return None
    names = list(dict.fromkeys(phase for load in electrical.loads for phase in load.duty))
    rows = [LoadRow(load, [_share(load, name) for name in names]) for load in electrical.loads]
    totals = [_together(electrical, name) for name in names]
    output = judgement.facts.get("alternator_output")
    limits = {name: output.plannable_in(name) if output else None for name in names}
    chart = load_chart("load-chart", [Phase(n, t, limits[n]) for n, t in zip(names, totals, strict=True)])
    circuit = judgement.facts.get("circuit")
    return ElectricalView(
        names,
        rows,
        [f"{total:.1f}" for total in totals],
        chart if names else None,
        sheets(electrical, circuit.network) if circuit else [],
        quits(electrical, circuit.network) if circuit else None,
    )


def _share(load: Any, phase: str) -> str:
    return f"{load.current.si * load.duty[phase].si:.2f}" if phase in load.duty else ""


def _together(electrical: Electrical, phase: str) -> float:
    return sum(
        load.current.si * load.duty[phase].si
        for load in electrical.loads
        if phase in load.duty and not load.intermittent
    )
