"""The readiness report: one self-contained HTML page for a person with a clipboard, and for the printer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.reports.page import electrical, fittings, overview, papers, verdicts, weights
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from jurystrut.judge import Judgement

__all__ = ["write"]


class _Entry(NamedTuple):
    number: int
    title: str


_CONTENTS = {
    "readiness": "Readiness at a glance",
    "findings": "Open findings by domain",
    "weights": "Weight and balance",
    "loads": "Electrical load analysis",
    "one-line": "One-line diagram",
    "quits": "What quits",
    "panel": "Panel, front view",
    "lights": "Lights",
    "covering": "Covering log",
    "placards": "Placards",
    "papers": "Papers and evidence",
    "inspections": "Inspections",
    "settled": "What is settled, and what is not asked",
    "sources": "Sources",
}
"""The sections of the page in their order, by the name that a link leads to."""


def write(
    judgement: Judgement, outlook: Sequence[Judgement] = (), pictures: Mapping[str, tuple[str, bytes]] | None = None
) -> str:
    """The page: the judgement, how it would come out at each later stage, and thumbnails of the evidence by path."""
    contents = {name: _Entry(number, title) for number, (name, title) in enumerate(_CONTENTS.items(), start=1)}
    page: str = _page().render(
        contents=contents,
        judgement=judgement,
        aircraft=judgement.project.aircraft,
        caution=CAUTION,
        version=jurystrut.__version__,
        overview=overview.overview(judgement, outlook),
        domains=verdicts.domains(judgement),
        weights=weights.view(judgement),
        electrical=electrical.view(judgement),
        fittings=fittings.view(judgement),
        papers=papers.view(judgement, pictures or {}),
        sources=verdicts.sources(judgement),
        binds=verdicts.BINDS,
        status=verdicts.STATUS,
        key=(Verdict.FAIL, Verdict.NO_DATA, Verdict.WARN, Verdict.PASS),
    )
    return page


def _page() -> Any:
    from importlib.resources import files

    from jinja2 import DictLoader, Environment, StrictUndefined

    folder = files("jurystrut.reports.page") / "templates"
    names = [entry.name for entry in folder.iterdir() if entry.name.endswith((".j2", ".css"))]
    loader = DictLoader({name: (folder / name).read_text("utf-8") for name in names})
    # By its defaults the library escapes by file name, and leaves a page called report.html.j2 unescaped.
    environment = Environment(
        autoescape=True,
        finalize=verdicts.visible,
        loader=loader,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters |= {"drawn": _drawn, "word": verdicts.word}
    return environment.get_template("page.html.j2")


def _drawn(svg: Any) -> Any:
    """A drawing goes in as it is; only what the drawings made themselves may."""
    from markupsafe import Markup

    from jurystrut.drawings.svg import Svg

    if type(svg) is not Svg:
        raise TypeError("only a drawing goes into the page unescaped")
    return Markup(svg)  # noqa: S704 - every word in a drawing was escaped when it was made
