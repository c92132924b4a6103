"""The electrical system as the page shows it: loads by phase, the one-line diagram, and what quits when something opens."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.calculations.circuit.quitting import lost_without, running
from jurystrut.drawings.load_chart import Phase, load_chart
from jurystrut.reports.page.wiring import Sheet, sheets

if TYPE_CHECKING:
    from jurystrut.drawings.svg import Svg
    from jurystrut.judge import Judgement
    from jurystrut.records.electrical import Electrical

__all__ = ["ElectricalView", "LoadRow", "QuitRow", "view"]

_MOST_QUITS, _MOST_EDGES_WALKED = 150, 1_500_000


class LoadRow(NamedTuple):
    """One load, with its mean current in each phase."""

    load: Any
    phases: list[str]


class QuitRow(NamedTuple):
    """One device, and the loads that stop when it opens."""

    name: str
    kind: str
    detail: str
    lost: str
    essential: str


class ElectricalView(NamedTuple):
    """What the page shows of the electrical system."""

    phases: list[str]
    loads: list[LoadRow]
    totals: list[str]
    chart: Svg | None
    sheets: list[Sheet]
    quits: list[QuitRow]
    left_out: int


def view(judgement: Judgement) -> ElectricalView | None:
    """None where nothing electrical is recorded. The diagram needs the packs' fact `circuit`, where a pack offers it."""
    electrical = judgement.project.sections.get("electrical")
    if electrical is None:
        return None
    names = list(dict.fromkeys(phase for load in electrical.loads for phase in load.duty))
    rows = [LoadRow(load, [_share(load, name) for name in names]) for load in electrical.loads]
    totals = [_together(electrical, name) for name in names]
    limits = _limits(judgement)
    chart = load_chart("load-chart", [Phase(n, t, limits.get(n)) for n, t in zip(names, totals, strict=True)])
    circuit = judgement.facts.get("circuit")
    quits, left_out = _quits(electrical, circuit.network) if circuit else ([], 0)
    return ElectricalView(
        names,
        rows,
        [f"{total:.1f}" for total in totals],
        chart if names else None,
        sheets(electrical, circuit.network) if circuit else [],
        quits,
        left_out,
    )


def _share(load: Any, phase: str) -> str:
    return f"{load.current.si * load.duty[phase].si:.2f}" if phase in load.duty else ""


def _together(electrical: Electrical, phase: str) -> float:
    return sum(
        load.current.si * load.duty[phase].si
        for load in electrical.loads
        if phase in load.duty and not load.intermittent
    )


def _limits(judgement: Judgement) -> dict[str, float]:
    """What may be planned on in each phase, as the rule on the load analysis has it."""
    return {
        finding.subject: finding.limit.value
        for result in judgement.results
        if result.rule.domain == "electrical"
        for finding in result.findings
        if finding.limit is not None
        and finding.limit.unit == "A"
        and finding.message.startswith("the continuous loads")
    }


def _quits(electrical: Electrical, network: Any) -> tuple[list[QuitRow], int]:
    """Sources and protective devices, and the number of those beyond what a page, or half a minute, can hold."""
    devices = [*electrical.sources, *electrical.protection]
    listed = devices[: min(_MOST_QUITS, max(10, _MOST_EDGES_WALKED // (len(network.edges) or 1)))]
    essential = {load.id for load in electrical.loads if load.essential}
    before = running(network)
    rows = [_quit(device, lost_without(network, {device.id}, before), essential) for device in listed]
    return sorted(rows, key=lambda row: -len(row.lost.split(", ")) if row.lost else 0), len(devices) - len(listed)


def _quit(device: Any, lost: tuple[str, ...], essential: set[str]) -> QuitRow:
    detail = str(getattr(device, "rating", None) or getattr(device, "capacity", None) or "")
    vital = [name for name in lost if name in essential]
    return QuitRow(device.id, device.kind.replace("-", " "), detail, ", ".join(lost), ", ".join(vital))
