"""The panel from both sides as one SVG, full size: what is cut, what lies on it, what is behind, and where findings are.

Black and white only, so that it reads the same on any printer: cut lines solid, bezels thin, bodies dashed, zones that must stay
free hatched, and each finding a number in a ring with its words below.
"""

from __future__ import annotations

from collections import Counter
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.drawings.svg import escaped
from jurystrut.panel_drawing.contours import Contour, corners_around, recorded_contours

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from jurystrut.records.panel import Bezel, Body, Item, Panel

__all__ = ["Note", "write_views"]

_MARGIN, _WORDS, _ROW = 0.6, 0.16, 0.24
"""Inches around each view, the height of words, and from row to row."""

_SMALL = 0.7 * _WORDS
"""The height of the words that name items on the back."""
_LETTER = 0.62
"""Of the font's size, the width of a letter, rather too much than too little."""
_BACK = (
    "Back, mirrored: bodies dashed where they are not as their hole; items with their depth; zones to stay free hatched"
)

_HATCH = (
    '<defs><pattern id="hatch" width="0.15" height="0.15" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">'
    '<path d="M0 0V0.15" stroke="#000" stroke-width="0.015"/></pattern></defs>'
)


class Note(NamedTuple):
    """A finding to be marked: the record that it is about, and its words."""

    subject: str
    words: str


class _View:
    """One side of the panel on the paper; the back is seen mirrored."""

    def __init__(self, outline: Contour, top: float, *, back: bool) -> None:
        self.left, self.bottom, self.right, self.upper = outline.box()
        self.top, self.back = top, back

    def at(self, x: float, y: float) -> tuple[float, float]:
        """A place of the panel on the paper."""
        across = self.right - x if self.back else x - self.left
        return _MARGIN + across, self.top + self.upper - y

    def drawn(self, contour: Contour, look: str) -> str:
        """A contour as it is seen from this side."""
        if contour.circle:
            x, y = self.at(*contour.circle[:2])
            return f'<circle cx="{x:.5f}" cy="{y:.5f}" r="{contour.circle[2]:.5f}" {look}/>'
        points = " ".join(f"{a:.5f},{b:.5f}" for a, b in (self.at(x, y) for x, y in contour.border()))
        return f'<polygon points="{points}" {look}/>'

    def ground(self, x: float, y: float, words: str) -> str:
        """White paper for words about a place."""
        a, b = self.at(x, y)
        wide = _wide(words, _WORDS)
        place = f'x="{a - wide / 2:.4f}" y="{b - 0.7 * _WORDS:.4f}" width="{wide:.4f}" height="{1.4 * _WORDS:.4f}"'
        return f'<rect {place} fill="#fff"/>'

    def words(self, x: float, y: float, words: str, size: float = _WORDS) -> str:
        """Words about a place."""
        a, b = self.at(x, y)
        return _text(a, b + size / 3, words, size, "middle")


def _text(x: float, y: float, words: str, size: float, anchor: str = "start") -> str:
    place = f'x="{x:.4f}" y="{y:.4f}" font-size="{size:.4f}" text-anchor="{anchor}"'
    return f'<text {place} font-family="sans-serif">{escaped(words)}</text>'


def write_views(panel: Panel, notes: Sequence[Note] = (), sheet: str | None = None) -> str:
    """Front view, back view, and the findings by their numbers; the groups `cut-front` and `cut-back` hold the cut lines alone.

    Raises UsageError where something cannot be drawn.
    """
    contours = recorded_contours(panel, sheet)
    left, bottom, right, top = contours[0].box()
    width, height = right - left + 2 * _MARGIN, top - bottom + 2 * _MARGIN
    front, back = _View(contours[0], _MARGIN, back=False), _View(contours[0], height + _MARGIN, back=True)
    places = _places(panel, sheet)
    shown = [note for note in notes if note.subject in places]
    parts = [
        *_cut(contours, front, "cut-front"),
        *_front(panel, front, sheet),
        *_cut(contours, back, "cut-back"),
        *_back(panel, back, contours, sheet),
        *_marks(front, places, shown),
        *_marks(back, places, shown),
        _text(_MARGIN, _MARGIN / 2, "Front, as seen from the seats; full size", _WORDS),
        _text(_MARGIN, height + _MARGIN / 2, _BACK, _WORDS),
    ]
    rows = [f"{n}  {note.subject}: {note.words}" for n, note in enumerate(shown, start=1)]
    parts += [_text(_MARGIN, 2 * height + _ROW * place, row, _WORDS) for place, row in enumerate(rows, start=1)]
    whole = 2 * height + _ROW * (len(rows) + 1)
    size = f'width="{width:.4f}in" height="{whole:.4f}in" viewBox="0 0 {width:.4f} {whole:.4f}"'
    inside = "\n".join(parts)
    return f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img">\n<title>Panel</title>\n{_HATCH}\n{inside}\n</svg>\n'


def _cut(contours: Iterable[Contour], view: _View, name: str) -> Iterator[str]:
    yield f'<g id="{name}" fill="none" stroke="#000" stroke-width="0.025">'
    for contour in contours:
        yield view.drawn(contour, "")
    yield "</g>"


def _front(panel: Panel, view: _View, sheet: str | None) -> Iterator[str]:
    for item, x, y in _mounted(panel, sheet):
        bezel = _outline(item.id, item.bezel, x, y) if item.bezel else None
        if bezel:
            yield view.drawn(bezel, 'fill="none" stroke="#000" stroke-width="0.01"')
    for legend in panel.legends if sheet is None else ():
        if legend.centre:
            x, y = (side.to("in") for side in legend.centre)
            yield view.words(x, y, legend.text, legend.letter_height.to("in") * 1.4 if legend.letter_height else _WORDS)


def _back(panel: Panel, view: _View, contours: Sequence[Contour], sheet: str | None) -> Iterator[str]:
    for zone in panel.keep_outs if sheet is None else ():
        corners = tuple((x.to("in"), y.to("in")) for x, y in zone.corners)
        contour = Contour(zone.id, corners=corners_around(corners))
        yield view.drawn(contour, 'fill="url(#hatch)" stroke="#000" stroke-width="0.01"')
        left, bottom, right, top = contour.box()
        words = f"{zone.what}, from {zone.behind} behind"
        yield view.ground((left + right) / 2, (bottom + top) / 2, words)
        yield view.words((left + right) / 2, (bottom + top) / 2, words)
    cut = {contour.name: contour for contour in contours}
    for item, x, y in _mounted(panel, sheet):
        right, up = (side.to("in") for side in item.body.offset) if item.body and item.body.offset else (0.0, 0.0)
        body = _outline(item.id, item.body, x + right, y + up) if item.body else None
        if body:
            yield view.drawn(body, 'fill="none" stroke="#000" stroke-width="0.015" stroke-dasharray="0.08 0.05"')
        words = f"{item.id} {item.depth}" if item.depth else item.id
        yield view.words(*_label(body or cut[item.hole or ""], words), words, _SMALL)


def _label(around: Contour, words: str) -> tuple[float, float]:
    """Where words go that name an outline: into it where there is room, or else below it."""
    left, bottom, right, top = around.box()
    inside = _wide(words, _SMALL) < right - left
    return (left + right) / 2, (bottom + top) / 2 if inside else bottom - _SMALL


def _wide(words: str, size: float) -> float:
    """About how wide words are in a usual font."""
    return _LETTER * size * len(words)


def _mounted(panel: Panel, sheet: str | None) -> Iterator[tuple[Item, float, float]]:
    """Every item with a hole in this sheet, and the hole's middle."""
    holes = {hole.id: hole for hole in panel.holes if hole.sheet == sheet}
    for item in panel.items:
        if item.hole in holes:
            x, y = (side.to("in") for side in holes[item.hole].centre)
            yield item, x, y


def _outline(name: str, record: Bezel | Body, x: float, y: float) -> Contour | None:
    if record.diameter:
        return Contour(name, (x, y, record.diameter.to("in") / 2))
    if record.width is None or record.height is None:
        return None
    w, h = record.width.to("in") / 2, record.height.to("in") / 2
    return Contour(name, corners=corners_around(((x - w, y - h), (x + w, y - h), (x + w, y + h), (x - w, y + h))))


def _places(panel: Panel, sheet: str | None) -> dict[str, tuple[float, float]]:
    """Where a finding on an item, a hole, a legend or a zone is marked."""
    found = {hole.id: hole.centre for hole in panel.holes if hole.sheet == sheet}
    found |= {item.id: found[item.hole] for item in panel.items if item.hole in found}
    if sheet is None:
        found |= {legend.id: legend.centre for legend in panel.legends if legend.centre}
    return {name: (x.to("in"), y.to("in")) for name, (x, y) in found.items()}


def _marks(view: _View, places: Mapping[str, tuple[float, float]], notes: Sequence[Note]) -> Iterator[str]:
    """A number in a ring, a little beside what it is about; more on the same place stand in a row."""
    taken: Counter[tuple[float, float]] = Counter()
    for number, note in enumerate(notes, start=1):
        place = places[note.subject]
        x, y = view.at(*place)
        x, y = x + 0.22 + 0.36 * taken[place], y - 0.22
        taken[place] += 1
        yield f'<circle cx="{x:.4f}" cy="{y:.4f}" r="0.16" fill="#fff" stroke="#000" stroke-width="0.02"/>'
        yield _text(x, y + _WORDS / 3, str(number), _WORDS, "middle")
