"""Is what covering adds to the aircraft counted among its weights?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_least, no_data, not_applicable, rule
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.covering import Covering, Surface
    from jurystrut.records.weights import Component, Weights

__all__ = ["added_weight_is_counted"]


@rule(
    "covering/weight-counted",
    title="Weight of the covering counted",
    asks="Is what fabric and coats add to every surface counted among the aircraft's weights?",
    references=("own-consistency",),
    due=Stage.COVERING,
    remedy="Correct the component's weight, or name the component in which it is counted.",
    at_worst=Verdict.WARN,
)
def added_weight_is_counted(covering: Covering, weights: Weights) -> Iterator[Finding]:
    """What was weighed before and after covering is added up for all surfaces that name the same components, and may not be more
    than these components weigh in the section weights. Surfaces on which nothing was done yet are not asked.
    """
    components = {component.id: component for component in weights.components}
    if not covering.surfaces:
        raise MissingRecord("no surface is recorded", covering.at("surfaces"))
    begun = {entry.surface for entry in covering.applications}
    together: dict[tuple[str, ...], list[Surface]] = {}
    for surface in covering.surfaces:
        if surface.id not in begun:
            yield not_applicable(surface.id, "nothing is logged on it yet", surface.at())
        elif surface.weight_added is None or not surface.counted_in:
            yield lacking(surface, "weight_added" if surface.weight_added is None else "counted_in")
        else:
            together.setdefault(tuple(sorted(surface.counted_in)), []).append(surface)
    for names, surfaces in together.items():
        yield _counted([components[name] for name in names], surfaces)


def _counted(parts: list[Component], surfaces: list[Surface]) -> Finding:
    first, names = surfaces[0], ", ".join(part.id for part in parts)
    unknown = next((part for part in parts if part.weight is None), None)
    if unknown:
        return no_data(first.id, f"the weight of {unknown.id} is not recorded", unknown.at())
    added = round(sum(surface.weight_added.to("lb") for surface in surfaces if surface.weight_added), 6)
    listed = round(sum(part.weight.to("lb") for part in parts if part.weight), 6)
    words = f"{', '.join(surface.id for surface in surfaces)}: covering added {added:g} lb; {names} weigh {listed:g} lb"
    where = *(part.at("weight") for part in parts), *(surface.at("weight_added") for surface in surfaces)
    return at_least(first.id, listed, added, "lb", words, *where)
