"""Sound changes to the sound aircraft here: wires thicker than needed, one circuit more, the same said in other words.

None of them may raise a warning, a failure or a question that was not there.
"""

from __future__ import annotations

import datetime
import re
from functools import cache
from pathlib import Path

import pytest

from jurystrut.judge import judge
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile, record_files
from jurystrut.rulebook import Verdict
from jurystrut.testing import installed

HERE = Path(__file__).parent
DAY = datetime.date(2026, 11, 25)
SOUND = {Verdict.PASS, Verdict.NOT_APPLICABLE, Verdict.NOT_DUE}
FILE = "electrical.yaml"

BREAKER = "kind: breaker, voltage: 32 V, interrupts: 2000 A, resets: by-hand, reachable_in_flight: true, place: under the panel"
WIRE = "spec: M22759/16, bundle: B-FUS"
OUTLET = {
    "  protection:\n": f"\\g<0>    - {{id: B-OUT, rating: 3 A, what: outlet, fed_from: MAIN, {BREAKER}}}\n",
    "  switches:\n": "\\g<0>    - {id: SW-OUT, kind: toggle, what: outlet, rating: 10 A, place: under the panel}\n",
    "  loads:\n": "\\g<0>    - {id: OUT, what: outlet, current: 2 A, nature: electronic, duty: {cruise: 50 %}}\n",
    "  wires:\n": f"""\\g<0>    - {{id: X1, from: B-OUT, to: SW-OUT, size: 20 AWG, length: 12 in, {WIRE}}}
    - {{id: X2, from: SW-OUT, to: OUT, size: 20 AWG, length: 14 in, {WIRE}}}
    - {{id: X3, from: OUT.return, to: G-PNL, size: 20 AWG, length: 18 in, {WIRE}}}
""",
}
FEEDER = f"size: 14 AWG, length: 6 in, {WIRE}, inspectable: true, chafe_guard: true"
DIODE = {
    "(from: SW-AVI, to: )AVI": r"\1D-AVI",
    "  buses:\n": "  diodes: [{id: D-AVI, rating: 20 A, drop: 0.4 V, what: keeps dips of starting off the radios}]\n\\g<0>",
    "  wires:\n": f"\\g<0>    - {{id: X1, from: D-AVI, to: AVI, {FEEDER}}}\n",
}
SPARE = {"  protection:\n": f"\\g<0>    - {{id: B-SPARE, rating: 5 A, fed_from: MAIN, spare: true, {BREAKER}}}\n"}

VARIATIONS: dict[str, dict[str, str]] = {
    "thicker wire to the pump": {r"(id: W\d+, from: SW-PUMP, to: PUMP, size: )\d+": r"\g<1>16"},
    "thicker return of the pump": {r"(from: PUMP.return, to: G-FW, size: )\d+": r"\g<1>14"},
    "thicker wires to the radio": {r"(from: (?:B-COM, to: COM|COM.return, to: G-PNL), size: )\d+": r"\g<1>16"},
    "shorter wires behind the panel": {r"length: (?:16|14|24) in": "length: 12 in"},
    "thicker ground strap": {r"(from: G-PNL, to: G-FW, size: )8": r"\g<1>4"},
    "larger battery": {"capacity: 10 A\\*h": "capacity: 16 A*h"},
    "stronger alternator": {r"(kind: alternator, .*?rating: )(\d+) A": r"\g<1>\g<2>.5 A"},
    "larger switches": {r"(kind: toggle, what: [a-z ]+, rating: )\d+ A": r"\g<1>20 A"},
    "gold contacts everywhere": {r"(kind: toggle, what: [a-z ]+, rating: \d+ A)": r"\1, contact_material: gold"},
    "another standard of switches": {"approved_to: MIL-DTL-3950": "approved_to: MIL-PRF-8805"},
    "more studs": {"studs: 8": "studs: 16"},
    "cooler cabin": {"ambient: 50 degC": "ambient: 40 degC"},
    "bundles less loaded": {"loading: 40 %": "loading: 20 %"},
    "ends named in full": {r"from: (B-[A-Z-]+), to: (SW-[A-Z-]+),": r"from: \1.out, to: \2.in,"},
    "specification with its dashes": {
        r"size: 20 AWG, (length: \d+ in, )spec: M22759/16,": r"size: 20 AWG, \1spec: M22759/16-20-9,"
    },
    "radio of constant power": {"(what: radio, current: [0-9.]+ A, )": r"\1takes: power, "},
    "contacts with resistance": {r"(kind: breaker, rating: \d+ A)": r"\1, resistance: 8 mohm"},
    "ammeter in the battery lead": {"ammeter: generator-lead": "ammeter: battery-lead\n  voltmeter: true"},
    "load meter watched": {"overvoltage: cut-off": "overvoltage: cut-off, monitored: true"},
    "warning a little earlier": {
        "warns_below: 13 V": "warns_below: 13.4 V",
        "warns_below: 26 V": "warns_below: 26.8 V",
    },
    "system named by its battery": {
        "nominal_voltage: 28 V": "nominal_voltage: 24 V",
        "nominal_voltage: 14 V": "nominal_voltage: 12 V",
    },
    "spare breaker": SPARE,
    "markings of their own": {r"(id: )(W\d+)(, from: B-)": r"\1\2, marking: \2-A\3"},
    "lithium battery": {"chemistry: agm": "chemistry: lithium-iron-phosphate"},
    "longer endurance that it has": {"endurance: 30 min": "endurance: 31 min"},
    "one circuit more": OUTLET,
    "diode before the avionics bus": DIODE,
}
"""By what the builder does: patterns in electrical.yaml, and what is put in their place."""

NEW = ("B-OUT", "SW-OUT", "OUT", "B-SPARE", "D-AVI")
"""What variations add, and what is then named in a component of the weights too."""


@cache
def files_of(name: str) -> dict[str, str]:
    return {file.path: file.text for file in record_files(HERE / name)}


def noted(files: dict[str, str]) -> set[tuple[str, str, str]]:
    project = read_files([RecordFile(path, text) for path, text in files.items()])
    assert not project.problems, project.problems
    judgement = judge(project, installed(), on=DAY)
    assert not judgement.problems, judgement.problems
    return {
        (result.rule.id, finding.subject, finding.verdict.value)
        for result in judgement.results
        for finding in result.findings
        if finding.verdict not in SOUND
    }


@cache
def before(name: str) -> set[tuple[str, str, str]]:
    return noted(files_of(name))


def varied(name: str, variation: str) -> dict[str, str]:
    files = dict(files_of(name))
    changed = files[FILE]
    for pattern, text in VARIATIONS[variation].items():
        once = pattern.startswith("  ")
        changed = re.sub(pattern, text, changed, count=1 if once else 0)
    assert changed != files[FILE]
    files[FILE] = changed
    added = "".join(f"{id_}, " for id_ in NEW if f"id: {id_}," in changed)
    files["weights.yaml"] = files["weights.yaml"].replace("equipment: [", f"equipment: [{added}", 1)
    return files


@pytest.mark.parametrize("variation", VARIATIONS)
@pytest.mark.parametrize("name", ["night_heron", "reed_otter"])
def test_a_sound_change_raises_nothing(name: str, variation: str) -> None:
    assert noted(varied(name, variation)) - before(name) == set()
