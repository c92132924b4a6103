"""Is every loading that may take off light enough to land, and to fly on when its fuel is gone?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_most, not_applicable, rule
from jurystrut_rules.weights.ledger import pounds

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.weights import Weights
    from jurystrut_rules.weights.possible import Possible

__all__ = ["every_loading_can_land"]

_LIMITS = {"landing_weight": "landing weight", "zero_fuel_weight": "zero fuel weight"}


@rule(
    "weights/every-loading-without-fuel",
    title="Every possible loading can land",
    asks="Do all loadings that may take off stay within the landing weight and the zero fuel weight once their fuel is used?",
    references=("91-9", "ac43-10-2-o"),
    due=Stage.SYSTEMS,
    remedy="Lower what the stations may hold together.",
    at_worst=Verdict.WARN,
)
def every_loading_can_land(possible: Possible, weights: Weights) -> Iterator[Finding]:
    """Every station holds its most and no usable fuel is left, but never more than gross weight: nothing that may take off is
    heavier when it has burnt all its fuel. Above the zero fuel weight too much of it is no fuel; above the landing weight it
    could not come down to it by any flight.

    The stations leave that to the pilot, as they do with gross weight; hence a warning at worst. Declared loadings are judged by
    `weights/gross-weight`, with the fuel that they say is left.
    """
    declared = [field for field in _LIMITS if getattr(possible.limits, field) is not None]
    if not declared:
        yield not_applicable("aircraft", "no landing weight and no zero fuel weight is recorded", possible.limits.at())
    full = possible.empty.weight + math.fsum(station.maximum.si for station in weights.stations if station.maximum)
    heaviest = pounds(min(full, possible.gross))
    for field in declared:
        limit = getattr(possible.limits, field)
        over = math.ceil(10 * (pounds(full) - limit.to("lb")) - 1e-6) / 10
        yield at_most(
            field.replace("_", "-"),
            heaviest,
            limit.to("lb"),
            "lb",
            f"with all that the stations may hold up to gross weight it weighs {heaviest:.1f} lb when the fuel is gone; "
            f"{_LIMITS[field]} is {limit}",
            possible.limits.at(field),
            weights.at("stations"),
            remedy=f"Let the stations hold {over:.1f} lb less together.",
            working=lambda: [
                *possible.steps,
                *(f"{station.id}: {station.maximum}" for station in weights.stations),
                f"all stations full {pounds(full):.1f} lb; gross weight {pounds(possible.gross):.1f} lb",
            ],
        )
