"""What several topics say alike: a field that is not recorded, and a list that holds nothing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, no_data, not_applicable

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from jurystrut.records.base import Named, Record

__all__ = ["lacking", "none_recorded"]


def lacking(record: Named, field: str, why: str = "") -> Finding:
    """No data: the record lacks this field; `why` adds for what it is needed."""
    return no_data(record.id, f"'{field}' is not recorded{why}", record.at(), remedy=f"Record '{field}'.")


def none_recorded(records: Sequence[Named], what: str, section: Record) -> Iterator[Finding]:
    """Not applicable, where the aircraft has none of these things."""
    if not records:
        yield not_applicable("aircraft", f"no {what} is recorded", section.at())
