"""A large invented electrical system: fuse, switch, load, three wires and a sixth of a bundle for every circuit."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["RECORDS_A_CIRCUIT", "write_aircraft"]

RECORDS_A_CIRCUIT = 6

_AIRCRAFT = """\
aircraft:
  name: Synthetic
  authority: US
  stage: systems
  operations: [day-vfr]
  without: [panel, weights, lighting, covering, fuel, markings]
  limits: {altitude: 12000 ft}
"""
_SOURCES = """\
electrical:
  nominal_voltage: 14 V
  sources:
    - {id: ALT, kind: alternator, rating: 40 A, voltage: 14.2 V}
    - {id: BAT, kind: battery, capacity: 18 A*h, voltage: 12.6 V}
  buses: [{id: MAIN, rating: 80 A}]
  grounds: [{id: G, kind: single-point}]
  wires:
    - {id: W-ALT, from: ALT, to: MAIN, size: 4/0 AWG, length: 30 in, spec: M22759/16}
    - {id: W-BAT, from: BAT, to: MAIN, size: 4/0 AWG, length: 30 in, spec: M22759/16, serves: starter-feeder}
    - {id: W-ALT-R, from: ALT.return, to: G, size: 4/0 AWG, length: 30 in, spec: M22759/16}
    - {id: W-BAT-R, from: BAT.return, to: G, size: 4/0 AWG, length: 30 in, spec: M22759/16, serves: starter-feeder}
"""


def write_aircraft(folder: Path, circuits: int) -> int:
    """Write the records of so many circuits into a folder, 5,000 circuits a file; gives the number of records."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "aircraft.yaml").write_text(_AIRCRAFT, encoding="utf-8")
    (folder / "sources.yaml").write_text(_SOURCES, encoding="utf-8")
    for first in range(0, circuits, 5000):
        numbers = range(first, min(first + 5000, circuits))
        (folder / f"circuits-{first:07d}.yaml").write_text(_circuits(numbers), encoding="utf-8")
    return circuits * RECORDS_A_CIRCUIT


def _circuits(numbers: range) -> str:
    parts: dict[str, list[str]] = {"protection": [], "switches": [], "loads": [], "wires": [], "bundles": []}
    for i in numbers:
        bundle = i // 6
        parts["protection"].append(
            f"{{id: F{i}, kind: blade-fuse, rating: 5 A, what: circuit {i}, fed_from: MAIN, reachable_in_flight: false}}"
        )
        parts["switches"].append(f"{{id: S{i}, kind: toggle, rating: 15 A, what: circuit {i}}}")
        parts["loads"].append(
            f"{{id: L{i}, current: {1 + i % 3}.5 A, nature: led, what: lamp {i}, duty: {{landing: 10 %}}}}"
        )
        for end, (start, stop) in enumerate(((f"F{i}", f"S{i}"), (f"S{i}", f"L{i}"), (f"L{i}.return", "G"))):
            length = 20 + (7 * i + 11 * end) % 90
            parts["wires"].append(
                f"{{id: W{i}-{end}, from: {start}, to: {stop}, size: 18 AWG, length: {length} in, "
                f"spec: M22759/16, bundle: B{bundle}}}"
            )
        if i % 6 == 0:
            parts["bundles"].append(f"{{id: B{bundle}, ambient: {40 + bundle % 30} degC, loading: 20 %}}")
    lines = (f"  {name}:\n" + "".join(f"    - {record}\n" for record in records) for name, records in parts.items())
    return "electrical:\n" + "".join(lines)
