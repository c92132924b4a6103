"""The electrical system as the page shows it: loads by phase, the one-line diagram, and what quits when something fails."""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.drawings.load_chart import Phase, load_chart
from jurystrut.reports.page.quits import Quits, quits
from jurystrut.reports.page.wiring import Sheet, sheets

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jurystrut.drawings.svg import Svg
    from jurystrut.judge import Judgement
    from jurystrut.records.electrical import Electrical

__all__ = ["ElectricalView", "Intervals", "LoadRow", "view"]


class LoadRow(NamedTuple):
    """One load, with its mean current in each phase."""

    load: Any
    phases: list[str]


class Intervals(NamedTuple):
    """The load analysis by interval: a row a phase with amperes over 5 s, over 5 min and continuously, and the limits."""

    rows: list[tuple[str, list[str]]]
    limits: list[str]


class ElectricalView(NamedTuple):
    """What the page shows of the electrical system."""

    phases: list[str]
    loads: list[LoadRow]
    coils: dict[str, str]
    totals: list[str]
    intervals: Intervals | None
    chart: Svg | None
    sheets: list[Sheet]
    quits: Quits | None


def view(judgement: Judgement) -> ElectricalView | None:
    """None where nothing electrical is recorded. The facts of the packs that it draws on may be absent, with their parts."""
    electrical = judgement.project.sections.get("electrical")
    if electrical is None:
        return None
    facts = judgement.facts
    table, coils, output, circuit = (facts.get(n) for n in ("load_table", "coils", "alternator_output", "circuit"))
    names = list(dict.fromkeys(phase for load in electrical.loads for phase in load.duty))
    held: Mapping[str, float] = coils.held if coils else {}
    totals = [_together(electrical, name) + sum(held.values()) for name in names]
    limits = {name: output.plannable_in(name) if output else None for name in names}
    chart = load_chart("load-chart", [Phase(n, t, limits[n]) for n, t in zip(names, totals, strict=True)])
    return ElectricalView(
        names,
        [LoadRow(load, [_share(load, name) for name in names]) for load in electrical.loads],
        {id_: f"{amperes:.2f}" for id_, amperes in held.items()},
        [f"{total:.1f}" for total in totals],
        _intervals(table) if table else None,
        chart if names else None,
        sheets(electrical, circuit.network) if circuit else [],
        quits(electrical, circuit.network) if circuit else None,
    )


def _intervals(table: Any) -> Intervals:
    rows = [(phase, [f"{interval.total:.1f}" for interval in row]) for phase, row in table.phases.items()]
    limits = [table.limit(interval) for interval in next(iter(table.phases.values()))]
    return Intervals(rows, ["no limit" if limit == inf else f"{limit:g}" for limit in limits])


def _share(load: Any, phase: str) -> str:
    return f"{load.current.si * load.duty[phase].si:.2f}" if phase in load.duty else ""


def _together(electrical: Electrical, phase: str) -> float:
    return sum(
        load.current.si * load.duty[phase].si
        for load in electrical.loads
        if phase in load.duty and not load.intermittent
    )
