"""A trial: changes laid over the records before they are checked, without touching them.

The change is a YAML file written like the records. A record whose id is there already has the fields given replaced and keeps
all others; one with a new id is added. A list of things without ids, such as corners of an envelope, is replaced as a whole.
`remove: [ID, ...]` in a section takes records out of it.

A component of the section `weights` that gets another weight or arm is exchanged: the one on record stood on the scales, so it
is taken out after the weighing, and the trial's goes in. A component that is only struck from the list is left to the scales.
"""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

from jurystrut.errors import Problem, UsageError
from jurystrut.positions import Where
from jurystrut.reading.files import RecordFile, bytes_of
from jurystrut.reading.messages import nearest
from jurystrut.reading.sections import gather
from jurystrut.tree import LIMITS, Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from jurystrut.tree import Tree

__all__ = ["lay_over", "trial_file"]


def trial_file(path: Path) -> RecordFile:
    """Open the file of a trial; raises UsageError where it cannot be read."""
    try:
        return RecordFile(path.name, bytes_of(path, LIMITS.file_bytes).decode("utf-8"))
    except (OSError, ValueError) as error:
        raise UsageError(f"{path} cannot be read as a trial: {error}") from None


def lay_over(sections: dict[str, Tree], trial: RecordFile) -> tuple[tuple[str, ...], list[Problem]]:
    """Change the sections' trees, in place, as a trial says; what it changes in words, and what is wrong with it.

    Raises UsageError where the trial changes nothing: judged alike, it would look like a change without effect.
    """
    tree, problems = parse(trial.text, trial.path)
    changes, found = gather([(trial.path, tree)])
    problems += found
    said: list[str] = []
    for name, body in changes.items():
        removed = body.pop("remove", None) if isinstance(body, Mapping) else None
        exchanged = _exchanged(sections.get(name), body) if name == "weights" else []
        sections[name] = _laid(sections.get(name), body, name, said)
        _keep_exchanged(sections[name], exchanged, said)
        problems += _removed(name, sections[name], removed, body, said)
    if not said and not problems:
        raise UsageError(f"{trial.path} changes nothing")
    return tuple(said), problems


def _laid(before: Tree, change: Tree, name: str, said: list[str]) -> Tree:
    """One value with a change laid over it; says what changed."""
    if isinstance(before, Mapping) and isinstance(change, Mapping):
        merged = Mapping()
        merged.update(before)
        merged.update({key: _laid(before.get(key), value, f"{name}.{key}", said) for key, value in change.items()})
        merged.where = _above(change.where, before.where)
        return merged
    if isinstance(before, Listing) and isinstance(change, Listing) and _ids(change) and _ids(before):
        return _records(before, change, name, said)
    if before != change:
        said.append(
            f"{name} {_shown(before)} -> {_shown(change)}" if before is not None else f"{name} {_shown(change)} added"
        )
    return change


def _exchanged(before: Tree, change: Tree) -> list[Mapping]:
    """The components on record that a trial gives another weight or arm, as taken out; the trial's go in on the same day."""
    known = {record["id"]: record for record in _components(before) if isinstance(record.get("id"), str)}
    tomorrow = (datetime.datetime.now().astimezone().date() + datetime.timedelta(days=1)).isoformat()
    found = []
    for record in _components(change):
        id_ = record.get("id")
        there = known.get(id_) if isinstance(id_, str) else None
        if there is None or {"since", "removed", "fitted"} & record.keys() or _waits(there):
            continue
        if any(field in record and record[field] != there.get(field) for field in ("weight", "arm")):
            taken_out = Mapping()
            taken_out.update({key: value for key, value in there.items() if key != "equipment"})
            taken_out.update({"id": f"{id_}-BEFORE", "removed": tomorrow})
            taken_out.where = there.where
            record["since"] = tomorrow
            found.append(taken_out)
    return found


def _waits(component: Mapping) -> bool:
    """Whether it is not fitted yet: nothing of it stood on the scales."""
    return str(component.get("fitted", "true")).strip().lower() in {"false", "no"}


def _components(section: Tree) -> list[Mapping]:
    components = section.get("components") if isinstance(section, Mapping) else None
    return [record for record in components if isinstance(record, Mapping)] if isinstance(components, Listing) else []


def _keep_exchanged(section: Tree, exchanged: list[Mapping], said: list[str]) -> None:
    components = section.get("components") if isinstance(section, Mapping) else None
    if isinstance(components, Listing):
        for record in exchanged:
            components.append(record)
            components.marks.append((record.where.file, record.where.mark))
            said.append(f"weights.components.{record['id']}: what stood on the scales is taken out")


def _above(change: Where, before: Where) -> Where:
    """A place that finds the changed fields in the trial, and all others where they stand in the records."""
    above = Where(change.file, change.mark, change.keys, change.marks)
    above.also = before
    return above


def _ids(records: Listing) -> bool:
    return all(isinstance(record, Mapping) and isinstance(record.get("id"), str) for record in records)


def _records(before: Listing, change: Listing, name: str, said: list[str]) -> Listing:
    places = {record["id"]: index for index, record in enumerate(before) if isinstance(record, Mapping)}
    merged = Listing(before.file, before.mark)
    merged.extend(before)
    merged.marks = list(before.marks)
    for record, mark in zip(change, change.marks, strict=True):
        assert isinstance(record, Mapping)
        index = places.get(record["id"])
        if index is None:
            said.append(f"{name}.{record['id']} added")
            merged.append(record)
            merged.marks.append((change.file, mark) if isinstance(mark, int) else mark)
        else:
            merged[index] = _laid(merged[index], record, f"{name}.{record['id']}", said)
    return merged


def _removed(name: str, section: Tree, removed: Tree, body: Tree, said: list[str]) -> Iterator[Problem]:
    """Take the records named out of a section, in place; a problem for each that is not there."""
    if removed is None or not isinstance(section, Mapping) or not isinstance(body, Mapping):
        return
    lists = [value for value in section.values() if isinstance(value, Listing) and _ids(value)]
    known = [record["id"] for records in lists for record in records if isinstance(record, Mapping)]
    for id_ in removed if isinstance(removed, Listing) else [removed]:
        for records in lists:
            kept = [i for i, record in enumerate(records) if not (isinstance(record, Mapping) and record["id"] == id_)]
            records.marks = [records.marks[i] for i in kept]
            records[:] = [records[i] for i in kept]
        if id_ in known:
            said.append(f"{name}.{id_} removed")
        else:
            hint = nearest(str(id_), (str(one) for one in known))
            yield Problem(body.where.of_key("remove"), f"remove: there is no '{id_}' in {name}{hint}")


def _shown(value: Tree) -> str:
    if isinstance(value, Listing):
        return f"a list of {len(value)}"
    return "a record" if isinstance(value, Mapping) else str(value)
