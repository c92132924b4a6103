"""The commands about drawings of the panel: `export-drawing`, `compare-drawing`."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from jurystrut.records.project import Project

__all__ = ["add_drawing_commands"]


def add_drawing_commands(commands: Any) -> None:
    """Declare the commands to the parser of the whole."""
    export = commands.add_parser(
        "export-drawing",
        help="write the panel as DXF for the cutter, or as SVG to look at",
        description="Write the panel: as DXF, on layers CUT, ENGRAVE and REFERENCE; or where the name ends with .svg, both "
        "sides full size, with the findings marked by number.",
    )
    export.set_defaults(run=_export_drawing)
    compare = commands.add_parser(
        "compare-drawing",
        help="which holes and legends of a DXF or SVG differ from the records",
        description="List each hole of a DXF or SVG drawing, and each legend on the layer ENGRAVE of a DXF, that differs from "
        "the records.",
        epilog="exit status: 0 nothing differs, 1 something does, 2 the drawing or the records could not be read",
    )
    compare.add_argument("--tolerance", type=_inches, default=0.005, metavar="LENGTH", help="default: 0.005 in")
    compare.add_argument(
        "--unit", choices=("in", "mm", "cm", "m", "ft"), help="where the drawing does not tell its own"
    )
    compare.add_argument("--layer", help="what is cut (default: CUT in a DXF that has it, or else all)")
    compare.set_defaults(run=_compare_drawing)
    for command in (export, compare):
        command.add_argument("drawing", metavar="PANEL", help="the drawing, for example panel.dxf")
        command.add_argument(
            "--in", dest="path", default=".", metavar="PATH", help="the folder of the records (default: here)"
        )
        command.add_argument("--sheet", metavar="ID", help="one of its sub-panels instead of the panel")


def _inches(text: str) -> float:
    from jurystrut.quantities import Length, QuantityError

    try:
        return Length.parse(text).to("in")
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from None


def _export_drawing(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.panel_drawing.commands import drawn, looked_at
    from jurystrut.reading import read

    path, project = Path(options.drawing), read(Path(options.path))
    if path.suffix.casefold() == ".svg":
        deliver(looked_at(project, options.sheet, _panel_findings(project)), options.drawing)
    else:
        deliver(drawn(project, options.sheet), options.drawing)
    return 0


def _panel_findings(project: Project) -> list[tuple[str, str]]:
    """What the panel's rules have to say, record by record."""
    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.rulebook import Verdict

    noted = {Verdict.WARN, Verdict.NO_DATA, Verdict.FAIL}
    judgement = judge(project, load(installed_packs()))
    found = [f for r in judgement.results if r.rule.domain == "panel" for f in r.findings if f.verdict in noted]
    return [(finding.subject, f"{finding.verdict.value}: {finding.message}") for finding in found]


def _compare_drawing(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.panel_drawing.commands import compared, report
    from jurystrut.reading import read
    from jurystrut.reports.plain import one_line

    path = Path(options.drawing)
    comparison = compared(
        read(Path(options.path)),
        path,
        sheet=options.sheet,
        tolerance=options.tolerance,
        unit=options.unit,
        layer=options.layer,
    )
    deliver(report(comparison, one_line(path.name), options.tolerance))
    return int(bool(comparison.differences))
