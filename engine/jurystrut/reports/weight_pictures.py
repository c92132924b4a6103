"""Pictures of the weights: all that can be loaded against the envelope, what fills gross weight, and how the weight grew; figures
in lb and in.

The figures are facts of the packs under the names `possible`, `loadings` and `finished_aircraft`, the same that rules judge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.loadings import border
from jurystrut.drawings.possible_loadings import Band, Burn, draw_possible_loadings
from jurystrut.drawings.weight_budget import Part, Weighed, draw_weight_budget, draw_weight_history
from jurystrut.errors import MissingRecord
from jurystrut.judge import facts_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence

    from jurystrut.judge import Rulebook
    from jurystrut.records.project import Project

__all__ = ["PICTURES", "possible_loadings", "weight_budget", "weight_history"]

_POUND, _INCH = 0.45359237, 0.0254


def possible_loadings(project: Project, book: Rulebook) -> str:
    """The envelope with everything that can be loaded; raises MissingRecord where the records lack what it needs."""
    possible, projected = facts_of(project, book, "possible", "finished_aircraft")
    declared = project.sections["weights"].loadings
    loadings = facts_of(project, book, "loadings")[0] if declared else ()
    envelope = possible.envelope
    figures = projected.figures
    spread = max(figures.most - figures.predicted, 2 * figures.uncertainty) / _POUND
    return draw_possible_loadings(
        Envelope(tuple((w / _POUND, x / _INCH) for w, x in envelope.corners), envelope.joined_in),
        _pounds_inches(border(possible.empty, possible.places, "forward")),
        _pounds_inches(border(possible.empty, possible.places, "aft")),
        possible.gross / _POUND,
        _burns(loadings),
        Band(figures.predicted / _POUND, figures.arm / _INCH, spread, 2 * figures.arm_uncertainty / _INCH),
        name=project.aircraft.name if project.aircraft else "",
    )


def _pounds_inches(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    return [(weight / _POUND, moment / _POUND / _INCH) for weight, moment in corners]


def _burns(loadings: Sequence[Any]) -> list[Burn]:
    """Each declared loading once, with those of its states that could be computed."""
    states: dict[str, list[tuple[float, float]]] = {}
    for loaded in loadings:
        if loaded.body is not None:
            state = (loaded.body.weight / _POUND, loaded.body.arm / _INCH)
            states.setdefault(loaded.loading.id, []).append(state)
    return [Burn(name, tuple(points)) for name, points in states.items()]


def weight_budget(project: Project, book: Rulebook) -> str:
    """What fills gross weight when the aircraft is finished and carries what the builder wants; raises MissingRecord."""
    possible, projected = facts_of(project, book, "possible", "finished_aircraft")
    figures = projected.figures
    wanted = _wanted(project)
    own = [
        Part("empty, as known now", figures.basic / _POUND),
        Part("growth expected", (figures.predicted - figures.basic) / _POUND),
    ]
    load = sum(part.weight for part in wanted)
    return draw_weight_budget(
        [part for part in (*own, *wanted) if part.weight > 0.005],
        possible.gross / _POUND,
        (figures.least / _POUND + load, figures.most / _POUND + load),
        name=project.aircraft.name if project.aircraft else "",
    )


def _wanted(project: Project) -> list[Part]:
    """What the finished aircraft is meant to carry; raises MissingRecord."""
    weights, fuel = project.sections["weights"], project.sections.get("fuel")
    goal = weights.goal
    if goal is None or goal.occupants is None or goal.occupant is None:
        raise MissingRecord("what the finished aircraft is meant to carry, 'goal', is not recorded", weights.at())
    parts = [
        Part(f"{goal.occupants} x {goal.occupant}, occupants", goal.occupants * goal.occupant.si / _POUND),
        Part(f"baggage, {goal.baggage}", goal.baggage.si / _POUND if goal.baggage else 0.0),
    ]
    if goal.fuel is None and fuel is not None and not fuel.tanks:
        return parts
    if goal.fuel is None or fuel is None or fuel.density is None:
        raise MissingRecord("the fuel wanted, or its density, is not recorded", goal.at())
    return [*parts, Part(f"fuel, {goal.fuel}", goal.fuel.si * fuel.density.si / _POUND)]


def weight_history(states: Iterable[tuple[str, Project]], book: Rulebook) -> str:
    """The finished weight expected at each state of the records, oldest first, a point wherever it changed, and the last state.

    A state that lacks what the weight needs has no point; MissingRecord where none has one. The line to stay below is what the
    last state leaves the empty aircraft under gross weight.
    """
    points: list[Weighed] = []
    last = limit = None
    name = ""
    for when, project in states:
        try:
            (projected,) = facts_of(project, book, "finished_aircraft")
        except MissingRecord:
            continue
        figures = projected.figures
        last = Weighed(when, *(value / _POUND for value in (figures.predicted, figures.least, figures.most)))
        limit, name = _room(project), project.aircraft.name if project.aircraft else ""
        if not points or points[-1][1:] != last[1:]:
            points.append(last)
    if last is None:
        raise MissingRecord("no commit holds weights that add up to an aircraft")
    if points[-1] != last:
        points.append(last)
    return draw_weight_history(points, limit, name=name)


def _room(project: Project) -> Part | None:
    """What gross weight leaves for the empty aircraft when it carries what is wanted; None where that is not recorded."""
    limits = project.aircraft.limits if project.aircraft else None
    if limits is None or limits.gross_weight is None:
        return None
    try:
        load = sum(part.weight for part in _wanted(project))
    except MissingRecord:
        return None
    return Part("leave the load wanted below gross weight", limits.gross_weight.to("lb") - load)


PICTURES: dict[str, Callable[[Project, Rulebook], str]] = {
    "possible-loadings": possible_loadings,
    "weight-budget": weight_budget,
}
"""Every picture of one state of the records, by its name on the command line."""
