"""How a number and its unit are written: decimals, fractions, compounds, ranges and tolerances, and nothing else.

The text never reaches pint's parser, which evaluates expressions and reads `5 ft 3 in` as 15 square feet-inches.
Every pattern is anchored, ASCII but for four signs, and without nested repetition.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from jurystrut.quantities.characters import odd_character
from jurystrut.quantities.errors import QuantityError, shown

__all__ = [
    "NUMBER",
    "SIGNED",
    "WHOLE",
    "Spread",
    "Term",
    "checked",
    "compound",
    "range_parts",
    "ratio",
    "single",
    "tolerance_parts",
]

_LONGEST = 64
_SMALLEST, _GREATEST = 1e-12, 1e12

_DECIMAL = r"(?:[0-9]{1,15}(?:\.[0-9]{1,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?"
_FRACTION = r"(?:[0-9]{1,6}[- ])?[0-9]{1,4}/[0-9]{1,4}"
NUMBER = rf"(?:{_FRACTION}|{_DECIMAL})"
SIGNED = rf"[+-]?{NUMBER}"
_UNIT = r"(?:1?/)?[A-Za-z%°Ω\u2126][A-Za-z0-9%°Ω\u2126*/_ -]*"
_WORD = r"[A-Za-z]{1,12}"
WHOLE = r"[0-9]{1,6}"

_SINGLE = re.compile(rf"({SIGNED}) ?({_UNIT})")
# The rarer ways are compiled where the first of them is met.
# All but the last part are whole numbers: 5.5 ft 3 in is likelier a slip than 69 in.
_COMPOUND = rf"([+-]?)({WHOLE}) ?({_WORD}) (?:({WHOLE}) ?({_WORD}) )?({NUMBER}) ?({_WORD})"
# Three dots are refused: 0...95 would read as 0 to 0.95.
_RANGE = rf"({SIGNED}) ?\.\.(?!\.) ?({SIGNED}) ?({_UNIT})"
_EVEN = rf"({SIGNED}) ?(?:±|\+/-) ?({NUMBER}) ?({_UNIT})"
_UNEVEN = rf"({SIGNED}) ?\+({NUMBER}) ?/ ?-({NUMBER}) ?({_UNIT})"


class Term(NamedTuple):
    """A number, exact as over/under, and the unit written behind it; `number` is the number as written."""

    over: int
    under: int
    unit: str
    number: str


class Spread(NamedTuple):
    """A nominal term, how far it may be exceeded and how far it may fall short, all in one unit."""

    nominal: Term
    plus: Term
    minus: Term


def checked(value: object, wanted: str) -> str:
    """The text with single spaces, or QuantityError for what can be no quantity of any kind."""
    if not isinstance(value, str):
        raise QuantityError(f"found {shown(value)}; wanted {wanted}")
    if len(value) > _LONGEST:
        raise QuantityError(f"found {len(value)} characters; wanted {wanted}, in at most {_LONGEST} characters")
    if not value.strip(" "):
        raise QuantityError(f"found {shown(value)}, which is empty; wanted {wanted}")
    complaint = odd_character(value)
    if complaint:
        raise QuantityError(f"found {shown(value)}, {complaint}; wanted {wanted}")
    return " ".join(value.split())


def single(text: str) -> Term | None:
    """One number with one unit, or None."""
    match = _SINGLE.fullmatch(text)
    return _term(match[1], match[2]) if match else None


def compound(text: str) -> tuple[str, tuple[Term, ...]] | None:
    """A sign, and two or three numbers each with its unit, as in `5 ft 2-1/2 in`; or None."""
    match = re.fullmatch(_COMPOUND, text)
    if not match:
        return None
    pairs = (match.group(2, 3), match.group(4, 5), match.group(6, 7))
    return match[1], tuple(_term(number, unit) for number, unit in pairs if number)


def range_parts(text: str) -> tuple[Term, Term] | None:
    """Low and high of `50..95 degF`, or None."""
    match = re.fullmatch(_RANGE, text)
    return (_term(match[1], match[3]), _term(match[2], match[3])) if match else None


def tolerance_parts(text: str) -> Spread | None:
    """The parts of `21 ± 1 deg`, `21 +/- 1 deg` or `21 +1/-2 deg`, or None."""
    match = re.fullmatch(_EVEN, text)
    if match:
        spread = _term(match[2], match[3])
        return Spread(_term(match[1], match[3]), spread, spread)
    match = re.fullmatch(_UNEVEN, text)
    return Spread(*(_term(match[part], match[4]) for part in (1, 2, 3))) if match else None


def ratio(digits: str) -> tuple[int, int]:
    """A decimal such as `-0.063` or `1.2e-3` as an exact ratio.

    QuantityError where it is not finite or beyond what any record can mean; zero is fine.
    """
    value = float(digits)
    if value and not _SMALLEST <= abs(value) <= _GREATEST:
        raise QuantityError(
            f"found {shown(digits)}; a number here is zero or between {_SMALLEST:g} and {_GREATEST:g}, such as 0.063"
        )
    mantissa, _, exponent = digits.lower().partition("e")
    whole, _, places = mantissa.partition(".")
    power = int(exponent or 0) - len(places) if value else 0
    over = int(whole + places) if value else 0
    return (over * 10**power, 1) if power >= 0 else (over, 10**-power)


def _term(number: str, unit: str) -> Term:
    digits = number.lstrip("+-")
    over, under = _magnitude(digits)
    return Term(-over if number[0] == "-" else over, under, unit, number)


def _magnitude(digits: str) -> tuple[int, int]:
    """A number without sign: `0.063`, `7/16`, `3-1/8` or `3 1/8`."""
    if "/" not in digits:
        return ratio(digits)
    whole, _, fraction = digits.replace("-", " ").rpartition(" ")
    over, under = map(int, fraction.split("/"))
    if under == 0 or (whole and over >= under):
        raise QuantityError(f"found the fraction {shown(digits)}; write a fraction below one, for example 3-1/8")
    return int(whole or 0) * under + over, under
