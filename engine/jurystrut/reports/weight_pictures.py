"""Pictures of the weights: all that can be loaded against the envelope, and what fills gross weight; figures in lb and in.

The figures are facts of the packs under the names `possible`, `loadings` and `finished_aircraft`, the same that rules judge.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.loadings import border
from jurystrut.drawings.possible_loadings import Band, Burn, draw_possible_loadings
from jurystrut.drawings.weight_budget import Part, draw_weight_budget
from jurystrut.errors import MissingRecord
from jurystrut.judge import facts_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from jurystrut.judge import Rulebook
    from jurystrut.records.project import Project

__all__ = ["PICTURES", "possible_loadings", "weight_budget"]

_POUND, _INCH = 0.45359237, 0.0254


def possible_loadings(project: Project, book: Rulebook) -> str:
    """The envelope with everything that can be loaded; raises MissingRecord where the records lack what it needs."""
    possible, loadings, projected = facts_of(project, book, "possible", "loadings", "finished_aircraft")
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
    weights, fuel = project.sections["weights"], project.sections["fuel"]
    goal, figures = weights.goal, projected.figures
    if goal is None or None in {goal.occupants, goal.occupant, goal.fuel}:
        raise MissingRecord("what the finished aircraft is meant to carry, 'goal', is not recorded", weights.at())
    wanted = [
        Part(f"{goal.occupants} occupants of {goal.occupant}", goal.occupants * goal.occupant.si / _POUND),
        Part(f"baggage, {goal.baggage}", goal.baggage.si / _POUND if goal.baggage else 0.0),
        Part(f"fuel, {goal.fuel}", goal.fuel.si * fuel.density.si / _POUND),
    ]
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


PICTURES: dict[str, Callable[[Project, Rulebook], str]] = {
    "possible-loadings": possible_loadings,
    "weight-budget": weight_budget,
}
"""Every picture by its name on the command line."""
