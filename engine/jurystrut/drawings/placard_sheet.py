"""Placards at their true size on sheets to print, as SVG in millimetres; a sheet fits A4 and Letter paper."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from jurystrut.drawings.svg import escaped

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

__all__ = ["SHEET_HEIGHT_MM", "SHEET_WIDTH_MM", "Words", "fits", "placard_sheets"]

SHEET_WIDTH_MM, SHEET_HEIGHT_MM = 190.0, 255.0
"""Letter leaves 195.9 by 259.4 mm inside margins of 10 mm, A4 190 by 277 mm."""

_CAPITALS_OVER_FONT = (
    0.72  # height of capitals over font size, of usual sans serif fonts; a print is measured to be sure
)
_ADVANCE = 0.66  # width of a capital over font size; letters are set to exactly that width
_LINE = 1.35  # from line to line over font size
_MARGIN_MM, _NOTE_MM, _GAP_MM, _RULER_MM, _INCH_MM = 3.0, 4.0, 5.0, 14.0, 25.4


@dataclass(frozen=True, slots=True)
class Words:
    """One placard: its words, the height of its capitals in millimetres, what stands below it on the sheet."""

    text: str
    capitals_mm: float
    note: str
    red: bool = False


@dataclass(frozen=True, slots=True)
class _Box:
    lines: tuple[str, ...]
    font_mm: float
    width: float
    height: float
    words: Words


def placard_sheets(title: str, placards: Iterable[Words]) -> list[str]:
    """The sheets, one SVG document each, with a ruler to check the scale of the print.

    Raises ValueError where a placard does not fit on a sheet.
    """
    pages: list[list[tuple[float, _Box]]] = [[]]
    top = _RULER_MM
    for box in map(_box, placards):
        if top + box.height + _NOTE_MM > SHEET_HEIGHT_MM and pages[-1]:
            pages.append([])
            top = _RULER_MM
        pages[-1].append((top, box))
        top += box.height + _NOTE_MM + _GAP_MM
    return [_sheet(title, number, len(pages), page) for number, page in enumerate(pages, 1)]


def fits(words: Words) -> bool:
    """Whether a placard fits on a sheet at its true size."""
    try:
        return _box(words).height <= SHEET_HEIGHT_MM - _RULER_MM - _NOTE_MM
    except ValueError:
        return False


def _box(words: Words) -> _Box:
    font = words.capitals_mm / _CAPITALS_OVER_FONT
    room = int((SHEET_WIDTH_MM - 2 * _MARGIN_MM) / (font * _ADVANCE))
    lines = tuple(_broken(words.text, room))
    if max(map(len, lines)) > room:
        raise ValueError(f"'{words.text}' does not fit on a sheet with letters of {words.capitals_mm:g} mm")
    width = max(map(len, lines)) * font * _ADVANCE + 2 * _MARGIN_MM
    return _Box(lines, font, width, len(lines) * font * _LINE + 2 * _MARGIN_MM, words)


def _broken(text: str, room: int) -> Iterator[str]:
    """Lines of at most so many characters, broken between words."""
    parts = text.split()
    starts = [0]
    for index in range(1, len(parts)):
        if len(" ".join(parts[starts[-1] : index + 1])) > room:
            starts.append(index)
    for start, end in pairwise([*starts, len(parts)]):
        yield " ".join(parts[start:end])


def _sheet(title: str, number: int, count: int, page: Sequence[tuple[float, _Box]]) -> str:
    shapes = [_ruler(f"{title}, sheet {number} of {count}")]
    shapes += [_drawn(top, box) for top, box in page]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{SHEET_WIDTH_MM:g}mm" height="{SHEET_HEIGHT_MM:g}mm" '
        f'viewBox="0 0 {SHEET_WIDTH_MM:g} {SHEET_HEIGHT_MM:g}" font-family="Arial, Helvetica, sans-serif">\n'
        f"<title>{escaped(title)}</title>\n" + "\n".join(shapes) + "\n</svg>\n"
    )


def _ruler(words: str) -> str:
    x, y = 2.0, 4.0
    end = x + 2 * _INCH_MM
    return (
        f'<path d="M{x:g} {y:g}v-2v4v-2H{x + _INCH_MM:g}v-2v4v-2H{end:g}v-2v4" fill="none" stroke="#000" '
        f'stroke-width="0.2"/>\n<text x="{end + 3:g}" y="{y + 1:g}" font-size="3">2 in when printed at full size; '
        f"{escaped(words)}</text>"
    )


def _drawn(top: float, box: _Box) -> str:
    colour = "#b00000" if box.words.red else "#000"
    size = f'width="{box.width - 0.6:.2f}" height="{box.height:.2f}"'
    shapes = [f'<rect x="0.3" y="{top:.2f}" {size} fill="#fff" stroke="{colour}" stroke-width="0.6"/>']
    for index, line in enumerate(box.lines):
        base = (
            top + _MARGIN_MM + (index * _LINE + _CAPITALS_OVER_FONT + (_LINE - _CAPITALS_OVER_FONT) / 2) * box.font_mm
        )
        length = len(line) * box.font_mm * _ADVANCE
        shapes.append(
            f'<text x="{box.width / 2:.2f}" y="{base:.2f}" font-size="{box.font_mm:.3f}" fill="{colour}" '
            f'text-anchor="middle" textLength="{length:.2f}" lengthAdjust="spacingAndGlyphs">{escaped(line)}</text>'
        )
    shapes.append(f'<text x="0.3" y="{top + box.height + 3.2:.2f}" font-size="2.5">{escaped(box.words.note)}</text>')
    return "\n".join(shapes)
