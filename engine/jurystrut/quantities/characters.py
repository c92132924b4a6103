"""Characters that look right on a screen and would be misread: each is named, with what to type in its place."""

from __future__ import annotations

__all__ = ["odd_character"]

_WELCOME = frozenset("°Ω\u2126±")
"""The only ones beyond ASCII that a quantity may hold; U+2126 is the ohm sign, beside the Greek capital."""

_MINUS = frozenset("\u2010\u2011\u2012\u2013\u2014\u2015\u2212\ufe58\ufe63\uff0d")
_PRIMES = frozenset("'\"`\u00b4\u2018\u2019\u201c\u201d\u2032\u2033")
_MICRO = frozenset("\u00b5\u03bc")


def odd_character(text: str) -> str | None:
    """What is wrong with the first character that no quantity holds, and what to write instead; or None."""
    if not text.isprintable():
        return "which holds a control or invisible character; retype it by hand"
    if text.isascii() and "'" not in text and '"' not in text and "`" not in text:
        return None
    return next((complaint for complaint in map(_complaint, text) if complaint), None)


def _complaint(character: str) -> str | None:
    if character in _PRIMES:
        return "which marks feet or inches with primes; write 5 ft 3 in"
    if character.isascii() or character in _WELCOME:
        return None
    if character in _MINUS:
        return "which holds a typographic minus or dash; write a plain hyphen for minus, two dots for a range"
    if character in _MICRO:
        return "which holds a Greek mu; write u, for example uA"
    if character.isdecimal():
        return "which holds digits of another script; write 0 to 9"
    if character.isdigit():
        return "which holds a raised or ringed digit; write ft2, in3"
    if character.isnumeric():
        return "which holds a fraction in one character; write 3-1/2"
    return f"which holds {character!r}; write plain letters and digits"
