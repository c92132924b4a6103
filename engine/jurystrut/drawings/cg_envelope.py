"""The weight and balance envelope with every declared loading in it, each followed from take-off until the fuel is gone."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from jurystrut.drawings.scales import ticks
from jurystrut.drawings.svg import Svg, circle, drawing, group, line, path, polygon, rectangle, text

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

__all__ = ["Mark", "Track", "cg_envelope"]

_Corner = tuple[float, float]

_WIDTH, _HEIGHT = 680.0, 440.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 64.0, 20.0, 24.0, 52.0


@dataclass(frozen=True, slots=True)
class Mark:
    """One state of a loading: its weight and arm, in the drawing's units."""

    state: str
    weight: float
    arm: float


@dataclass(frozen=True, slots=True)
class Track:
    """One loading by the number that the table beside the drawing gives it, and its states in order."""

    number: int
    marks: tuple[Mark, ...]


class _Frame:
    """Turns weight and arm into places on the sheet."""

    def __init__(self, points: Sequence[_Corner]) -> None:
        weights, arms = [w for w, _ in points], [a for _, a in points]
        self.arms = ticks(*_wider(min(arms), max(arms)))
        self.weights = ticks(*_wider(min(weights), max(weights)))

    def at(self, weight: float, arm: float) -> tuple[float, float]:
        across = (arm - self.arms[0]) / (self.arms[-1] - self.arms[0])
        up = (weight - self.weights[0]) / (self.weights[-1] - self.weights[0])
        return _LEFT + across * (_WIDTH - _LEFT - _RIGHT), _HEIGHT - _BOTTOM - up * (_HEIGHT - _TOP - _BOTTOM)


def _wider(low: float, high: float) -> tuple[float, float]:
    room = 0.04 * (high - low) or 1.0
    return low - room, high + room


def cg_envelope(
    name: str,
    corners: Sequence[_Corner],
    tracks: Sequence[Track],
    units: tuple[str, str],
    joined_in: Literal["arm", "moment"] = "arm",
) -> Svg:
    """Weight upwards, arm to the right; `corners` are (weight, arm) in order, `units` those of weight and arm."""
    border = list(_border(corners, joined_in))
    frame = _Frame([*border, *((m.weight, m.arm) for track in tracks for m in track.marks)])
    parts = [
        group(_grid(frame, units)),
        polygon([frame.at(weight, arm) for weight, arm in border], "area"),
        *(part for track in tracks for part in _track(frame, track)),
        *_numbers(frame, tracks, border),
        *_key(tracks),
    ]
    description = "; ".join(
        f"loading {t.number}: "
        + ", ".join(f"{m.state} {m.weight:.0f} {units[0]} at {m.arm:.2f} {units[1]}" for m in t.marks)
        for t in tracks
    )
    return drawing(name, _WIDTH, _HEIGHT, "Weight and balance envelope", description or "no loading", parts)


def _border(corners: Sequence[_Corner], joined_in: str) -> Iterator[_Corner]:
    """The envelope's border; straight in moment is a curve here, and is drawn as sixteen short lines a side."""
    for (w1, a1), (w2, a2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield w1, a1
        if joined_in == "moment" and w1 != w2:
            for share in (step / 16 for step in range(1, 16)):
                weight = w1 + (w2 - w1) * share
                yield weight, (w1 * a1 + (w2 * a2 - w1 * a1) * share) / weight


def _grid(frame: _Frame, units: tuple[str, str]) -> Iterator[Svg]:
    for arm in frame.arms:
        x, y = frame.at(frame.weights[0], arm)
        yield line((x, _TOP), (x, y), "grid")
        yield text((x, y + 16), f"{arm:g}", anchor="middle")
    for weight in frame.weights:
        x, y = frame.at(weight, frame.arms[0])
        yield line((x, y), (_WIDTH - _RIGHT, y), "grid")
        yield text((x - 6, y + 4), f"{weight:g}", anchor="end")
    yield text(
        ((_LEFT + _WIDTH - _RIGHT) / 2, _HEIGHT - 14), f"centre of gravity, {units[1]} from the datum", anchor="middle"
    )
    yield text((6, 14), f"weight, {units[0]}")


_SHAPES = {"at take-off": "triangle", "at landing": "disc", "without fuel": "ring"}


def _track(frame: _Frame, track: Track) -> Iterator[Svg]:
    places = [frame.at(mark.weight, mark.arm) for mark in track.marks]
    yield path(places, "track")
    for mark, place in zip(track.marks, places, strict=True):
        yield _shape(_SHAPES.get(mark.state, "ring"), place)


def _shape(shape: str, place: tuple[float, float]) -> Svg:
    x, y = place
    if shape == "triangle":
        return polygon([(x, y - 6), (x + 5.5, y + 4), (x - 5.5, y + 4)], "solid")
    return circle(place, 4.2, "solid" if shape == "disc" else "hollow")


def _numbers(frame: _Frame, tracks: Sequence[Track], border: Sequence[_Corner]) -> Iterator[Svg]:
    """Each loading's number beside its first mark, on the side where most room is left from marks and border."""
    taken = [frame.at(mark.weight, mark.arm) for track in tracks for mark in track.marks]
    taken += [frame.at(*point) for point in _along(border)]
    for track in tracks:
        if not track.marks:
            continue
        x, y = frame.at(track.marks[0].weight, track.marks[0].arm)
        here = (x, y)
        beside = ((x + 14, y), (x - 14, y), (x, y - 16), (x, y + 16), (x + 12, y - 12), (x - 12, y - 12))
        place = max(beside, key=lambda p: min((math.dist(p, t) for t in taken if t != here), default=math.inf))
        taken.append(place)
        wide = 5 + 6.5 * len(str(track.number))
        yield rectangle((place[0] - wide / 2, place[1] - 7), wide, 14, "paper", round_by=2)
        yield text((place[0], place[1] + 4), str(track.number), anchor="middle", look="words strong")


def _along(border: Sequence[_Corner]) -> Iterator[_Corner]:
    """Points all along the border, close enough that no number fits between two of them."""
    for (w1, a1), (w2, a2) in zip(border, (*border[1:], *border[:1]), strict=True):
        for share in (step / 40 for step in range(40)):
            yield w1 + (w2 - w1) * share, a1 + (a2 - a1) * share


def _key(tracks: Sequence[Track]) -> Iterator[Svg]:
    states = list(dict.fromkeys(mark.state for track in tracks for mark in track.marks))
    x = _WIDTH - _RIGHT - sum(26 + 6.2 * len(state) for state in states)
    for state in states:
        yield _shape(_SHAPES.get(state, "ring"), (x + 8, 11))
        yield text((x + 18, 15), state)
        x += 26 + 6.2 * len(state)
