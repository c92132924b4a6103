"""What is fed to every reader: bytes in, and a check of what must hold of the answer whatever the bytes were.

A target raises where something does not hold; a text that is refused in words is an answer like any other.
"""

from __future__ import annotations

import contextlib
import functools
import math
from itertools import pairwise
from random import Random
from typing import TYPE_CHECKING, Any

from tests.fuzz.making import mutated, sound_records, written

import jurystrut.quantities as q
from jurystrut.compare.hunks import applied, hunks_between
from jurystrut.compare.objects import commit_of, entries
from jurystrut.errors import UsageError
from jurystrut.gates import read_gates
from jurystrut.judge import judge
from jurystrut.panel_drawing.dxf import read_dxf
from jurystrut.panel_drawing.svg import read_svg
from jurystrut.reading import read_files
from jurystrut.reading.evidence import made_small
from jurystrut.reading.files import RecordFile, decoded
from jurystrut.reading.lists import listed_records
from jurystrut.reading.overlay import lay_over
from jurystrut.reading.sections import gather
from jurystrut.reading.spreadsheet import records_of as sheet_records
from jurystrut.reports import FORMATS, writer
from jurystrut.testing import DAY, installed
from jurystrut.tree import Listing, Mapping, parse
from jurystrut.workshop.forecast import hours_of

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from jurystrut.errors import Problem
    from jurystrut.panel_drawing.contours import Contour
    from jurystrut.reading.columns import Imported

__all__ = ["KINDS", "READING"]

KINDS: tuple[type[q.Quantity], ...] = tuple(
    kind
    for kind in (getattr(q, name) for name in q.__all__)
    if isinstance(kind, type) and issubclass(kind, q.Quantity) and kind is not q.Quantity
)
_LONGEST_MESSAGE = 1000


def _in_few_words(refused: Exception) -> None:
    assert 0 < len(str(refused)) < _LONGEST_MESSAGE


def _one_of(data: bytes) -> type[q.Quantity]:
    return KINDS[sum(data) % len(KINDS)]


def _read_or_refused(read: Callable[[str], Any], words: str) -> Any:
    try:
        value = read(words)
    except q.QuantityError as refused:
        _in_few_words(refused)
        return None
    assert len(words) <= 64
    return value


def quantities(data: bytes) -> None:
    """A quantity is finite, has a sign only where it may, and reads back as itself."""
    words, kind = data.decode("utf-8", "surrogateescape"), _one_of(data)
    for read in (kind.parse, kind.parse_american):
        value = _read_or_refused(read, words)
        if value is not None:
            assert math.isfinite(value.si)
            assert value.signed or value.si >= 0
            assert read(str(value)) == value


def gauges(data: bytes) -> None:
    """A gauge reads back as itself."""
    value = _read_or_refused(q.Gauge.parse, data.decode("utf-8", "surrogateescape"))
    assert value is None or q.Gauge.parse(str(value)) == value


def ranges(data: bytes) -> None:
    """A range runs upwards and reads back as itself."""
    words, kind = data.decode("utf-8", "surrogateescape"), _one_of(data)
    value = _read_or_refused(lambda text: q.Range.parse(text, kind), words)
    if value is not None:
        assert value.low.si <= value.high.si
        assert q.Range.parse(str(value), kind) == value


def tolerances(data: bytes) -> None:
    """A tolerance has a width of no less than nothing and reads back as itself."""
    words, kind = data.decode("utf-8", "surrogateescape"), _one_of(data)
    value = _read_or_refused(lambda text: q.Tolerance.parse(text, kind), words)
    if value is not None:
        assert all(map(math.isfinite, (value.low.si, value.high.si)))
        assert value.low.si <= value.high.si
        assert q.Tolerance.parse(str(value), kind) == value


def tree(data: bytes) -> None:
    """A tree holds as many marks as values, problems stand in lines that are there, and no value holds what cannot be seen."""
    file = decoded("x.yaml", data)
    if file.problem:
        return
    lines = file.text.count("\n") + file.text.count("\r") + file.text.count("\x85") + 2
    lines += file.text.count("\u2028") + file.text.count("\u2029")
    root, problems = parse(file.text, "x.yaml")
    for problem in problems:
        assert 1 <= problem.position.line <= lines, problem
        assert problem.position.column >= 1
        assert len(problem.message) < _LONGEST_MESSAGE
    for part in _parts(root):
        if isinstance(part, Mapping):
            assert problems or len(part.where.marks) == 2 * len(part)
            assert all(key and "\0" not in key for key in part)
        elif isinstance(part, Listing):
            assert len(part.marks) == len(part)
        else:
            assert part is None or not set(part) & set("\0\x1b\x9b\u202e\u200b")


def _parts(root: Any) -> Iterator[Any]:
    pending = [root]
    while pending:
        part = pending.pop()
        yield part
        if isinstance(part, Mapping):
            pending.extend(part.values())
        elif isinstance(part, Listing):
            pending.extend(part)


def _told_in_place(problems: tuple[Problem, ...], *names: str) -> None:
    for problem in problems:
        assert problem.position.file in {*names, "."}, problem
        assert len(problem.message) < _LONGEST_MESSAGE
        assert "a bug in this rule" not in problem.message, problem.message


def records_of(random: Random) -> str:
    """Records of all sections, sound or changed in some places, as a text that may be YAML."""
    made: Any = sound_records(random)
    for _ in range(random.randint(0, 4)):
        made = mutated(made, random)
    return written(made, random, random.choice((0.0, 0.02, 0.2)))


def records(data: bytes) -> None:
    """Records made by chance become models, or problems at their places."""
    _told_in_place(read_files([RecordFile("x.yaml", records_of(Random(data)))]).problems, "x.yaml")


def text(data: bytes) -> None:
    """The same of any text at all."""
    _told_in_place(read_files([decoded("x.yaml", data)]).problems, "x.yaml")


def judged(data: bytes) -> None:
    """The whole way: read, judged by every rule, written in every format."""
    file = RecordFile("x.yaml", records_of(Random(data))) if data[:1] == b"\0" else decoded("x.yaml", data)
    judgement = judge(read_files([file]), installed(), on=DAY)
    _told_in_place(judgement.problems, "x.yaml")
    assert judgement.problems or all(result.findings for result in judgement.results)
    for name in FORMATS:
        writer(name)(judgement)


def trial(data: bytes) -> None:
    """A trial is laid over records and leaves a tree with a mark for every item."""
    one, _, other = data.decode("utf-8", "replace").partition("\n===\n")
    sections, _ = gather([("x.yaml", parse(one, "x.yaml")[0])])
    try:
        lay_over(sections, RecordFile("y.yaml", other))
    except UsageError:
        return
    assert all(
        len(part.marks) == len(part) for root in sections.values() for part in _parts(root) if type(part) is Listing
    )


def spreadsheet(data: bytes) -> None:
    """What is made of a spreadsheet is YAML without a mistake, and every record of it stands; of lists that come first, too."""
    text, columns = data.decode("utf-8", "replace"), {"arm": "FS"} if data[:1] == b"\0" else {}
    readers: list[Callable[[], Imported]] = [
        lambda: sheet_records(text, "x.csv", columns),
        lambda: listed_records("wires", text, "x.csv", {}, alone=True),
        lambda: listed_records("panel", text, "x.csv", {}, alone=True),
    ]
    for read in readers:
        try:
            imported = read()
        except UsageError as refused:
            _in_few_words(refused)
            continue
        problems = read_files(
            [RecordFile("x.yaml", "aircraft: {name: T, authority: US, stage: design}\n" + imported.text)]
        ).problems
        assert not problems, (imported.text, problems)


def forecast(data: bytes) -> None:
    """The hours of a forecast rise, and their figures are finite."""
    try:
        hours = hours_of(data.decode("utf-8", "replace"), "x.csv")
    except UsageError as refused:
        _in_few_words(refused)
        return
    assert all(earlier.time < later.time for earlier, later in pairwise(hours))
    figures = (number for hour in hours for number in (hour.celsius, hour.humidity, hour.wind))
    assert all(math.isfinite(number) for number in figures if number is not None)


def hunks(data: bytes) -> None:
    """All pieces of a change put in give the later text, and none the earlier one."""
    one, _, other = data.decode("utf-8", "surrogateescape").partition("\n===\n")
    before, after = {"a": one, "b": other}, {"a": other, "c": one}
    pieces = hunks_between(before, after)
    assert applied(before, pieces) == after
    assert applied(before, []) == before


def objects(data: bytes) -> None:
    """git's trees and commits, as a damaged or forged repository may hold them."""
    for read in (lambda: list(entries(data, 20)), lambda: commit_of("0" * 40, data)):
        try:
            read()
        except UsageError:
            continue


def _drawing(data: bytes, suffix: str, read: Callable[[Path], list[Contour]]) -> None:
    path = _scratch() / f"drawing{suffix}"
    path.write_bytes(data)
    try:
        contours = read(path)
    except UsageError as refused:
        _in_few_words(refused)
        return
    for contour in contours:
        assert all(map(math.isfinite, (*(contour.circle or ()), *(n for corner in contour.corners for n in corner))))
        contour.box()


@functools.cache
def _scratch() -> Path:
    import atexit
    import shutil
    import tempfile
    from pathlib import Path

    folder = Path(tempfile.mkdtemp())
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    return folder


def dxf(data: bytes) -> None:
    """A drawing from another program is contours with finite corners, or refused."""
    _drawing(data, ".dxf", lambda path: read_dxf(path, unit="in").contours)


def svg(data: bytes) -> None:
    """The same as SVG."""
    _drawing(data, ".svg", read_svg)


def photo(data: bytes) -> None:
    """A photo has a thumbnail that is a JPEG, or none."""
    thumbnail = made_small(data)
    assert thumbnail is None or (thumbnail[0] == "image/jpeg" and thumbnail[1].startswith(b"\xff\xd8"))


def gates(data: bytes) -> None:
    """A file of gates can stand, or is refused with every mistake in it."""
    path = _scratch() / "gates.yaml"
    path.write_bytes(data)
    with contextlib.suppress(UsageError):
        read_gates(path, installed(), DAY)


READING: dict[str, Callable[[bytes], None]] = {
    "quantities": quantities,
    "gauges": gauges,
    "ranges": ranges,
    "tolerances": tolerances,
    "tree": tree,
    "text": text,
    "records": records,
    "judged": judged,
    "trial": trial,
    "spreadsheet": spreadsheet,
    "forecast": forecast,
    "hunks": hunks,
    "objects": objects,
    "photo": photo,
    "gates": gates,
    "dxf": dxf,
    "svg": svg,
}
