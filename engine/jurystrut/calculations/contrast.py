"""How plainly one colour stands out from another, by their luminances."""

from __future__ import annotations

__all__ = ["contrast", "luminance"]


def luminance(srgb: str) -> float:
    """The relative luminance of a colour, 0 for black to 1 for white.

    Six hexadecimal digits, two each for red, green and blue of the space sRGB (IEC 61966-2-1); weights of the primaries as in
    the guidelines for web content 2.1. Raises ValueError for other text.
    """
    if len(srgb) != 6:  # arithmetic
        raise ValueError(f"found {srgb!r}; wanted six hexadecimal digits")
    red, green, blue = (_linear(int(srgb[place : place + 2], 16) / 255) for place in (0, 2, 4))  # arithmetic
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue  # wcag-contrast


def _linear(share: float) -> float:
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4  # iec-61966-2-1


def contrast(one: str, other: str) -> float:
    """The ratio of two colours' luminances with the glare of a lit room on both, 1 to 21 (same guidelines)."""
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)  # wcag-contrast
