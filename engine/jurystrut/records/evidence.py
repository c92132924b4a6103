"""Files that records point to as evidence: who names which, and what was found of them."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.records.base import Named, Record, is_record
from jurystrut.records.fields import InRepository, parts_by_field

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.positions import Spot

__all__ = ["EvidenceFile", "Naming", "files_named"]


class EvidenceFile(NamedTuple):
    """One file as it was found: its size in bytes, and its SHA-256 where a record gives one to compare it with.

    `trouble` says in words why nothing is known of it; the file then counts as missing.
    """

    path: str
    size: int = 0
    sha256: str | None = None
    trouble: str = ""


class Naming(NamedTuple):
    """A field that names a file: the path, the id of the record (the section, where it has none), and the place."""

    path: str
    subject: str
    spot: Spot


def files_named(sections: Mapping[str, Any]) -> Iterator[Naming]:
    """Every field of every record that names a file of the repository, in the order of the sections."""
    for section, value in sections.items():
        for record in value if isinstance(value, tuple) else (value,):
            yield from _of_record(record, section)


def _of_record(record: Record, owner: str) -> Iterator[Naming]:
    files, nested = _plan(type(record))
    subject = record.id if isinstance(record, Named) else owner
    for field in files:
        path = getattr(record, field)
        if path is not None:
            yield Naming(path, subject, record.at(field))
    for field in nested:
        inner = getattr(record, field)
        for part in inner if isinstance(inner, tuple) else (inner,):
            if part is not None:
                yield from _of_record(part, subject)


@cache
def _plan(model: type[Record]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The fields of a model that name files, and those holding records that do; most models have neither."""
    files, nested = [], []
    for field, parts in parts_by_field(model).items():
        if any(isinstance(part, InRepository) for part in parts):
            files.append(field)
        elif any(any(_plan(part)) for part in parts if is_record(part)):
            nested.append(field)
    return tuple(files), tuple(nested)
