"""Every fortieth of the seeded faults is answered, or its silence explained; `python tests/faults/harvest.py` sows them all."""

from __future__ import annotations

from tests.faults.harvest import Explained, example, harvested
from tests.faults.seeds import entries, faults, fields

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
    harvest = harvested(ground, Explained(), every=40)
    assert harvest.unexplained == []
    assert harvest.answered.total() > 0.9 * harvest.sown.total()


def test_what_is_sown() -> None:
    files = {"a.yaml": STATIONS}
    found = list(entries(files))
    sown = {(fault.kind, fault.what): fault for fault in faults(found, list(fields(found, files)), files)}
    assert sown["other unit", "stations SHELF.arm: 44 in -> 44 cm"].text == STATIONS.replace("44 in", "44 cm")
    assert sown["other unit", "stations SHELF.arm: 44 in -> 44 cm"].at == (4, 24)
    assert sown["other dimension", "stations BOX.arm: 50 in -> 50 cd"].text.endswith("arm: 50 cd\n")
    assert sown["id renamed", "stations SEAT renamed"].text.count("SEAT-other") == 1
    assert sown["record removed", "stations BOX removed"].text == STATIONS.partition("    - id: BOX")[0]
    swapped = sown["swapped", "stations SEAT SHELF: arm swapped"].text
    assert swapped.index("44 in") < swapped.index("22 in") < swapped.index("50 in")
    assert len(sown) == 3 * 2 + 3 * 2 + 2
