"""The electrical load in each phase of flight against what may be planned on, as lying bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jurystrut.drawings.scales import ticks
from jurystrut.drawings.svg import Svg, drawing, group, line, rectangle, text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["Phase", "load_chart"]

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW = 680.0, 130.0, 74.0, 30.0, 30.0


@dataclass(frozen=True, slots=True)
class Phase:
    """One phase of flight: what its loads draw together, and the most that may be planned on where that is known."""

    name: str
    amperes: float
    limit: float | None = None


def load_chart(name: str, phases: Sequence[Phase]) -> Svg:
    """Amperes to the right, one bar a phase, the limit as a heavy upright stroke."""
    most = max([phase.amperes for phase in phases] + [phase.limit or 0.0 for phase in phases], default=0.0)
    marks = ticks(0.0, most or 1.0)
    height = _TOP + _ROW * len(phases) + 34
    scale = (_WIDTH - _LEFT - _RIGHT) / marks[-1]
    parts = [group(_grid(marks, scale, height)), *(part for i, p in enumerate(phases) for part in _bar(p, i, scale))]
    description = "; ".join(f"{p.name} {p.amperes:.1f} A" + (f" of {p.limit:g} A" if p.limit else "") for p in phases)
    return drawing(name, _WIDTH, height, "Electrical load by phase of flight", description or "no load", parts)


def _grid(marks: Sequence[float], scale: float, height: float) -> Iterator[Svg]:
    for mark in marks:
        x = _LEFT + mark * scale
        yield line((x, _TOP - 6), (x, height - 30), "grid")
        yield text((x, height - 14), f"{mark:g}", anchor="middle")
    yield text((_WIDTH - _RIGHT + 12, height - 14), "amperes")


def _bar(phase: Phase, row: int, scale: float) -> Iterator[Svg]:
    y = _TOP + row * _ROW
    end = _LEFT + phase.amperes * scale
    yield text((_LEFT - 8, y + 15), phase.name if len(phase.name) <= 18 else phase.name[:17] + "…", anchor="end")
    yield rectangle((_LEFT, y + 2), max(phase.amperes * scale, 0.5), _ROW - 12, "bar")
    inside = phase.amperes * scale > 70
    yield text(
        (end - 6 if inside else end + 6, y + 15),
        f"{phase.amperes:.1f} A",
        anchor="end" if inside else "start",
        look="on-bar" if inside else "words",
    )
    if phase.limit is not None:
        x = _LEFT + phase.limit * scale
        yield line((x, y - 3), (x, y + _ROW - 6), "limit")
        if row == 0:
            yield text((x, y - 8), f"limit {phase.limit:g} A", anchor="middle", look="words strong")
