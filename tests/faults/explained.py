"""The reasons in explained.yaml and explained_rules.yaml: why a fault passes unseen, which rules speak of far records."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING, Any

import yaml

if TYPE_CHECKING:
    from collections.abc import Iterator

    from tests.faults.seeds import Fault
    from tests.faults.trial import Key

__all__ = ["Explained"]


class Explained:
    """The reasons, which of them were needed, and which were refuted by a fault of the same kind that was answered.

    A reason names one kind of fault, and a list, a field or a rule; and single records where others of them answer. So one
    for a whole field fails as soon as any rule reads that field.
    """

    def __init__(self) -> None:
        reasons = _read("explained.yaml") | _read("explained_rules.yaml")
        self._unread = frozenset(field for one in reasons["unread"] for field in one["fields"])
        self._silent = dict(_by_kind(reasons["silent"]))
        self._over = dict(_named(reasons["over a limit"], "of"))
        self._never = frozenset(name for one in reasons["never alarmed"] for name in one["rules"])
        self._reach = [(frozenset(one["rules"]), frozenset(one["from"])) for one in reasons["reach"]]
        self._used: Counter[str] = Counter()
        self._refuted: set[str] = set()

    def silent(self, fault: Fault) -> bool:
        """Whether a fault that nobody answered has its reason."""
        if fault.target in self._unread:
            return self._use(f"unread: {fault.target}")
        records = self._silent.get((fault.kind, fault.target))
        if records is None or (records and fault.record not in records):
            return False
        return self._use(" ".join([f"silent: {fault.kind}: {fault.target}", *(records and [fault.record])]))

    def answered(self, fault: Fault) -> None:
        """Hold an answer against the reasons: it refutes one that is for all of its like."""
        if fault.kind != "other dimension" and fault.target in self._unread:
            self._refuted.add(f"unread: {fault.target}")
        if self._silent.get((fault.kind, fault.target)) == ():
            self._refuted.add(f"silent: {fault.kind}: {fault.target}")

    def reaches(self, rule: str, fault: Fault) -> bool:
        """Whether a rule judges records together with all of the list in which a fault stands."""
        name = fault.touched[0].list
        found = [n for n, (rules, lists) in enumerate(self._reach) if rule in rules and name in lists]
        return bool(found) and self._use(f"reach {found[0]}: {rule}") and self._use(f"reach {found[0]}: {name}")

    def not_driven(self, key: Key) -> bool:
        """Whether a limit that no value was found for has its reason."""
        subjects = self._over.get(key.rule)
        if subjects is None or (subjects and key.subject not in subjects):
            return False
        return self._use(" ".join([f"over a limit: {key.rule}", *(subjects and [key.subject])]))

    def driven(self, key: Key) -> None:
        """Hold a limit that was broken against the reasons."""
        if self._over.get(key.rule) == ():
            self._refuted.add(f"over a limit: {key.rule}")

    def never(self, rule: str) -> bool:
        """Whether a rule that no fault alarms has its reason."""
        return rule in self._never and self._use(f"never alarmed: {rule}")

    def _use(self, reason: str) -> bool:
        self._used[reason] += 1
        return True

    def wrong(self) -> list[str]:
        """Reasons for a whole field or rule that an answer refutes, and reasons that explained nothing."""
        every = [f"unread: {field}" for field in self._unread]
        for (kind, target), records in self._silent.items():
            every += [f"silent: {kind}: {target} {record}".rstrip() for record in records or ("",)]
        for rule, subjects in self._over.items():
            every += [f"over a limit: {rule} {subject}".rstrip() for subject in subjects or ("",)]
        every += [f"never alarmed: {rule}" for rule in self._never]
        every += [f"reach {n}: {name}" for n, both in enumerate(self._reach) for names in both for name in names]
        refuted = [f"answered all the same: {reason}" for reason in sorted(self._refuted)]
        return refuted + [f"explains nothing: {reason}" for reason in sorted(set(every) - self._used.keys())]


def _read(name: str) -> dict[str, Any]:
    reasons: dict[str, Any] = yaml.safe_load(Path(__file__).with_name(name).read_text("utf-8"))
    return reasons


def _by_kind(reasons: list[dict[str, list[str]]]) -> Iterator[tuple[tuple[str, str], tuple[str, ...]]]:
    kinds = sorted({kind for reason in reasons for kind in reason} - {"why"})
    for kind in kinds:
        for target, records in _named([reason for reason in reasons if kind in reason], kind):
            yield (kind, target), records


def _named(reasons: list[dict[str, list[str]]], field: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """What reasons name: a list, field or rule, and then records or subjects; none of them stands for all."""
    found: dict[str, list[str]] = {}
    for reason in reasons:
        for name, *records in (one.split() for one in reason[field]):
            assert name not in found or (found[name] and records), f"{name} is explained twice"
            found.setdefault(name, []).extend(records)
    return ((name, tuple(records)) for name, records in found.items())
