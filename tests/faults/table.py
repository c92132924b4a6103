"""The harvest as two tables: by kind of fault, and by rule, each with its totals."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.faults.harvest import Harvest

__all__ = ["printed"]


def printed(harvest: Harvest) -> Iterator[str]:
    """The lines of both tables."""
    sown, noted, moved = harvest.sown, harvest.noted, harvest.moved
    yield from _table(
        ("kind of fault", "sown", "noted", "figures moved", "silent"),
        [(kind, sown[kind], noted[kind], moved[kind], sown[kind] - noted[kind] - moved[kind]) for kind in sorted(sown)],
    )
    rules = set().union(harvest.pushed, harvest.alarms, harvest.together, harvest.unrelated, harvest.false)
    yield from _table(
        ("rule", "pushed over", "broken", "noted", "noted far", "unrelated", "after the same"),
        [
            (rule, *(counts[rule] for counts in (harvest.pushed, harvest.driven, harvest.alarms, harvest.together)),
             harvest.unrelated[rule], harvest.false[rule])
            for rule in sorted(rules)
        ],
    )  # fmt: skip
    same = harvest.unchanged
    yield from _table(("says the same as before", "changes"), [(kind, same[kind]) for kind in sorted(same)])
    answered = noted.total() + moved.total()
    yield f"{answered} of {sown.total()} faults answered, {noted.total()} of them noted"
    yield f"{harvest.unrelated.total()} unrelated answers; {harvest.false.total()} false alarms in {same.total()} changes"


def _table(head: tuple[str, ...], rows: list[tuple[str | int, ...]]) -> Iterator[str]:
    totals = ("all", *(sum(int(row[column]) for row in rows) for column in range(1, len(head))))
    every = [head, *rows, totals]
    widths = [max(len(str(row[column])) for row in every) for column in range(len(head))]
    for row in every:
        first, *others = (str(cell) for cell in row)
        yield "  ".join([first.ljust(widths[0]), *(o.rjust(w) for o, w in zip(others, widths[1:], strict=True))])
    yield ""
