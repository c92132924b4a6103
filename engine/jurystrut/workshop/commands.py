"""Commands for the workshop: when the weather allows the next coat, and what parts are still to be bought."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import argparse

    from jurystrut.records.covering import Application, Covering, Product

__all__ = ["add_workshop_commands"]


def add_workshop_commands(commands: Any) -> None:
    """Add `work-window` and `parts` to the commands."""
    parts = commands.add_parser(
        "parts",
        help="standard parts still to be bought, and the joints that wait for them",
        description="List the standard parts that open joints need and stock does not hold.",
    )
    parts.add_argument("path", nargs="?", default=".", metavar="PATH", help="the folder of the records (default: here)")
    parts.set_defaults(run=_parts)
    window = commands.add_parser(
        "work-window",
        help="which hours of a weather forecast allow a coat and its cure",
        description="Say which hours of a forecast allow a product of the covering section, with its cure, and why the "
        "others do not. The forecast's first line reads: time,temperature degF,humidity %,wind kt",
    )
    window.add_argument("forecast", metavar="FORECAST.csv", help="the forecast, an hour a line")
    window.add_argument(
        "--product", metavar="ID", help="the product, for example SILVER (default: every one in the records)"
    )
    window.add_argument(
        "--surface",
        metavar="ID",
        help="the surface, for example LW-UPPER: then its log says when the next coat may follow",
    )
    window.add_argument(
        "--in", dest="path", default=".", metavar="PATH", help="the folder of the records (default: here)"
    )
    window.set_defaults(run=_work_window)


def _parts(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.delivery import deliver
    from jurystrut.reading import read
    from jurystrut.reports.parts import write_parts
    from jurystrut.reports.plain import safe

    project = read(Path(options.path))
    deliver(write_parts(project))
    for problem in project.problems:  # the list may then be short of some joints: say so, and exit 2
        print(safe(f"{problem.position}: {problem.message}"), file=sys.stderr)
    return 2 if project.problems else 0


def _work_window(options: argparse.Namespace) -> int:
    from pathlib import Path

    from jurystrut.calculations.work_window import windows
    from jurystrut.delivery import deliver
    from jurystrut.errors import UsageError
    from jurystrut.reading import read
    from jurystrut.reading.messages import nearest
    from jurystrut.reports.work_window import write_windows
    from jurystrut.workshop.forecast import read_forecast
    from jurystrut.workshop.needs import needs_of

    project = read(Path(options.path))
    covering = project.sections.get("covering")
    products: list[Product] = [p for p in (covering.products if covering else ()) if options.product in {None, p.id}]
    if not products:
        known = [product.id for product in covering.products] if covering else []
        raise UsageError(f"no product '{options.product or ''}' in the records{nearest(options.product or '', known)}")
    before = _coats_before(covering, options.surface) if covering and options.surface else {}
    hours = read_forecast(Path(options.forecast))
    for product in products:
        needs, words = needs_of(product, before.get(product.id))
        deliver(write_windows(f"{product.id}, {product.what}", words, windows(hours, needs)))
    return 0


def _coats_before(covering: Covering, surface: str) -> dict[str, Application]:
    """The last coat of every product on one surface, by product."""
    from jurystrut.errors import UsageError
    from jurystrut.reading.messages import nearest

    known = [item.id for item in covering.surfaces]
    if surface not in known:
        raise UsageError(f"no surface '{surface}' in the records{nearest(surface, known)}")
    logged = sorted((entry for entry in covering.applications if entry.surface == surface), key=lambda e: e.started)
    return {entry.product: entry for entry in logged}
