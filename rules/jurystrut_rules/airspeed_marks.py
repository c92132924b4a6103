"""Do the marks on the airspeed indicator agree with the aircraft's limits?"""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.quantities import QuantityError, Speed
from jurystrut.rulebook import Finding, MissingRecord, Spot, Stage, at_most, fails, no_data, not_applicable, rule

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft, Limits
    from jurystrut.records.markings import InstrumentMark, Markings

__all__ = ["airspeed_is_marked"]


class _Wanted(NamedTuple):
    """A mark that the airspeed indicator should carry: where it runs, by the names of the limits."""

    kind: str
    colour: str
    low: str | None
    high: str


_MARKS = (
    _Wanted("arc", "white", "stall_speed_flaps", "flaps_speed"),
    _Wanted("arc", "green", "stall_speed", "cruise_speed"),
    _Wanted("arc", "yellow", "cruise_speed", "never_exceed_speed"),
    _Wanted("line", "red", None, "never_exceed_speed"),
)
_LETTERS = {
    "stall_speed_flaps": "VS0",
    "stall_speed": "VS1",
    "flaps_speed": "VFE",
    "cruise_speed": "VNO",
    "never_exceed_speed": "VNE",
}
_READABLE_KT = 0.5  # own-reading-precision
"""How far a mark may be from its limit: half a knot, less than can be read; our own choice."""


@rule(
    "markings/airspeed-marks",
    title="Airspeed marks agree with the limits",
    asks="Do the arcs and lines on the airspeed indicator stand where the aircraft's limits put them?",
    references=("23-1545", "8130-2-marked-instruments", "own-reading-precision"),
    due=Stage.SYSTEMS,
    remedy="Make the mark and the limit the same.",
)
def airspeed_is_marked(aircraft: Aircraft, markings: Markings) -> Iterator[Finding]:
    """Old 23.1545, a yardstick: white from VS0 to VFE, green from VS1 to VNO, yellow from VNO to VNE, a red line at VNE. The
    operating limitations want instruments marked. An aircraft recorded as one without flaps, with no speed for them and no
    white arc, is not asked for one. Calibrated and indicated speed are not told apart here.
    """
    limits = aircraft.limits
    marks = _airspeed_marks(markings)
    if limits is None:
        raise MissingRecord("the aircraft's limits are not recorded", aircraft.at())
    if not marks:
        raise MissingRecord("no mark with a speed is recorded", markings.at("instrument_marks"))
    for wanted in _MARKS:
        if wanted.colour == "white" and _flapless(aircraft, limits) and ("arc", "white") not in marks:
            yield not_applicable("white-arc", "this aircraft is recorded as one without flaps", aircraft.at("flaps"))
            continue
        yield from _marked(wanted, limits, marks, markings)


def _flapless(aircraft: Aircraft, limits: Limits) -> bool:
    return aircraft.flaps is False and limits.flaps_speed is None and limits.stall_speed_flaps is None


def _airspeed_marks(markings: Markings) -> dict[tuple[str, str], InstrumentMark]:
    return {(m.kind, m.colour): m for m in markings.instrument_marks if _speed(m.low) or _speed(m.high)}


def _speed(text: str | None) -> Speed | None:
    try:
        return Speed.parse(text) if text else None
    except QuantityError:
        return None


def _marked(
    wanted: _Wanted, limits: Limits, marks: dict[tuple[str, str], InstrumentMark], markings: Markings
) -> Iterator[Finding]:
    name = f"{wanted.colour}-{wanted.kind}"
    mark = marks.get((wanted.kind, wanted.colour))
    for end, limit_name in (("low", wanted.low), ("high", wanted.high)):
        if limit_name is None:
            continue
        limit = getattr(limits, limit_name)
        if limit is None:
            yield no_data(name, f"aircraft.limits.{limit_name} is not recorded", limits.at(), remedy="Record it.")
        elif mark is None:
            message = f"the airspeed indicator has no {wanted.colour} {wanted.kind}"
            yield fails(name, message, markings.at("instrument_marks"), limits.at(limit_name), remedy="Add it.")
            return
        else:
            yield _at_limit(mark, end, limit, _LETTERS[limit_name], limits.at(limit_name))


def _at_limit(mark: InstrumentMark, end: str, limit: Speed, letters: str, where: Spot) -> Finding:
    what = f"the {end} end of this {mark.colour} arc" if mark.kind == "arc" else f"this {mark.colour} {mark.kind}"
    speed = _speed(getattr(mark, end))
    if speed is None:
        message = f"where {what} stands is not recorded as a speed"
        return no_data(mark.id, message, mark.at(end), remedy=f"Record '{end}'.")
    off = abs(speed.to("kt") - limit.to("kt"))
    message = f"{what} stands at {speed}; {letters} is {limit}"
    remedy = f"Move it to {limit}, or correct the limit."
    return at_most(mark.id, off, _READABLE_KT, "kt", message, mark.at(end), where, remedy=remedy)
