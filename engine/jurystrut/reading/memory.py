"""What one reading leaves for the next of nearly the same files: another revision, or a trial with one change undone."""

from __future__ import annotations

from operator import is_
from typing import TYPE_CHECKING, Any

from jurystrut.positions import Where
from jurystrut.reading.references import Links
from jurystrut.reading.sections import Checked, check_section
from jurystrut.tree import Listing, Mapping, parse

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.errors import Problem
    from jurystrut.reading.files import RecordFile
    from jurystrut.tree import Tree

__all__ = ["Memory"]


class Memory:
    """Keeps the last tree of each file and the last records of each section; a section read again is the same object."""

    def __init__(self) -> None:
        self.links = Links()
        self._trees: dict[str, tuple[str, Tree, list[Problem]]] = {}
        self._sections: dict[str, tuple[tuple[object, ...], dict[str, Any], Checked]] = {}

    def parsed(self, file: RecordFile) -> tuple[Tree, list[Problem]]:
        """The file's tree, free to be joined with others, and its problems."""
        known = self._trees.get(file.path)
        if known is None or known[0] != file.text:
            tree, problems = parse(file.text, file.path)
            if known is not None:
                _keep(known[1], tree)
            known = self._trees[file.path] = (file.text, tree, problems)
        return _free(known[1]), known[2]

    def checked(self, name: str, tree: Tree, context: dict[str, Any], files: Iterable[RecordFile]) -> Checked:
        """The records of a section that is spread over some of these files."""
        trees = (self._trees[file.path][1] for file in files)
        parts = tuple(tree[name] for tree in trees if isinstance(tree, Mapping) and name in tree)
        known = self._sections.get(name)
        if known is None or known[1] != context or len(known[0]) != len(parts) or not all(map(is_, known[0], parts)):
            known = self._sections[name] = (parts, context, check_section(name, tree, context))
        return known[2]


def _keep(before: Tree, now: Tree) -> None:
    """Put each section of a file that is as before, places and all, back in; a comment behind it changes no record."""
    if isinstance(before, Mapping) and isinstance(now, Mapping):
        for name, body in now.items():
            if name in before and _same(before[name], body):
                now[name] = before[name]


def _same(one: Tree, other: Tree) -> bool:
    if isinstance(one, Mapping):
        return isinstance(other, Mapping) and _stand_alike(one, other)
    if isinstance(one, Listing):
        return (
            isinstance(other, Listing)
            and one.mark == other.mark
            and one.marks == other.marks
            and all(map(_same, one, other))
        )
    return one == other


def _stand_alike(one: Mapping, other: Mapping) -> bool:
    here, there = one.where, other.where
    if (here.mark, here.keys, here.marks) != (there.mark, there.keys, there.marks):
        return False
    return all(_same(one.get(key), other.get(key)) for key in here.keys)  # checking adds a key of its own to a record


def _free(tree: Tree) -> Tree:
    """A copy as deep as sections and their lists, which joining and checking change; the records themselves are shared."""
    if not isinstance(tree, Mapping):
        return tree
    copy = Mapping()
    copy.where = tree.where
    for name, body in tree.items():
        copy[name] = _free_section(body)
    return copy


def _free_section(body: Tree) -> Tree:
    if isinstance(body, Listing):
        return _free_listing(body)
    if not isinstance(body, Mapping):
        return body
    copy = Mapping()
    copy.where = Where(body.where.file, body.where.mark, body.where.keys, body.where.marks)
    for name, value in body.items():
        copy[name] = _free_listing(value) if isinstance(value, Listing) else value
    return copy


def _free_listing(listing: Listing) -> Listing:
    copy = Listing(listing.file, listing.mark)
    copy.extend(listing)
    copy.marks.extend(listing.marks)
    return copy
