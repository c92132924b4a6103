"""Are control cables strong, tight, clear and led straight?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.charts import between_points
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.hardware.tables import cable_strength
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.rigging import Cable, Pulley, Rigging

__all__ = [
    "cable_is_clear",
    "cable_is_not_worn",
    "cable_is_strong_enough",
    "cable_is_thick_enough",
    "cable_is_tight",
    "fairlead_turns_little",
    "pulley_holds_its_cable",
    "pulley_stands_straight",
    "tensiometer_is_calibrated",
]

_PRIMARY = 0.125  # 23-689: inch
_FAIRLEAD = 3.0  # 23-689: deg
_WORN = 40.0  # ac43-7-149: %; it says 40 to 50 %, and the lower end is taken
_CLEAR = 0.25  # practice-cable-clearance: inch


@rule(
    "controls/cable-size",
    title="Primary control cable",
    asks="Is every primary control cable at least 1/8 in thick?",
    references=("23-689",),
    due=Stage.STRUCTURE,
    remedy="Fit 1/8 in cable, with its pulleys and terminals.",
)
def cable_is_thick_enough(rigging: Rigging) -> Iterator[Finding]:
    """Old 23.689(a)(1), a yardstick. A trim cable may be thinner where the aircraft can be flown with the tab hard over."""
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        if cable.use is None or cable.diameter is None:
            yield lacking(cable, "use" if cable.use is None else "diameter")
        elif cable.use != "primary":
            yield not_applicable(cable.id, f"no primary control: {cable.use}", cable.at("use"))
        else:
            have = cable.diameter.to("in")
            yield at_least(cable.id, have, _PRIMARY, "in", f"cable of {have:.3f} in", cable.at("diameter"))


@rule(
    "controls/cable-strength",
    title="Cable is strong enough",
    asks="Does the cable's least breaking strength reach the load that the design puts on it?",
    references=("ac43-table-7-3",),
    due=Stage.STRUCTURE,
    remedy="Fit a thicker cable, with its pulleys and terminals.",
)
def cable_is_strong_enough(rigging: Rigging) -> Iterator[Finding]:
    """Table 7-3 gives the strength by diameter, construction and material; the load comes from the design."""
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        yield _strength(cable)


def _strength(cable: Cable) -> Finding:
    for field in ("diameter", "construction", "material", "ultimate_load"):
        if getattr(cable, field) is None:
            return lacking(cable, field)
    assert cable.diameter is not None
    assert cable.construction is not None
    assert cable.material is not None
    assert cable.ultimate_load is not None
    kind = f"{cable.material} {cable.construction} cable of {cable.diameter}"
    strength = cable_strength(cable.diameter.to("in"), cable.construction, cable.material)
    if strength is None:
        return no_data(
            cable.id, f"table 7-3 has no {kind}", cable.at("diameter"), remedy="Show its strength in another way."
        )
    load = cable.ultimate_load.to("lb")
    if load <= 0:
        return no_data(cable.id, "a load of nothing is no load of a design", cable.at("ultimate_load"))
    message = f"{kind} breaks at {strength:g} lb or more; the design puts {load:g} lb on it"
    return at_least(cable.id, strength, load, "lb", message, cable.at("diameter"), cable.at("ultimate_load"))


@rule(
    "controls/cable-tension",
    title="Cable tension",
    asks="Is the tension what the designer's chart gives for the temperature?",
    references=("cable-tension", "amt-symmetry"),
    due=Stage.SYSTEMS,
    remedy="Set the turnbuckle again, at a steady temperature, and safety it anew.",
)
def cable_is_tight(rigging: Rigging) -> Iterator[Finding]:
    """The designer's chart gives a tension by temperature; between two of its points it is read straight, beyond its ends
    not at all. No figure holds for all aircraft: an aluminium frame grows about twice as much as its steel cables, a steel
    frame with them.
    """
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        yield _tension(cable)


def _tension(cable: Cable) -> Finding:
    for field in ("tension", "temperature", "tension_tolerance", "manual", "tensiometer"):
        if getattr(cable, field) is None:
            return lacking(cable, field)
    assert cable.tension is not None
    assert cable.temperature is not None
    assert cable.tension_tolerance is not None
    heat, have, off = cable.temperature.to("degF"), cable.tension.to("lb"), cable.tension_tolerance.to("lb")
    points = [(point.temperature.to("degF"), point.tension.to("lb")) for point in cable.chart]
    try:
        aim = between_points(points, heat)
    except ValueError:
        message = f"the chart has nothing for {heat:.0f} degF"
        return no_data(
            cable.id, message, cable.at("chart"), cable.at("temperature"), remedy="Measure within its temperatures."
        )
    message = f"{have:g} lb at {heat:.0f} degF; {cable.manual} gives {aim:.1f} ± {off:g} lb"
    return between(
        cable.id,
        have,
        aim - off,
        aim + off,
        "lb",
        message,
        cable.at("tension"),
        cable.at("chart"),
        working=lambda: [f"{cable.manual}: {points}", f"at {heat:g} degF: {aim:.2f} lb, ± {off:g} lb"],
    )


_YEAR = 366  # practice-tensiometer: days, as for a torque wrench


@rule(
    "controls/tensiometer",
    title="Tensiometer calibrated",
    asks="Was the tensiometer calibrated before it was used, and not too long before?",
    references=("practice-tensiometer", "declared-drawing"),
    due=Stage.SYSTEMS,
    remedy="Have it calibrated, and measure the tension again.",
    at_worst=Verdict.WARN,
)
def tensiometer_is_calibrated(rigging: Rigging) -> Iterator[Finding]:
    """The days from its last calibration to the day on which it measured this cable, against the interval that is recorded of
    it, or else a year, which is common practice, no source. A calibration after that day tells nothing of the measurement.
    """
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        if cable.day is None or cable.tensiometer_calibrated is None:
            yield lacking(cable, "day" if cable.day is None else "tensiometer_calibrated")
        else:
            yield _calibrated(cable, (cable.day - cable.tensiometer_calibrated).days)


def _calibrated(cable: Cable, age: int) -> Finding:
    spot = cable.at("tensiometer_calibrated")
    if age < 0:
        message = f"calibrated on {cable.tensiometer_calibrated}, after it measured on {cable.day}"
        return no_data(cable.id, message, spot, cable.at("day"), remedy="Record the calibration before that.")
    declared = cable.tensiometer_interval
    most, whose = (round(declared.to("day"), 6), "as recorded") if declared else (_YEAR, "common practice, no source")
    return at_most(
        cable.id,
        age,
        most,
        "days",
        f"calibrated {age} days before it measured; good for {most:g} days",
        spot,
        cable.at("day"),
        working=lambda: [
            f"from {cable.tensiometer_calibrated} to {cable.day}: {age} days",
            f"a calibration is good for {most:g} days, {whose}",
        ],
    )


@rule(
    "controls/cable-wear",
    title="Wear of cables",
    asks="Are the outer wires of every cable worn by less than 40 %?",
    references=("ac43-7-149",),
    due=Stage.INSPECTION,
    remedy="Replace the cable.",
)
def cable_is_not_worn(rigging: Rigging) -> Iterator[Finding]:
    """AC 43.13-1B has a cable replaced at 40 to 50 % wear; the lower figure is taken."""
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        if cable.worn is None:
            yield lacking(cable, "worn")
        else:
            worn = cable.worn.to("%")
            yield at_most(cable.id, worn, _WORN, "%", f"outer wires worn by {worn:g} %", cable.at("worn"))


@rule(
    "controls/cable-clearance",
    title="Cable is clear",
    asks="Does every cable stay clear of all that is fixed, over its whole travel?",
    references=("practice-cable-clearance", "23-683"),
    due=Stage.SYSTEMS,
    remedy="Move what it comes near, or fit a fairlead.",
)
def cable_is_clear(rigging: Rigging) -> Iterator[Finding]:
    """What the designer asks for decides. Without that, a cable that touches fails, and less than 1/4 in is warned of, which is
    common practice, no source.
    """
    yield from none_recorded(rigging.cables, "cable", rigging)
    for cable in rigging.cables:
        if cable.clearance is None:
            yield lacking(cable, "clearance")
            continue
        have = cable.clearance.to("in")
        wanted = cable.least_clearance
        least = wanted.to("in") if wanted else _CLEAR
        verdict = Verdict.FAIL if wanted or have <= 0 else Verdict.WARN
        message = f"{have:.3f} in clear where it comes nearest"
        yield at_least(cable.id, have, least, "in", message, cable.at("clearance"), otherwise=verdict)


_IN_LINE = {(True, False): 1.0, (False, False): 2.0, (True, True): 2.0, (False, True): 3.0}  # mil-f-18372
"""Degrees by (primary, side travel), MIL-F-18372 3.1.1.17.8."""


@rule(
    "controls/pulley-alignment",
    title="Pulley stands in line",
    asks="Does the cable run in its pulley's plane?",
    references=("mil-f-18372", "23-689"),
    due=Stage.SYSTEMS,
    remedy="Shim the pulley's bracket.",
)
def pulley_stands_straight(rigging: Rigging) -> Iterator[Finding]:
    """1 deg for a primary control, 2 deg for another; with side travel 2 and 3 deg. A cable of no recorded use counts as
    primary.
    """
    yield from none_recorded(rigging.pulleys, "pulley", rigging)
    cables = {cable.id: cable for cable in rigging.cables}
    for pulley in rigging.pulleys:
        if pulley.cable is None or pulley.misalignment is None:
            yield lacking(pulley, "cable" if pulley.cable is None else "misalignment")
            continue
        primary = cables[pulley.cable].use in {None, "primary"}
        angle = abs(pulley.misalignment.to("deg"))
        message = f"the cable runs {angle:g} deg off its plane"
        yield at_most(
            pulley.id, angle, _IN_LINE[primary, pulley.side_travel], "deg", message, pulley.at("misalignment")
        )


@rule(
    "controls/pulley-guard",
    title="Pulley holds its cable",
    asks="Has every pulley the size of its cable, and a guard?",
    references=("23-689",),
    due=Stage.SYSTEMS,
    remedy="Fit a pulley of the cable's size, and a guard close to its rim.",
)
def pulley_holds_its_cable(rigging: Rigging) -> Iterator[Finding]:
    """Old 23.689(b), a yardstick: a slack cable must not leave the groove and jam."""
    yield from none_recorded(rigging.pulleys, "pulley", rigging)
    cables = {cable.id: cable for cable in rigging.cables}
    for pulley in rigging.pulleys:
        yield _guard(pulley, cables)


def _guard(pulley: Pulley, cables: Mapping[str, Cable]) -> Finding:
    cable = cables.get(pulley.cable or "")
    if cable is None or cable.diameter is None:
        return lacking(pulley if cable is None else cable, "cable" if cable is None else "diameter")
    if pulley.guarded is False:
        return fails(pulley.id, "it has no guard", pulley.at("guarded"))
    if pulley.guarded is None or pulley.cable_size is None:
        return lacking(pulley, "guarded" if pulley.guarded is None else "cable_size")
    same = abs(pulley.cable_size.to("in") - cable.diameter.to("in")) < 0.0011  # own-reading-precision
    message = f"guarded; made for cable of {pulley.cable_size}, and {cable.id} has {cable.diameter}"
    return (passes if same else fails)(pulley.id, message, pulley.at("cable_size"), cable.at("diameter"))


@rule(
    "controls/fairlead",
    title="Fairlead turns little",
    asks="Does no fairlead turn its cable by more than 3 degrees?",
    references=("23-689",),
    due=Stage.SYSTEMS,
    remedy="Fit a pulley there.",
)
def fairlead_turns_little(rigging: Rigging) -> Iterator[Finding]:
    """Old 23.689(c), a yardstick, and AC 43.13-1B paragraph 7-149 say the same. A fairlead that turns a cable saws it."""
    yield from none_recorded(rigging.fairleads, "fairlead", rigging)
    for fairlead in rigging.fairleads:
        if fairlead.turn is None:
            yield lacking(fairlead, "turn")
        else:
            turn = abs(fairlead.turn.to("deg"))
            yield at_most(
                fairlead.id, turn, _FAIRLEAD, "deg", f"it turns the cable by {turn:g} deg", fairlead.at("turn")
            )
