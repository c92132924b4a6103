"""The published documents that rules cite: one registry a pack, read from its data files."""

from __future__ import annotations

import collections.abc
import re
from typing import TYPE_CHECKING, Literal, NamedTuple, cast, get_args

from jurystrut.errors import PackError
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

__all__ = ["Binds", "Kind", "Reference", "Registry", "Status"]

Kind = Literal["regulation", "guidance", "standard", "common-practice"]
Binds = Literal["directly", "through-operating-limitations", "yardstick"]
Status = Literal["read", "second-hand", "memory", "none"]


class Reference(NamedTuple):
    """One section of one published document, and how it is known to us.

    `binds` says how it reaches an amateur-built aircraft. `status` says whether we read it in a copy, know it at second
    hand or from memory; `none` goes with common practice, which has no document behind it. `authority` is whose regulation or
    guidance it is, by country code; empty for a standard or common practice, which are nobody's alone.
    """

    id: str
    document: str
    section: str
    edition: str
    kind: Kind
    binds: Binds
    status: Status
    says: str
    note: str = ""
    authority: str = ""

    def obliges_only_its_own(self) -> bool:
        """Whether it speaks as its authority's law, or through papers that this authority issues."""
        return bool(self.authority) and (self.kind == "regulation" or self.binds != "yardstick")

    @property
    def known(self) -> str:
        """Its status; where there is no document, `common-practice`, or `as-recorded` where the builder's own papers decide."""
        if self.status != "none":
            return self.status
        return "common-practice" if self.kind == "common-practice" else "as-recorded"

    def __str__(self) -> str:
        return " ".join(filter(None, (self.document, self.section, f"({self.edition})" if self.edition else "")))


class Registry(collections.abc.Mapping[str, Reference]):
    """The entries of one or more folders of YAML files; a file is read when one of its entries is first asked for.

    A check names a handful of the hundreds of sources that rules cite. A regulation or guidance that names no authority of its
    own is its folder's. What asks for an entry raises PackError where its file cannot stand; a caller that wants to know of all
    files looks at all entries.
    """

    def __init__(self, folders: Iterable[tuple[Path, str]]) -> None:
        self._known: dict[str, Reference] = {}
        self._unread: dict[Path, tuple[str, str]] = {}
        self._file_of: dict[str, Path] = {}
        for folder, authority in folders:
            for path in sorted(folder.glob("*.yaml")):
                text = path.read_text(encoding="utf-8")
                self._unread[path] = text, authority
                for name in _ENTRY.findall(text):
                    if name in self._file_of:
                        raise PackError(f"{path.name}: the source '{name}' stands twice")
                    self._file_of[name] = path

    def __getitem__(self, name: str) -> Reference:
        if name not in self._known:
            self._read(self._file_of.get(name))
        if name not in self._known:  # written another way than the pattern expects, if at all
            self._whole()
        return self._known[name]

    def __contains__(self, name: object) -> bool:
        return name in self._file_of or name in self._whole()

    def __iter__(self) -> Iterator[str]:
        return iter(self._whole())

    def __len__(self) -> int:
        return len(self._whole())

    def _whole(self) -> dict[str, Reference]:
        for path in tuple(self._unread):
            self._read(path)
        return self._known

    def _read(self, path: Path | None) -> None:
        if path not in self._unread:
            return
        text, authority = self._unread.pop(path)
        tree, problems = parse(text, path.name)
        if problems:
            raise PackError(f"{problems[0].position}: {problems[0].message}")
        entries = tree.get("sources") if isinstance(tree, Mapping) else None
        for entry in entries if isinstance(entries, Listing) else ():
            reference = _reference(entry, path.name, authority)
            if self._known.setdefault(reference.id, reference) is not reference:
                raise PackError(f"{path.name}: the source '{reference.id}' stands twice")


_ENTRY = re.compile(r"""^ *- (?:\{ ?)?id: ["']?([\w.-]+)["']? *(?:$|[,#])""", re.MULTILINE)


def _reference(entry: object, file: str, authority: str) -> Reference:
    if not isinstance(entry, Mapping) or not set(entry) <= set(Reference._fields):
        raise PackError(f"{file}: an entry that is no mapping of {', '.join(Reference._fields)}")
    words = {field: str(value) for field, value in entry.items() if value is not None}
    for field, allowed in (("kind", get_args(Kind)), ("binds", get_args(Binds)), ("status", get_args(Status))):
        if words.get(field) not in allowed:
            raise PackError(f"{entry.where.position}: {field} must be one of {', '.join(allowed)}")
    for field in ("id", "document", "says"):
        if field not in words:
            raise PackError(f"{entry.where.position}: '{field}' is missing")
    return Reference(
        words["id"],
        words["document"],
        words.get("section", ""),
        words.get("edition", ""),
        cast("Kind", words["kind"]),
        cast("Binds", words["binds"]),
        cast("Status", words["status"]),
        words["says"],
        words.get("note", ""),
        words.get("authority", authority if words["kind"] in {"regulation", "guidance"} else ""),
    )
