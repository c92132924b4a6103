"""Every eightieth of the seeded faults is answered, or its silence explained; `python tests/faults/harvest.py` sows them all."""

from __future__ import annotations

import pytest
from tests.faults.explained import Explained
from tests.faults.ground import example
from tests.faults.harvest import harvested
from tests.faults.seeds import faults
from tests.faults.slips import slips
from tests.faults.sound import unchanged
from tests.faults.trial import Shift
from tests.faults.values import entries, values

from jurystrut.positions import pack_mark

STATIONS = """\
weights:
  stations:
    - {id: SEAT, arm: 22 in}
    - {id: SHELF, arm: 44 in}
    - id: BOX
      arm: 50 in
"""


def test_faults_are_answered() -> None:
    ground = example()
    assert len(ground.faults) + len(ground.measured()) >= 5000
    harvest = harvested(ground, Explained(), every=80)
    assert harvest.unexplained == []
    assert harvest.noted.total() + harvest.moved.total() > 0.9 * harvest.sown.total()
    assert harvest.unrelated.total() == harvest.false.total() == 0


def test_what_is_sown() -> None:
    files = {"a.yaml": STATIONS}
    found = list(entries(files))
    sown = {(fault.kind, fault.what): fault for fault in faults(found, list(values(found, files)), files)}
    assert sown["other unit", "stations SHELF.arm: 44 in -> 44 cm"].text == STATIONS.replace("44 in", "44 cm")
    assert sown["other unit", "stations SHELF.arm: 44 in -> 44 cm"].at == (4, 24)
    assert sown["other dimension", "stations BOX.arm: 50 in -> 50 cd"].text.endswith("arm: 50 cd\n")
    assert sown["id renamed", "stations SEAT renamed"].text.count("SEAT-other") == 1
    assert sown["record removed", "stations BOX removed"].text == STATIONS.partition("    - id: BOX")[0]
    swapped = sown["swapped", "stations SEAT SHELF: arm swapped"].text
    assert swapped.index("44 in") < swapped.index("22 in") < swapped.index("50 in")
    assert len(sown) == 3 * 2 + 3 * 2 + 2


SLIPS = """\
weights:
  stations:
    - {id: SEAT, kind: seat, arm: 22.5 in, occupants: 2, may_be_empty: true}
    - {id: SHELF, kind: seat, arm: 44 in}
  weighings:
    - id: W1
      day: 2026-03-10
      missing: [{what: oil, weight: 6 lb, arm: -20 in}]
  loadings: [{id: SOLO, stations: {SEAT: 170 lb}}]
  report: {weighing: W1, most_aft: SOLO}
"""


@pytest.mark.parametrize(
    ("kind", "before", "after"),
    [
        ("ten times", "22.5 in", "225 in"),
        ("point forgotten", "22.5 in", "225 in"),
        ("count off by one", "occupants: 2", "occupants: 3"),
        ("count off by one", "occupants: 2", "occupants: 1"),
        ("flag turned", "true", "false"),
        ("other word", "SEAT, kind: seat", "SEAT, kind: baggage"),
        ("other year", "2026-03-10", "2025-03-10"),
        ("other year", "2026-03-10", "2027-03-10"),
        ("field left out", "kind: seat, arm: 22.5 in, ", "kind: seat, "),
        ("field left out", ", may_be_empty: true}", "}"),
        ("field left out", "      day: 2026-03-10\n", ""),
        ("list left out", "      missing: [{what: oil, weight: 6 lb, arm: -20 in}]\n", ""),
        ("list left out", "  loadings: [{id: SOLO, stations: {SEAT: 170 lb}}]\n", ""),
        (
            "record copied",
            "    - {id: SHELF, kind: seat, arm: 44 in}\n",
            "    - {id: SHELF, kind: seat, arm: 44 in}\n    - {id: SHELF-other, kind: seat, arm: 44 in}\n",
        ),
        ("section left out", SLIPS, ""),
    ],
)
def test_slips(kind: str, before: str, after: str) -> None:
    files = {"a.yaml": SLIPS}
    found = list(entries(files))
    texts = [slip.text for slip in slips(found, list(values(found, files)), files) if slip.kind == kind]
    assert SLIPS.replace(before, after, 1) in texts


def test_what_says_the_same() -> None:
    files = {"a.yaml": SLIPS}
    found = list(entries(files))
    same = {(one.kind, one.what): one.files for one in unchanged(found, list(values(found, files)), files)}
    metric = same["same in another unit", "stations.arm of SHELF: 44 in as 1117.6 mm"]
    assert metric == {"a.yaml": SLIPS.replace("44 in", "1117.6 mm")}  # 25.4 mm are an inch
    assert same["renamed everywhere", "SEAT renamed everywhere"] == {"a.yaml": SLIPS.replace("SEAT", "SEAT-other")}
    moved = same["moved to another file", "stations SHELF moved to a file of its own"]
    shelf = "    - {id: SHELF, kind: seat, arm: 44 in}\n"
    assert moved == {"a.yaml": SLIPS.replace(shelf, ""), "moved-there.yaml": f"weights:\n stations:\n{shelf}"}


def test_a_place_behind_a_change_is_found_again() -> None:
    before, after = "a: 1\nb: {c: 2, d: 3}\n", "a: 1\nnew: 4\nb: {c: 2, d: 3}\n"
    assert Shift("f", before, after).back("f", pack_mark(2, 3)) == ("f", pack_mark(1, 3))
    assert Shift("f", before, after).back("g", pack_mark(2, 3)) == ("g", pack_mark(2, 3))
    assert Shift("f", before, before.replace("2", "20")).back("f", pack_mark(1, 14)) == ("f", pack_mark(1, 13))
