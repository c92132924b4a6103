"""What a young record has to begin with next: sections that nothing is recorded in, by the stage that first asks for them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.records import LISTS, SECTIONS

if TYPE_CHECKING:
    from jurystrut.judge import Judgement
    from jurystrut.records.aircraft import Stage

__all__ = ["sections_to_begin"]


def sections_to_begin(judgement: Judgement) -> dict[Stage, list[str]]:
    """Sections without a record that rules ask for by name, by the first stage at which one does; the nearest stage first.

    Sections that the aircraft does not have, by `without`, are left out, and so are lists, which may rightly be empty.
    """
    aircraft = judgement.project.aircraft
    missing = set(SECTIONS) - LISTS - judgement.project.sections.keys() - set(aircraft.without if aircraft else ())
    first: dict[str, Stage] = {}
    for result in judgement.results:
        asked = {result.rule.domain, *(p.name for p in result.rule.parameters if not p.optional)}
        for section in asked & missing:
            first[section] = min(first.get(section, result.rule.due), result.rule.due)
    stages: dict[Stage, list[str]] = {}
    for section in sorted(first, key=lambda section: (first[section].rank, section)):
        stages.setdefault(first[section], []).append(section)
    return stages
