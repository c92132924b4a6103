"""What the commands `export-drawing` and `compare-drawing` do; the command line prints what they give."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.errors import UsageError
from jurystrut.panel_drawing.comparing import Comparison, compare
from jurystrut.panel_drawing.contours import recorded_contours
from jurystrut.panel_drawing.engraving import Drawing, compare_words, recorded_words

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from jurystrut.records.panel import Panel
    from jurystrut.records.project import Project

__all__ = ["compared", "drawn", "looked_at", "panel_of", "report"]


def panel_of(project: Project) -> Panel:
    """The panel's records; UsageError where not all records could be read, for half a panel must not reach the cutter."""
    if project.problems:
        first = project.problems[0]
        raise UsageError(
            f"the records could not all be read ({first.position}: {first.message}); see `jurystrut check`"
        )
    panel: Panel | None = project.sections.get("panel")
    if panel is None:
        raise UsageError("the records have no section 'panel'")
    return panel


def drawn(project: Project, sheet: str | None) -> str:
    """The panel, or one of its sub-panels, as DXF."""
    from jurystrut.panel_drawing.dxf import write_dxf

    panel = panel_of(project)
    return write_dxf(recorded_contours(panel, sheet), panel, sheet)


def looked_at(project: Project, sheet: str | None, findings: Iterable[tuple[str, str]]) -> str:
    """The panel from both sides as SVG, each finding (record and words) marked by its number."""
    from jurystrut.panel_drawing.views import Note, write_views

    return write_views(panel_of(project), [Note(*finding) for finding in findings], sheet)


def compared(
    project: Project, path: Path, *, sheet: str | None, tolerance: float, unit: str | None, layer: str | None
) -> Comparison:
    """A DXF or SVG file held against the records, and the words to be engraved of a DXF; `tolerance` in inches."""
    panel = panel_of(project)
    drawing = _read(path, unit, layer)
    comparison = compare(recorded_contours(panel, sheet), drawing.contours, tolerance)
    if drawing.words is None or sheet:  # legends are on the panel itself
        return comparison
    told, agreeing = compare_words(recorded_words(panel), drawing.words, comparison.moved, tolerance)
    return comparison._replace(differences=(*comparison.differences, *told), words=agreeing)


def _read(path: Path, unit: str | None, layer: str | None) -> Drawing:
    if path.suffix.casefold() == ".svg":
        from jurystrut.panel_drawing.svg import read_svg

        return Drawing(read_svg(path, layer=layer), None)
    from jurystrut.panel_drawing.dxf import read_dxf

    return read_dxf(path, unit=unit, layer=layer)


def report(comparison: Comparison, name: str, tolerance: float) -> str:
    """The comparison for people, a line a difference; `name` is the drawing's."""
    lines = [f"{difference.name}: {difference.words}" for difference in comparison.differences]
    right, up = comparison.moved
    if right or up:
        lines.append(f"The drawing was moved by {right:.3f} in to the right and {up:.3f} in up to lie on the records.")
    count = len(comparison.differences)
    verdict = f"{count} differ{'s' if count == 1 else ''}" if count else "none differs"
    words = "its words were not compared" if comparison.words is None else f"{comparison.words} legends agree"
    lines.append(
        f"{name}: {comparison.agreeing} of the recorded contours agree within {tolerance:g} in; {words}; {verdict}."
    )
    return "\n".join(lines) + "\n"
