"""Does the propeller keep clear of ground, water and aeroplane?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    fails,
    not_applicable,
    passes,
    rule,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.aircraft import Aircraft, Propeller

__all__ = [
    "clear_of_flat_tyre_ground",
    "clear_of_ground",
    "clear_of_structure",
    "clear_of_water",
    "clearance_leaves_room_for_diameter",
]

_GROUND = {"nosewheel": 7.0, "tailwheel": 9.0}  # 23-925: inches
_WATER = 18.0  # 23-925: inches
_TIPS, _AXIAL = 1.0, 0.5  # 23-925: inches
_MEASURED_TO = 0.25  # own-propeller-geometry: inches; what a tape, held upright beside a blade, tells apart


def _propeller(aircraft: Aircraft) -> Propeller:
    if aircraft.propeller is None:
        raise MissingRecord("the propeller is not recorded", aircraft.at())
    return aircraft.propeller


def _clear(propeller: Propeller, field: str, least: float, what: str) -> Finding:
    clearance: Length | None = getattr(propeller, field)
    if clearance is None:
        raise MissingRecord(f"the propeller's {field.replace('_', ' ')} is not recorded", propeller.at())
    have = clearance.to("in")
    return at_least("propeller", have, least, "in", f"{have:g} in to {what}", propeller.at(field))


@rule(
    "propeller/ground-clearance",
    title="Propeller and ground",
    asks="Does the propeller clear the ground by 7 in with a nosewheel, or 9 in with a tailwheel?",
    references=("23-925",),
    due=Stage.SYSTEMS,
    remedy="Fit larger wheels or a smaller propeller.",
)
def clear_of_ground(aircraft: Aircraft) -> Iterator[Finding]:
    """Old 23.925(a), a yardstick: with the gear deflected as it stands, level or as in take-off, whichever is worse, and
    the worst loading. Less is allowed where it is substantiated; record that as a deviation.
    """
    propeller = _propeller(aircraft)
    if aircraft.gear is None:
        raise MissingRecord("the landing gear, 'gear', is not recorded", aircraft.at())
    if aircraft.gear not in _GROUND:
        yield not_applicable("propeller", f"on {aircraft.gear}", aircraft.at("gear"))
        return
    yield _clear(propeller, "ground_clearance", _GROUND[aircraft.gear], f"the ground, on a {aircraft.gear} gear")


@rule(
    "propeller/diameter-fits",
    title="Propeller's diameter and its clearance",
    asks="Does the height of the propeller's axis, less half its diameter, leave the ground clearance that is recorded?",
    references=("own-propeller-geometry",),
    due=Stage.SYSTEMS,
    remedy="Measure the clearance again, with this propeller on and these wheels.",
    at_worst=Verdict.WARN,
)
def clearance_leaves_room_for_diameter(aircraft: Aircraft) -> Iterator[Finding]:
    """A clearance stays on record when the propeller is changed for a longer one, or the gear for a lower one; the geometry
    tells. A blade that hangs down reaches half the diameter below the axis; a tilted axis lifts its tip a little, which is
    left out. A clearance recorded smaller than that errs to the safe side, and a quarter of an inch is the tape's.
    """
    propeller = _propeller(aircraft)
    if aircraft.gear is not None and aircraft.gear not in _GROUND:
        yield not_applicable("propeller", f"on {aircraft.gear}", aircraft.at("gear"))
        return
    recorded = {name: getattr(propeller, name) for name in ("axis_height", "diameter", "ground_clearance")}
    missing = next((name for name, length in recorded.items() if length is None), None)
    if missing:
        raise MissingRecord(f"the propeller's {missing.replace('_', ' ')} is not recorded", propeller.at())
    height, diameter, clearance = (length.to("in") for length in recorded.values())
    left = height - diameter / 2
    yield at_most(
        "propeller",
        clearance,
        left + _MEASURED_TO,
        "in",
        f"{clearance:g} in to the ground on record; an axis at {height:g} in, {diameter:g} in of diameter, leave {left:g} in",
        propeller.at("ground_clearance"),
        propeller.at("diameter"),
        propeller.at("axis_height"),
        working=lambda: [
            f"{height:g} in - {diameter:g} in / 2 = {left:g} in",
            f"{left:g} in + {_MEASURED_TO:g} in for the tape = {left + _MEASURED_TO:g} in at most",
        ],
    )


@rule(
    "propeller/flat-tyre",
    title="Propeller and a flat tyre",
    asks="Does the propeller still clear the ground with the worst tyre flat and its strut down?",
    references=("23-925",),
    due=Stage.SYSTEMS,
    remedy="Fit larger wheels or a smaller propeller.",
)
def clear_of_flat_tyre_ground(aircraft: Aircraft) -> Iterator[Finding]:
    """Old 23.925(a), a yardstick: anything above nothing will do. For a leaf spring the deflection at 1.5 g counts."""
    propeller = _propeller(aircraft)
    if aircraft.gear in {"floats", "skis"}:
        yield not_applicable("propeller", f"on {aircraft.gear}", aircraft.at("gear"))
        return
    if propeller.flat_tyre_clearance is None:
        raise MissingRecord("the propeller's flat tyre clearance is not recorded", propeller.at())
    have = propeller.flat_tyre_clearance.to("in")
    say = passes if have > 0 else fails
    yield say("propeller", f"{have:g} in to the ground with a flat tyre", propeller.at("flat_tyre_clearance"))


@rule(
    "propeller/water-clearance",
    title="Propeller and water",
    asks="Does the propeller clear the water by 18 in?",
    references=("23-925",),
    due=Stage.SYSTEMS,
    remedy="Raise the engine, or fit larger floats or a smaller propeller.",
)
def clear_of_water(aircraft: Aircraft) -> Iterator[Finding]:
    """Old 23.925(b), a yardstick; less where the spray is shown to be harmless, which is a deviation with a good reason."""
    propeller = _propeller(aircraft)
    if aircraft.gear != "floats":
        yield not_applicable("propeller", "no floats are recorded", aircraft.at("gear"))
    else:
        yield _clear(propeller, "water_clearance", _WATER, "the water")


@rule(
    "propeller/structure-clearance",
    title="Propeller and aeroplane",
    asks="Does the propeller clear the aeroplane by 1 in beyond its tips and 1/2 in along its axis?",
    references=("23-925",),
    due=Stage.SYSTEMS,
    remedy="Fit a spacer or a smaller propeller, or cut back the cowl.",
)
def clear_of_structure(aircraft: Aircraft) -> Iterator[Finding]:
    """Old 23.925(c), a yardstick. What vibration needs comes on top of it."""
    propeller = _propeller(aircraft)
    yield _clear(propeller, "tip_clearance", _TIPS, "structure beyond the tips")
    yield _clear(propeller, "axial_clearance", _AXIAL, "fixed parts along the axis")
