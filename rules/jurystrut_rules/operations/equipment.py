"""Which equipment the records hold, found by what a record says it provides, or by its name."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import MissingRecord, fact, read_table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.base import Named
    from jurystrut.records.electrical import Electrical
    from jurystrut.records.panel import Item, Panel
    from jurystrut.records.weights import Component, Weights
    from jurystrut.rulebook import Spot

__all__ = ["TABLES", "Equipment", "Fitted", "equipment", "head_of"]

TABLES = Path(__file__).parents[1] / "tables/operations"


class Fitted(NamedTuple):
    """A record that is a piece of equipment, and how it was recognised."""

    record: Named
    how: str
    serves_all: bool
    """Whether it is said to show its quantity for all tanks or engines."""

    @property
    def where(self) -> Spot:
        """Its line."""
        return self.record.at()


class Equipment(NamedTuple):
    """All equipment by what it provides; `complete` says whether the panel is recorded, so that absence means something."""

    by_function: dict[str, list[Fitted]]
    complete: bool

    def of(self, function: str) -> list[Fitted]:
        """The records that provide this."""
        return self.by_function.get(function, [])


@fact
def equipment(
    panel: Panel | None = None, weights: Weights | None = None, electrical: Electrical | None = None
) -> Equipment:
    """Looks through panel items, components that are fitted, and electrical loads.

    A switch, breaker, fuse or placard is named after what it serves and is not that: it counts for what it `provides` alone.
    """
    if panel is None and weights is None and electrical is None:
        raise MissingRecord("neither panel, nor weights, nor electrical devices are recorded")
    found: dict[str, list[Fitted]] = {}
    seen: set[tuple[str, str]] = set()
    for record, provides in _records(panel, weights, electrical):
        for function, fitted in _recognised(record, provides):
            if (function, record.id) not in seen:  # the same device stands in several sections under one id
                seen.add((function, record.id))
                found.setdefault(function, []).append(fitted)
    return Equipment(found, panel is not None)


_NAMED_AFTER_ANOTHER = frozenset({"switch", "breaker", "fuse-holder", "placard"})


def _records(
    panel: Panel | None, weights: Weights | None, electrical: Electrical | None
) -> Iterator[tuple[Item | Component | Named, tuple[str, ...]]]:
    for item in panel.items if panel else ():
        if item.provides or item.kind not in _NAMED_AFTER_ANOTHER:
            yield item, item.provides
    yield from ((part, ()) for part in (weights.components if weights else ()) if part.fitted)
    yield from ((load, ()) for load in (electrical.loads if electrical else ()))


def _recognised(record: Named, provides: tuple[str, ...]) -> Iterator[tuple[str, Fitted]]:
    for function in provides:
        yield function, Fitted(record, f"{record.id}, recorded as providing {function}", serves_all=True)
    if getattr(record, "kind", None) in _NAMED_AFTER_ANOTHER:
        return
    name = head_of(getattr(record, "what", None) or "")
    for function in _functions_by_name().get(name, ()):
        yield function, Fitted(record, f"{record.id}, recorded as {name}", serves_all=name.endswith("s"))


_HEAD_ENDS = re.compile(r"[,;(:]| (?:of|on|in|at|with|and its|behind|below|above|under|for|from|to|beside|near)\b")
_SIDES = re.compile(r"^(?:(?:left|right|front|rear|main|second|heated|mechanical|electric|two-inch|a|an|the) )+")


def head_of(what: str) -> str:
    """The thing that a description names: its words up to the first comma, bracket or linking word, without its side."""
    head = _HEAD_ENDS.split(what.strip().lower(), maxsplit=1)[0].strip()
    return _SIDES.sub("", head)


@cache
def _functions_by_name() -> dict[str, tuple[str, ...]]:
    by_name: dict[str, tuple[str, ...]] = {}
    for row in read_table(TABLES / "equipment.yaml").rows:
        name, function = str(row["name"]), str(row["provides"])
        by_name[name] = (*by_name.get(name, ()), function)
    return by_name
