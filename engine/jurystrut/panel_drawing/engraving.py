"""The words that are engraved: as recorded, and how those of a drawing differ from them."""

from __future__ import annotations

import math
from collections import defaultdict, deque
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.panel_drawing.comparing import Difference

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Sequence

    from jurystrut.panel_drawing.contours import Contour
    from jurystrut.records.panel import Panel

__all__ = ["Drawing", "Words", "compare_words", "recorded_words"]


class Words(NamedTuple):
    """Words on the sheet: the legend's name, what they say, their middle, and their letters' height, in inches."""

    name: str
    text: str
    middle: tuple[float, float]
    height: float
    unsure: float = 0.0
    """By how many inches the middle may be off, where it had to be estimated from the letters."""

    @property
    def key(self) -> str:
        """What they say, however it is spaced and written."""
        return " ".join(self.text.casefold().split())


class Drawing(NamedTuple):
    """What was read from a file: the closed lines, and the words; None where it has no layer to engrave."""

    contours: list[Contour]
    words: list[Words] | None


def recorded_words(panel: Panel) -> list[Words]:
    """The legends that have a place and a height."""
    return [
        Words(
            legend.id,
            legend.text,
            (legend.centre[0].to("in"), legend.centre[1].to("in")),
            legend.letter_height.to("in"),
        )
        for legend in panel.legends
        if legend.centre and legend.letter_height
    ]


_PLACED = 1 / 32
"""Inches by which engraved words may be off without anybody minding. Common practice, no source."""
_NEAR = 0.5
"""Inches around a legend in which words are taken for its own."""


def compare_words(
    recorded: Sequence[Words], drawn: Iterable[Words], moved: tuple[float, float], tolerance: float
) -> tuple[list[Difference], int]:
    """How the words of a drawing differ, and how many agree; `moved` is by how much the whole drawing was moved.

    Words that say the same belong together where they are near, and otherwise from left to right; what is left in a legend's
    place is that legend, spelt differently.
    """
    near = _Near(words._replace(middle=(words.middle[0] + moved[0], words.middle[1] + moved[1])) for words in drawn)
    pairs, far = _paired(recorded, lambda words: near.take(words, same=True))
    rest = _ByText(near.rest())
    displaced, lacking = _paired(far, rest.take)
    left = _Near(rest.rest())
    misspelt, missing = _paired(lacking, lambda words: left.take(words, same=False))
    told = [(words, twin, "; ".join(_told(words, twin, tolerance))) for words, twin in (*pairs, *displaced)]
    differences = [
        Difference(words.name, math.dist(words.middle, twin.middle), how) for words, twin, how in told if how
    ]
    odd = _unmatched(misspelt, missing, left.rest())
    return [*differences, *(Difference(name, math.inf, how) for name, how in odd)], len(told) - len(differences)


def _unmatched(
    misspelt: Iterable[tuple[Words, Words]], missing: Iterable[Words], strange: Iterable[Words]
) -> Iterator[tuple[str, str]]:
    """A legend's name and what is wrong with it, for what the drawing says otherwise, or not at all, or alone."""
    for words, twin in misspelt:
        yield words.name, f"the drawing reads {twin.text}, recorded {words.text}"
    for words in missing:
        yield words.name, f"its words are not in the drawing: {words.text}"
    for words in strange:
        x, y = words.middle
        yield "not recorded", f"the drawing reads {words.text} at [{x:.3f} in, {y:.3f} in]"


def _paired(
    recorded: Iterable[Words], take: Callable[[Words], Words | None]
) -> tuple[list[tuple[Words, Words]], list[Words]]:
    """Legends with what is taken for each, and those for which nothing is."""
    taken = [(words, take(words)) for words in recorded]
    return [(words, twin) for words, twin in taken if twin], [words for words, twin in taken if twin is None]


class _Near:
    """Words of a drawing by where they stand, so that each legend looks at its surroundings alone."""

    def __init__(self, words: Iterable[Words]) -> None:
        self._cells: dict[tuple[int, int], list[Words]] = defaultdict(list)
        for one in words:
            self._cells[_cell(one.middle)].append(one)

    def take(self, words: Words, *, same: bool) -> Words | None:
        """Takes out the nearest within half an inch: one that says the `same`, or anything."""
        column, row = _cell(words.middle)
        near = [
            (distance, cell, other)
            for cell in ((c, r) for c in (column - 1, column, column + 1) for r in (row - 1, row, row + 1))
            for other in self._cells.get(cell, ())
            if (distance := math.dist(words.middle, other.middle)) <= _NEAR and (not same or other.key == words.key)
        ]
        if not near:
            return None
        _, cell, nearest = min(near)
        self._cells[cell].remove(nearest)
        return nearest

    def rest(self) -> list[Words]:
        """All that was not taken, from left to right."""
        return sorted((words for cell in self._cells.values() for words in cell), key=lambda words: words.middle)


def _cell(middle: tuple[float, float]) -> tuple[int, int]:
    return math.floor(middle[0] / _NEAR), math.floor(middle[1] / _NEAR)


class _ByText:
    """Words of a drawing by what they say."""

    def __init__(self, words: Iterable[Words]) -> None:
        self._texts: dict[str, deque[Words]] = defaultdict(deque)
        for one in words:
            self._texts[one.key].append(one)

    def take(self, words: Words) -> Words | None:
        """Takes out the first that says the same."""
        same = self._texts.get(words.key)
        return same.popleft() if same else None

    def rest(self) -> list[Words]:
        """All that was not taken."""
        return [words for same in self._texts.values() for words in same]


def _told(words: Words, twin: Words, tolerance: float) -> Iterator[str]:
    if math.dist(words.middle, twin.middle) > max(tolerance, _PLACED, twin.unsure):
        (x, y), (its_x, its_y) = words.middle, twin.middle
        yield f"its words stand at [{its_x:.3f} in, {its_y:.3f} in], recorded [{x:.3f} in, {y:.3f} in]"
    if abs(words.height - twin.height) > tolerance:
        yield f"its letters are {twin.height:.3f} in high, recorded {words.height:.3f} in"
