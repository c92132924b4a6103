"""What one reading leaves for the next of nearly the same files: another revision, or a trial with one change undone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from jurystrut.positions import Where
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
        self._trees: dict[str, tuple[str, Tree, list[Problem]]] = {}
        self._sections: dict[str, tuple[object, Checked]] = {}

    def parsed(self, file: RecordFile) -> tuple[Tree, list[Problem]]:
        """The file's tree, free to be joined with others, and its problems."""
        known = self._trees.get(file.path)
        if known is None or known[0] != file.text:
            known = self._trees[file.path] = (file.text, *parse(file.text, file.path))
        return _free(known[1]), known[2]

    def checked(self, name: str, tree: Tree, context: dict[str, Any], files: Iterable[RecordFile]) -> Checked:
        """The records of a section that is spread over some of these files."""
        parts = tuple((file.path, file.text) for file in files if self._holds(file, name))
        key = (parts, tuple(context.items()))
        known = self._sections.get(name)
        if known is None or known[0] != key:
            known = self._sections[name] = (key, check_section(name, tree, context))
        return known[1]

    def _holds(self, file: RecordFile, section: str) -> bool:
        tree = self._trees[file.path][1] if file.path in self._trees else None
        return isinstance(tree, Mapping) and section in tree


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
