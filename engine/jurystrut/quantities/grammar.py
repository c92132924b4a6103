"""How a number and its unit are written: decimals, fractions, compounds, ranges and tolerances, and nothing else.

The text never reaches pint's parser, which evaluates expressions and reads `5 ft 3 in` as 15 square feet-inches.
Every pattern is anchored, ASCII, and without nested repetition.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from jurystrut.quantities.errors import QuantityError, shown

__all__ = ["Spread", "Term", "checked", "compound", "magnitude", "range_parts", "single", "tolerance_parts"]

_LONGEST = 64
_DECIMAL = r"(?:[0-9]{1,15}(?:\.[0-9]{1,15})?|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?"
_FRACTION = r"(?:[0-9]{1,6}[- ])?[0-9]{1,4}/[0-9]{1,4}"
_NUMBER = rf"(?:{_FRACTION}|{_DECIMAL})"
_UNIT = r"(?:1?/|per )?[A-Za-z%°µΩ][A-Za-z0-9%°*/_ -]*"
_WORD = r"[A-Za-z]+"
_SINGLE = re.compile(rf"([+-]?)({_NUMBER}) ?({_UNIT})")
_COMPOUND = re.compile(rf"([+-]?)({_NUMBER}) ?({_WORD}) ({_NUMBER}) ?({_WORD})(?: ({_NUMBER}) ?({_WORD}))?")
_RANGE = re.compile(rf"([+-]?{_NUMBER}) ?\.\. ?([+-]?{_NUMBER}) ?({_UNIT})")
_TOLERANCE = re.compile(rf"([+-]?{_NUMBER}) ?(?:±|\+/-) ?({_NUMBER}) ?({_UNIT})")
_UNEVEN = re.compile(rf"([+-]?{_NUMBER}) ?\+({_NUMBER}) ?/ ?-({_NUMBER}) ?({_UNIT})")
_SMALLEST, _GREATEST = 1e-12, 1e12


class Term(NamedTuple):
    """A number and the unit written behind it."""

    value: float
    unit: str


class Spread(NamedTuple):
    """A nominal number, how far it may be exceeded, how far it may fall short, and the unit of all three."""

    nominal: float
    plus: float
    minus: float
    unit: str


def checked(value: object, wanted: str) -> str:
    """The text with single spaces, or QuantityError for what can be no quantity of any kind."""
    if not isinstance(value, str) or not value.strip():
        raise QuantityError(f"found {shown(value)}; wanted {wanted}")
    if len(value) > _LONGEST:
        raise QuantityError(f"found {len(value)} characters; wanted {wanted}, at most {_LONGEST} characters")
    for sign, name in (("−", "a typographic minus"), ("–", "a dash"), ("—", "a dash")):
        if sign in value:
            raise QuantityError(f"found {shown(value)}, which holds {name}; write a plain hyphen for minus")
    if not value.isprintable():
        raise QuantityError(f"found {shown(value)}, which holds a control character; wanted {wanted}")
    return " ".join(value.split())


def single(text: str) -> Term | None:
    """One number with one unit, or None."""
    match = _SINGLE.fullmatch(text)
    return Term(_signed(match[1], match[2]), match[3]) if match else None


def compound(text: str) -> tuple[str, tuple[Term, ...]] | None:
    """A sign, and two or three numbers each with its unit, as in `5 ft 2 in`; or None."""
    match = _COMPOUND.fullmatch(text)
    if not match:
        return None
    pairs = [pair for pair in (match.group(2, 3), match.group(4, 5), match.group(6, 7)) if pair[0]]
    return match[1], tuple(Term(magnitude(number), unit) for number, unit in pairs)


def range_parts(text: str) -> tuple[Term, Term] | None:
    """Low and high of `50..95 degF`, or None."""
    match = _RANGE.fullmatch(text)
    return (Term(_number(match[1]), match[3]), Term(_number(match[2]), match[3])) if match else None


def tolerance_parts(text: str) -> Spread | None:
    """The parts of `21 ± 1 deg`, `21 +/- 1 deg` or `21 +1/-2 deg`, or None."""
    match = _TOLERANCE.fullmatch(text)
    if match:
        spread = magnitude(match[2])
        return Spread(_number(match[1]), spread, spread, match[3])
    match = _UNEVEN.fullmatch(text)
    return Spread(_number(match[1]), magnitude(match[2]), magnitude(match[3]), match[4]) if match else None


def magnitude(text: str) -> float:
    """A number without sign: `0.063`, `7/16`, `3-1/8` or `3 1/8`; QuantityError where it is out of all bounds."""
    whole, _, fraction = text.replace("-", " ").rpartition(" ") if "/" in text else ("", "", "")
    if fraction:
        over, _, under = fraction.partition("/")
        if int(under) == 0 or (whole and int(over) >= int(under)):
            raise QuantityError(f"found the fraction {shown(text)}; wanted one such as 3-1/8")
        return int(whole or 0) + int(over) / int(under)
    value = float(text)
    if value and not _SMALLEST <= value <= _GREATEST:
        raise QuantityError(f"found {shown(text)}; a number in a record lies between {_SMALLEST:g} and {_GREATEST:g}")
    return value


def _number(text: str) -> float:
    sign = text[0] if text[0] in "+-" else ""
    return _signed(sign, text[len(sign) :])


def _signed(sign: str, text: str) -> float:
    value = magnitude(text)
    return -value if sign == "-" else value
