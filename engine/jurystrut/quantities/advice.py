"""What to say of a text that is no quantity of the kind wanted: what was found, what is wanted, what to write."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from jurystrut.quantities.errors import an, shown
from jurystrut.quantities.spellings import AMERICAN

if TYPE_CHECKING:
    from collections.abc import Mapping

    from jurystrut.quantities.grammar import Term

    Known = Mapping[str, Mapping[str, object]]

__all__ = ["text_advice", "unit_advice"]

_CALENDAR = "its length varies; write days or weeks"
_LEVER = "pounds before the lever are a moment of weight; a torque is written in-lb or ft-lb"
_HINTS: dict[str, dict[str, str]] = {
    "length": {
        "nm": "nanometres or nautical miles? write nmi for nautical miles",
        "NM": "write nmi for nautical miles",
        "mil": "write thousandths of an inch as decimals, for example 0.005 in",
        "AWG": "a wire size is no length here",
    },
    "time": dict.fromkeys(("month", "months", "year", "years", "mo", "yr", "a"), _CALENDAR),
    "volume": dict.fromkeys(("gallon", "gallons"), "write US gal or imp gal"),
    "torque": dict.fromkeys(("lb-in", "lb*in", "lb-ft", "lb*ft"), _LEVER),
    "moment": dict.fromkeys(("in-lb", "in*lb", "ft-lb", "ft*lb"), "a moment of weight is written lb*in"),
    "magnetic flux density": {"G": "write gauss"},
}
_NOT_KNOWN = frozenset(
    {"tbd", "tba", "tbc", "unknown", "n/a", "na", "none", "?", "-", "--", "later", "todo", "not known"}
)
_THOUSANDS = re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+(?![0-9])")
_SPACED = re.compile(r"[+-]?[0-9]{1,3}(?: [0-9]{3})+(?![0-9/])")
_BARE = re.compile(r"[+-]?[0-9./ -]*[0-9]\.?(?:[eE][+-]?[0-9]+)?")
_HUGE = re.compile(r"[+-]?[0-9.]*(?:[0-9]{16}|[0-9][eE][+-]?[0-9]{3})")
_NOT_FINITE = re.compile(r"[+-]?(?:nan|inf|infinity)(?![a-z])", re.IGNORECASE)


def text_advice(words: str, dimension: str, example: str, terms: tuple[Term, ...], known: Known) -> str:
    """The whole message for a text that could not be read; `terms` are the numbers with units found in it, if any."""
    wanted = f"{an(dimension)} is wanted, for example {example}"
    found = f"found {shown(words)}"
    reason = _of_the_number(words)
    if reason:
        return f"{found}; {reason}; {wanted}"
    strange = next((term for term in terms if term.unit not in known[dimension]), None)
    if strange:
        return f"{found}; {unit_advice(strange.unit, dimension, example, known, strange.number)}"
    if len(terms) > 1:
        return f"{found}; parts such as 5 ft 2 in are read for lengths, masses, durations and angles only; {wanted}"
    if words.lower() in _NOT_KNOWN:
        return f"{found}; leave the field out as long as it is not known; {wanted}"
    if any(sign.isdigit() for sign in words):
        return f"{found}; write the number and its unit alone; {wanted}"
    return f"{found}; {wanted}"


def unit_advice(unit: str, dimension: str, example: str, known: Known, number: str = "") -> str:
    """Why a unit cannot stand here, and the nearest one that can."""
    wanted = f"{an(dimension)} is wanted, for example {example}"
    if unit in AMERICAN and unit in known[dimension]:
        return f"{shown(unit)} is American only where the aircraft's authority is US; {_gallons(unit)}"
    hint = _HINTS.get(dimension, {}).get(unit)
    if hint:
        return f"the unit {shown(unit)}: {hint}; {wanted}"
    for other, units in known.items():
        if unit in units:
            return f"{f'{number} {unit}'.strip()} is {an(other)}; {wanted}"
    return f"{_unknown(unit, known[dimension])}; {wanted}"


def _of_the_number(words: str) -> str:
    if "," in words:
        return _of_the_comma(words)
    if _NOT_FINITE.match(words):
        return "that is no finite number"
    if _SPACED.match(words):
        return "there is a space inside the number; write its digits together"
    if _HUGE.match(words):
        return "the number has more digits than anything can be measured to"
    if _BARE.fullmatch(words):
        return "the unit is missing"
    if "_" in words.partition(" ")[0]:
        return "there is an underscore inside the number; write its digits together"
    if words.endswith("."):
        return "leave out the full stop behind the unit"
    if ".." in words or "±" in words or "+/-" in words:
        return "a single value is read here, no range and no tolerance"
    return ""


def _of_the_comma(words: str) -> str:
    point = words.replace(",", ".", 1)
    if _THOUSANDS.search(words):
        return f"a comma is not read; write {words.replace(',', '')} for thousands or {point} for a decimal"
    return f"a comma is not read; write {point} for a decimal" if words.count(",") == 1 else "a comma is not read"


def _gallons(unit: str) -> str:
    if unit in {"qt", "pt"}:
        return f"write US {unit}"
    plain = unit.replace("gph", "gal/h")
    return f"write {plain.replace('gal', 'US gal')} or {plain.replace('gal', 'imp gal')}"


def _unknown(unit: str, units: Mapping[str, object]) -> str:
    from difflib import get_close_matches

    first, _, rest = unit.partition(" ")
    if rest and first in units and rest[0].isdigit():
        return "parts before the last are whole numbers, as in 5 ft 2-1/2 in"
    if rest and first in units:
        return f"{shown(rest)} after the unit is not read; write it in a note"
    folded = {spelling.lower(): spelling for spelling in reversed(list(units)) if spelling not in AMERICAN}
    near = get_close_matches(unit.lower()[:20], folded, n=1, cutoff=0.4)
    guess = f"did you mean {folded[near[0]]}?" if near else f"known here: {', '.join(list(units)[:8])}"
    return f"unknown unit {shown(unit)}, {guess}"
