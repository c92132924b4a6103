"""Can the latest weighing be relied on, and was it worked out right?"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.weights.ledger import inches, latest, no_result_of, pounds, result_of, taken_off

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.weights import Extra, Scale, Station, Weighing, Weights

__all__ = ["empty_weight_follows", "weighing_is_usable", "wheels_are_those_of_the_gear"]


@rule(
    "weights/weighing-usable",
    title="Weighing can be used",
    asks="Was the aircraft levelled, were the scales at zero, and is it known what stood on them?",
    references=("ac43-10-15", "ac43-10-2-r", "h8083-1-weighing", "ac43-10-2-b"),
    due=Stage.SYSTEMS,
    remedy="Weigh again, and record each of these.",
)
def weighing_is_usable(weights: Weights) -> Iterator[Finding]:
    """The latest weighing is looked at: level flight attitude, scales set to zero, tare and axle arm of every wheel, what was
    aboard and not part of the aircraft, what was missing, what fuel and oil were in it, and whether it stood inside.

    Level matters most: one degree moves the apparent centre of gravity by 0.42 in where it is 24 in above the axles.
    """
    weighing = latest(weights)
    if weighing is None:
        raise MissingRecord("no weighing is recorded", weights.at())
    yield _must(
        weighing,
        "levelled",
        "it stood in level flight attitude",
        "it was not level: its centre of gravity means nothing",
    )
    yield _must(weighing, "zeroed", "the scales were set to zero", "the scales were not set to zero before")
    yield _wheels(weighing)
    for field, what, how in (
        ("aboard", "what was aboard and is not part of the aircraft", "; write [] for nothing"),
        ("missing", "what belongs to the aircraft and was not aboard", "; write [] for nothing"),
        ("fuel", "what fuel was aboard", ""),
        ("oil", "what oil was aboard", ""),
    ):
        if getattr(weighing, field) is None:
            yield no_data(weighing.id, f"not recorded: {what}", weighing.at(), remedy=f"Record '{field}'{how}.")
        elif field == "fuel" and weighing.fuel != "drained-to-unusable" and not _lists(weighing.aboard, "fuel"):
            message = f"it stood with fuel ({weighing.fuel}), and none is listed as aboard"
            remedy = "Add the usable fuel to 'aboard', with weight and arm."
            yield no_data(weighing.id, message, weighing.at("fuel"), weighing.at("aboard"), remedy=remedy)
        elif field == "oil" and weighing.oil == "drained" and not _oil_returns(weighing, weights):
            message = (
                "its oil was drained, and neither 'missing' nor a station for load names oil: no loading carries any"
            )
            remedy = "Add the oil to 'missing', with weight and arm."
            yield warns(weighing.id, message, weighing.at("oil"), weighing.at("missing"), remedy=remedy)
        else:
            yield passes(weighing.id, f"recorded: {what}", weighing.at(field))
    yield _inside(weighing)
    same = [other for other in weights.weighings if other.day == weighing.day and other is not weighing]
    if same:
        words = f"{', '.join(other.id for other in same)} is of the same day; this one counts, as it is recorded last"
        yield warns(weighing.id, words, weighing.at("day"), remedy="Leave only the one that counts on that day.")


def _lists(extras: Iterable[Extra | Station] | None, what: str) -> bool:
    """Whether the words of one of them hold this one; nothing else tells fuel and oil from a toolbox."""
    return any(what in re.findall("[a-z]+", (extra.what or "").lower()) for extra in extras or ())


def _oil_returns(weighing: Weighing, weights: Weights) -> bool:
    """Empty weight may hold residual oil only, AC 43.13-1B paragraph 10-2b; then the rest must be some load."""
    return _lists(weighing.missing, "oil") or _lists(weights.stations, "oil")


def _must(weighing: Weighing, field: str, yes: str, no: str) -> Finding:
    value = getattr(weighing, field)
    if value is None:
        return no_data(weighing.id, f"not recorded: whether {yes}", weighing.at(), remedy=f"Record '{field}'.")
    if value:
        return passes(weighing.id, yes, weighing.at(field))
    return fails(weighing.id, no, weighing.at(field), remedy="Weigh again.")


def _wheels(weighing: Weighing) -> Finding:
    if not weighing.scales:
        return no_data(weighing.id, "no scale reading is recorded", weighing.at())
    for scale in weighing.scales:
        for field in ("tare", "arm"):
            if getattr(scale, field) is None:
                remedy = (
                    "Record 'tare'; 0 lb if there was none."
                    if field == "tare"
                    else "Record 'arm', measured while levelled."
                )
                return no_data(
                    weighing.id, f"the {field} of the {scale.wheel} wheel is not recorded", scale.at(), remedy=remedy
                )
        if taken_off(scale) > scale.reading.si:
            zero = f" and {scale.zero} shown empty" if scale.zero else ""
            message = f"{scale.tare} of tare{zero} on the {scale.wheel} wheel, and a reading of {scale.reading}"
            return fails(
                weighing.id, message, scale.at("tare"), scale.at("reading"), remedy="Correct the reading or the tare."
            )
    return passes(weighing.id, "tare and arm are recorded for every wheel", weighing.at("scales"))


def _inside(weighing: Weighing) -> Finding:
    if weighing.inside is None:
        words = "not recorded: whether it stood in a closed building"
        return no_data(weighing.id, words, weighing.at(), remedy="Record 'inside'.")
    if weighing.inside:
        return passes(weighing.id, "it stood in a closed building", weighing.at("inside"))
    words = "it stood outside, where wind moves the readings"
    return warns(weighing.id, words, weighing.at("inside"), remedy="Weigh again in a closed building.")


_THIRD = {"nosewheel": "nose", "tailwheel": "tail"}
"""The third wheel of a gear, beside the two main ones."""


@rule(
    "weights/wheels-of-gear",
    title="Wheels on the scales",
    asks="Did every wheel of the gear stand on a scale, once, with the third wheel on its side of the main wheels?",
    references=("own-consistency", "ac43-10-15"),
    due=Stage.SYSTEMS,
    remedy="Correct the wheel's name or its arm; weigh again where a wheel stood on no scale.",
    at_worst=Verdict.WARN,
)
def wheels_are_those_of_the_gear(weights: Weights, aircraft: Aircraft) -> Iterator[Finding]:
    """Signed arms give the balance whatever a wheel is called; a wheel named wrongly tells that lines were mixed up, and with
    them readings. Floats and skis are not asked.
    """
    weighing = latest(weights)
    if weighing is None:
        raise MissingRecord("no weighing is recorded", weights.at("weighings"))
    if not weighing.scales:
        raise MissingRecord("no scale reading is recorded", weighing.at())
    if aircraft.gear is None:
        raise MissingRecord("the landing gear, 'gear', is not recorded", aircraft.at())
    if aircraft.gear not in _THIRD:
        yield not_applicable(weighing.id, f"on {aircraft.gear}", aircraft.at("gear"))
        return
    third = _THIRD[aircraft.gear]
    wanted, found = sorted([third, "left-main", "right-main"]), sorted(scale.wheel for scale in weighing.scales)
    arms: dict[str, float] = {scale.wheel: scale.arm.si for scale in weighing.scales if scale.arm}
    names = f"{', '.join(found)} stood on scales"
    if found != wanted:
        yield warns(
            weighing.id, f"{names}; the gear has {', '.join(wanted)}", weighing.at("scales"), aircraft.at("gear")
        )
    elif len(arms) == len(wanted) and _ahead(arms) != (third == "nose"):
        yield warns(
            weighing.id, f"{names}, and the {third} wheel on the wrong side of the main wheels", weighing.at("scales")
        )
    else:
        yield passes(weighing.id, names, weighing.at("scales"))


def _ahead(arms: dict[str, float]) -> bool:
    """Whether the third wheel stands ahead of both main wheels."""
    third, *mains = sorted(arms, key=lambda wheel: wheel.endswith("main"))
    return all(arms[third] < arms[main] for main in mains)


_ROUNDING_LB, _ROUNDING_IN = 0.1, 0.02  # own-reading-precision
"""How far a result worked out by hand, to a tenth of a pound and a hundredth of an inch, may be from ours."""


@rule(
    "weights/empty-weight",
    title="Empty weight from the readings",
    asks="Do the empty weight and centre of gravity on record follow from the readings?",
    references=("ac43-figure-10-13", "ac43-10-16", "ac43-10-2-b", "own-reading-precision"),
    due=Stage.SYSTEMS,
    remedy="Work the weighing out again; mind the signs of the arms.",
)
def empty_weight_follows(weights: Weights) -> Iterator[Finding]:
    """Readings less tare, each at its wheel's arm, less what was aboard, plus what was missing; weights and moments are added,
    and the sum of moments over the sum of weights is the empty centre of gravity. Signed arms serve every wheel layout.

    What the builder worked out may differ by a rounding: 0.1 lb and 0.02 in. Where nothing is recorded, ours is shown.
    """
    weighing = latest(weights)
    if weighing is None:
        raise MissingRecord("no weighing is recorded", weights.at())
    body = result_of(weighing)
    if body is None:
        yield no_data(weighing.id, no_result_of(weighing), weighing.at(), remedy="Record or correct it.")
        return
    weight, arm = pounds(body.weight), inches(body.arm)
    yield from _compared(weighing, weight, arm)


def _wheel_line(scale: Scale) -> str:
    readings = (
        f"mean of {', '.join(map(str, (scale.reading, *scale.repeated)))}" if scale.repeated else str(scale.reading)
    )
    zero = f" - {scale.zero} shown empty" if scale.zero else ""
    return f"{scale.wheel}: {readings} - {scale.tare or 0}{zero} at {scale.arm}"


def _compared(weighing: Weighing, weight: float, arm: float) -> Iterator[Finding]:
    def working() -> list[str]:
        wheels = [_wheel_line(scale) for scale in weighing.scales]
        extras = [f"aboard: - {e.weight} at {e.arm}, {e.what}" for e in weighing.aboard or ()]
        extras += [f"missing: + {e.weight} at {e.arm}, {e.what}" for e in weighing.missing or ()]
        return [*wheels, *extras, f"sum: {weight:.2f} lb at {arm:.3f} in"]

    if weighing.empty_weight is None and weighing.empty_arm is None:
        yield passes(
            weighing.id, f"the readings give {weight:.1f} lb at {arm:.2f} in", weighing.at("scales"), working=working
        )
    if weighing.empty_weight is not None:
        recorded = weighing.empty_weight.to("lb")
        message = f"the readings give {weight:.1f} lb empty, {weighing.empty_weight} is on record"
        yield at_most(
            weighing.id,
            abs(recorded - weight),
            _ROUNDING_LB,
            "lb",
            message,
            weighing.at("empty_weight"),
            working=working,
        )
    if weighing.empty_arm is not None:
        recorded = weighing.empty_arm.to("in")
        message = f"the readings give a centre of gravity of {arm:.2f} in, {weighing.empty_arm} is on record"
        yield at_most(
            weighing.id, abs(recorded - arm), _ROUNDING_IN, "in", message, weighing.at("empty_arm"), working=working
        )
