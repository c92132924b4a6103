"""What will the finished aircraft weigh, and what will it still carry?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.finished import Finished, Item, chance_above, finished
from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_most, fact, no_data, rule
from jurystrut_rules.weights.balance import limits_of
from jurystrut_rules.weights.changes import band_of
from jurystrut_rules.weights.ledger import ALLOWANCE, Empty, inches, latest, pounds

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.weights import Component, Goal, Weighing, Weights

__all__ = ["Projected", "estimated_share", "finished_aircraft", "useful_load_is_left"]


_ROUNDING = 1e-9


class Projected(NamedTuple):
    """The finished aircraft, and how that was worked out."""

    figures: Finished
    lines: tuple[str, ...]


def _shares(weights: Weights) -> tuple[dict[str, float], str]:
    """The growth allowed by how a weight is known, and whose figures those are."""
    declared = weights.allowance
    if declared is None:
        return dict(ALLOWANCE), "our own default figures, which rest on no published statistics"
    own = {basis: getattr(declared, basis) for basis in ALLOWANCE}
    shares = {basis: ALLOWANCE[basis] if ratio is None else ratio.si for basis, ratio in own.items()}
    return shares, "the builder's own figures"


@fact
def finished_aircraft(weights: Weights, empty_aircraft: Empty) -> Projected:
    """The finished aircraft: what the scales found with the scales' band, and growth on all that was never on them."""
    shares, whose = _shares(weights)
    weighing = latest(weights)
    there = [component for component in weights.components if not component.removed]
    notes: list[str] = []
    if weighing is None:
        items = [_grown(component, shares) for component in there]
    else:
        later = [c for c in there if not c.fitted or (c.since is not None and c.since > weighing.day)]
        grown = [(c, _grown(c, shares)) for c in later]
        # What is not fitted yet was added as missing when the aircraft was weighed: only its growth is to come.
        items = [_on_scales(weights, weighing, empty_aircraft, notes)]
        items += [item._replace(basic=0.0, grows=item.basic) for _, item in grown]
        named = {extra.component for extra in weighing.missing or ()}
        items += _never_weighed([item for c, item in grown if not c.fitted and c.id not in named], weighing, notes)
    figures = finished(items)
    carried = ", ".join(f"{name} {100 * share:.0f} %" for name, share in figures.largest)
    words = ", ".join(f"{basis} {100 * share:g} %" for basis, share in shares.items())
    lines = (
        *empty_aircraft.steps,
        *notes,
        f"growth by how a weight is known: {words}; {whose}",
        f"expected {pounds(figures.predicted):.1f} lb at {inches(figures.arm):.2f} in",
        f"if independent, {pounds(figures.band[0]):.1f} to {pounds(figures.band[1]):.1f} lb (two standard uncertainties)",
        f"if all err together, {pounds(figures.least):.1f} to {pounds(figures.most):.1f} lb",
        f"most of the uncertainty: {carried or 'nothing is uncertain'}",
    )
    return Projected(figures, lines)


def _on_scales(weights: Weights, weighing: Weighing, empty: Empty, notes: list[str]) -> Item:
    """What the scales found, with their band."""
    band = band_of(weighing, weights.level_height.si if weights.level_height else None)
    if band is None:
        notes.append("how wrong the weighing may be is not recorded, and taken as nothing")
    weight, arm = band[:2] if band else (0.0, 0.0)
    return Item(empty.body.weight, empty.body.arm, name="scales", spread=weight, arm_spread=arm)


def _never_weighed(waiting: list[Item], weighing: Weighing, notes: list[str]) -> Iterator[Item]:
    """What is not fitted yet weighs more than all that was missing at the weighing: the rest was planned since."""
    missing = math.fsum(extra.weight.si for extra in weighing.missing or () if extra.component is None)
    planned = math.fsum(item.basic for item in waiting)
    if planned - missing > _ROUNDING * planned:
        arm = math.fsum(item.basic * item.arm for item in waiting) / planned
        notes.append(
            f"not fitted yet {pounds(planned):.1f} lb, of which {pounds(missing):.1f} lb were added as missing: "
            f"{pounds(planned - missing):.1f} lb more"
        )
        yield Item(planned - missing, arm, name="planned since the weighing")


def _grown(component: Component, shares: dict[str, float]) -> Item:
    if component.weight is None or component.arm is None:
        raise MissingRecord(f"{component.id} has no weight or no arm", component.at())
    return Item(component.weight.si, component.arm.si, shares[component.basis or "estimated"], component.id)


@rule(
    "weights/finished-weight",
    title="Finished weight leaves the load wanted",
    asks="Will the finished aircraft, at the upper bound of its weight, carry what the builder wants below gross weight?",
    references=("own-mass-allowance", "jcgm-100"),
    due=Stage.DESIGN,
    remedy="Save weight now, or want less.",
    at_worst=Verdict.WARN,
)
def useful_load_is_left(
    aircraft: Aircraft, weights: Weights, finished_aircraft: Projected, fuel: Fuel | None = None
) -> Iterator[Finding]:
    """Weights grow until an aircraft is finished. What was on the scales has the scales' error alone; every other part is taken
    to grow by a share that depends on how its weight is known, and may grow by twice that share or not at all.

    The shares are our own choice, as no statistics of amateur-built aeroplanes were found; record `allowance` to set your own.
    The upper bound, where all parts err to the heavy side together, is held against gross weight less the occupants, baggage and
    fuel wanted: builders err to one side. The narrower band for independent errors, and the likelihood that gross weight is
    exceeded by it, stand beside it.
    """
    limits, goal = limits_of(aircraft), weights.goal
    if limits.gross_weight is None:
        raise MissingRecord("the gross weight is not recorded", limits.at())
    if goal is None:
        yield no_data(
            "aircraft",
            "what the finished aircraft is meant to carry is not recorded",
            weights.at(),
            remedy="Record 'goal' with occupants, fuel and baggage.",
        )
        return
    wanted = _wanted(goal, fuel)
    figures, gross = finished_aircraft.figures, limits.gross_weight
    upper = pounds(figures.most + wanted)
    chance = chance_above(gross.si, figures.predicted + wanted, figures.uncertainty)
    words = (
        f"finished {pounds(figures.predicted):.1f} lb expected at {inches(figures.arm):.2f} in, {pounds(figures.band[0]):.1f} to "
        f"{pounds(figures.band[1]):.1f} lb if errors are independent, {pounds(figures.most):.1f} lb at most; with "
        f"{pounds(wanted):.1f} lb wanted aboard {upper:.1f} lb at most; gross weight is {gross}, "
        f"exceeded with a likelihood of {_percent(chance)}"
    )
    yield at_most(
        "aircraft",
        upper,
        gross.to("lb"),
        "lb",
        words,
        weights.at("goal"),
        limits.at("gross_weight"),
        remedy=f"Save {upper - gross.to('lb'):.1f} lb, or want so much less aboard.",
        working=lambda: [*finished_aircraft.lines, f"wanted aboard: {pounds(wanted):.1f} lb"],
    )


def _percent(chance: float) -> str:
    return "less than 0.1 %" if chance < 0.001 else f"{100 * chance:.1f} %"  # numerics


def _wanted(goal: Goal, fuel: Fuel | None) -> float:
    if goal.occupants is None or goal.occupant is None:
        raise MissingRecord("the goal lacks occupants or the weight of each", goal.at())
    people = goal.occupants * goal.occupant.si + (goal.baggage.si if goal.baggage else 0.0)
    if goal.fuel is None and fuel is not None and not fuel.tanks:
        return people
    if goal.fuel is None:
        raise MissingRecord("the goal lacks fuel; 0 is a value", goal.at())
    if fuel is None or fuel.density is None:
        raise MissingRecord("the fuel's density is not recorded", goal.at("fuel"))
    return people + goal.fuel.si * fuel.density.si


_STILL_ESTIMATED = {  # own-estimated-share
    Stage.DESIGN: 1.0,
    Stage.STRUCTURE: 0.60,
    Stage.COVERING: 0.40,
    Stage.SYSTEMS: 0.25,
    Stage.ENGINE_RUN: 0.10,
}
"""Our own choice; 5 % from the inspection on."""


@rule(
    "weights/estimated-share",
    title="Share of the weight still estimated",
    asks="Is no more of the listed weight a mere estimate than this stage of the build allows?",
    references=("own-estimated-share",),
    due=Stage.DESIGN,
    remedy="Weigh the heaviest of the estimated parts.",
    at_worst=Verdict.WARN,
)
def estimated_share(weights: Weights, stage: Stage) -> Iterator[Finding]:
    """Parts that are estimated or calculated, by weight, against all parts. The shares allowed are our own choice and shrink with
    the stages of the build: at the inspection nearly everything has been on scales.
    """
    parts = [(c, pounds(c.weight.si)) for c in weights.components if c.weight is not None and not c.removed]
    whole = sum(weight for _, weight in parts)
    if whole <= 0:
        raise MissingRecord("no component has a weight", weights.at("components"))
    guessed = sorted((part for part in parts if part[0].basis not in {"weighed", "catalogue"}), key=lambda p: -p[1])
    share = 100 * sum(w for _, w in guessed) / whole
    allowed = 100 * _STILL_ESTIMATED.get(stage, 0.05)  # own-estimated-share
    first = ", ".join(component.id for component, _ in guessed[:3])
    yield at_most(
        "components",
        share,
        allowed,
        "%",
        f"{share:.1f} % of the listed weight is estimated; at stage {stage.value} {allowed:g} % may be",
        *(component.at("basis") for component, _ in guessed[:3]),
        weights.at("components"),
        remedy=f"Weigh the heaviest of them: {first}.",
        working=lambda: [f"{component.id}: {weight:.1f} lb" for component, weight in guessed[:10]],
    )
