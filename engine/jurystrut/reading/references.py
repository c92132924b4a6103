"""Ids: once in their section, and every name of another record leads to one."""

from __future__ import annotations

from functools import cache
from operator import is_
from typing import TYPE_CHECKING, Any, NamedTuple

from jurystrut.errors import Problem
from jurystrut.reading.messages import nearest
from jurystrut.reading.sections import record_lists
from jurystrut.records import section_model
from jurystrut.records.base import Named, Record, is_record
from jurystrut.records.electrical import Device
from jurystrut.records.fields import Names, parts_by_field

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.positions import Position

__all__ = ["Links", "named_by", "naming_fields"]

_Index = dict[str, dict[str, Named]]


# Looking for the nearest of a thousand names takes milliseconds; a record copied a thousand times needs the hint once.
_MOST_HINTS = 20


class _Reference(NamedTuple):
    field: str
    written: str
    names: Names


class _Dangling(NamedTuple):
    """A field that names a record which is not there."""

    record: Record
    reference: _Reference
    name: str


class Links:
    """The records by their ids, and the names that lead to them.

    Kept from one reading to the next, it looks again only at sections that changed, or name records of one that did.
    """

    def __init__(self) -> None:
        self._indexes: dict[str, tuple[object, _Index, list[Problem]]] = {}
        self._sound: dict[str, tuple[object, ...]] = {}
        """Of each section in which every name led somewhere: the section, and those that it names."""

    def index(self, sections: Mapping[str, Any]) -> tuple[_Index, list[Problem]]:
        """Every record with an id, by section and by section and list; an id that stands twice in a section is a problem."""
        index: _Index = {}
        problems: list[Problem] = []
        for section, value in sections.items():
            if section not in self._indexes or self._indexes[section][0] is not value:
                self._indexes[section] = value, *_index_of(section, value)
            _, its, found = self._indexes[section]
            index |= its
            problems += found
        return index, problems

    def dangling(self, sections: Mapping[str, Any], index: _Index, broken: Mapping[str, set[str]]) -> Iterator[Problem]:
        """A problem for every field that names a record which is not there; `broken` ids are there, though unreadable."""
        count = 0
        for section, value in sections.items():
            behind = (value, *(sections.get(name) for name in _sections_named(section_model(section))))
            if not broken and section in self._sound and all(map(is_, self._sound[section], behind)):
                continue
            before = count
            for record in value if isinstance(value, tuple) else (value,):
                for owner, reference, name in _of_record(record, index, broken):
                    message = _message(name, reference, index)
                    if count < _MOST_HINTS:
                        message += _hint(name, reference, index, broken)
                    count += 1
                    yield Problem(owner.where.of(reference.written), message)
            if count == before and not broken:
                self._sound[section] = behind


def _index_of(section: str, value: Any) -> tuple[_Index, list[Problem]]:
    everything: dict[str, Named] = {}
    index: _Index = {section: everything}
    problems: list[Problem] = []
    lists = {"": value} if isinstance(value, tuple) else {f: getattr(value, f) for f in record_lists(value.__class__)}
    for field, records in lists.items():
        here = index.setdefault(f"{section}.{field}", {}) if field else everything
        for record in records:
            if not isinstance(record, Named):
                continue
            first = everything.setdefault(record.id, record)
            if first is not record:
                earlier = first.at("id").position
                message = f"the id '{record.id}' stands twice in '{section}', first at {earlier}; give one another"
                problems.append(Problem(record.at("id").position, message))
            else:
                here[record.id] = record
    return index, problems


@cache
def _sections_named(model: type[Record]) -> tuple[str, ...]:
    """The sections whose records the fields of a model name."""
    parts = [part for parts in parts_by_field(model).values() for part in parts]
    own = (target.partition(".")[0] for part in parts if isinstance(part, Names) for target in part.targets)
    return tuple(sorted({*own, *(name for part in parts if is_record(part) for name in _sections_named(part))}))


def _of_record(record: Record, index: _Index, broken: Mapping[str, set[str]]) -> Iterator[_Dangling]:
    references, nested = _plan(type(record))
    for reference in references:
        value = getattr(record, reference.field)
        if value is not None and reference.names.targets:
            for name in (value,) if value.__class__ is str else value:
                if not _known(name, reference.names, index, broken):
                    yield _Dangling(record, reference, name)
    for field in nested:
        inner = getattr(record, field)
        for part in inner if isinstance(inner, tuple) else (inner,):
            if part is not None:
                yield from _of_record(part, index, broken)


@cache
def _plan(model: type[Record]) -> tuple[tuple[_Reference, ...], tuple[str, ...]]:
    """The fields of a model that name other records, and those that hold records in turn."""
    references = []
    nested = []
    for field, parts in parts_by_field(model).items():
        names = next((part for part in parts if isinstance(part, Names)), None)
        if names:
            references.append(_Reference(field, model.model_fields[field].alias or field, names))
        elif any(map(is_record, parts)):
            nested.append(field)
    return tuple(references), tuple(nested)


def _known(name: str, names: Names, index: _Index, broken: Mapping[str, set[str]]) -> bool:
    device, _, terminal = name.partition(".") if names.terminal else (name, "", "")
    for target in names.targets:
        record: Any = index.get(target, _NOTHING).get(device)
        if record is not None:
            return not names.terminal or (
                isinstance(record, Device) and (not terminal or record.has_terminal(terminal))
            )
        if device in broken.get(target, _NONE):
            return True
    return False


_NOTHING: dict[str, Named] = {}
_NONE: frozenset[str] = frozenset()


def _message(name: str, reference: _Reference, index: _Index) -> str:
    targets = reference.names.targets
    device, _, terminal = name.partition(".")
    known = next((index[t][device] for t in targets if device in index.get(t, _NOTHING)), None)
    if reference.names.terminal and known is not None and not isinstance(known, Device):
        return f"{reference.written}: '{device}' at {known.at('id').position} is nothing that a wire is joined to; name a device"
    if terminal and known is not None:
        return f"{reference.written}: '{device}' has no terminal '{terminal}'; {_terminals_of(known)}"
    return f"{reference.written}: there is no '{name}' in {' or '.join(targets)}"


def _terminals_of(device: Any) -> str:
    """What may be written instead."""
    contacts = {terminal for contact in getattr(device, "contacts", ()) for terminal in contact.joins}
    named = sorted(contacts or getattr(device, "terminals", None) or ())
    return f"write {', '.join([str(device), *(f'{device}.{terminal}' for terminal in named)][:8])}"


def _hint(name: str, reference: _Reference, index: _Index, broken: Mapping[str, set[str]]) -> str:
    targets = reference.names.targets
    if any(name.partition(".")[0] in index.get(target, _NOTHING) for target in targets):
        return ""
    return nearest(name, (id_ for target in targets for id_ in (*index.get(target, ()), *broken.get(target, ()))))


def naming_fields(model: type[Record]) -> list[str]:
    """The fields of a record, as they are written, that name other records."""
    return [reference.written for reference in _plan(model)[0]]


def named_by(sections: Mapping[str, Any]) -> Iterator[tuple[str, Position]]:
    """Every id that a field names, without its terminal, with the place of the field's value."""
    waiting: list[Record] = [
        r for value in sections.values() for r in (value if isinstance(value, tuple) else (value,))
    ]
    while waiting:
        record = waiting.pop()
        references, nested = _plan(type(record))
        for reference in references:
            value = getattr(record, reference.field)
            for name in () if value is None else (value,) if value.__class__ is str else value:
                yield name.partition(".")[0], record.where.of(reference.written)
        for field in nested:
            inner = getattr(record, field)
            waiting += [part for part in (inner if isinstance(inner, tuple) else (inner,)) if part is not None]
