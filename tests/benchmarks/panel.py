"""Prints how long the panel's rules take, from 1,250 items to 10,000, and its drawing: `python tests/benchmarks/panel.py`.

Twice the items should take twice the time: to judge, to write as DXF, to read again, and to hold against the records.
"""

from __future__ import annotations

import gc
import math
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING

from jurystrut.judge import Rulebook, installed_packs, judge, load
from jurystrut.panel_drawing.commands import compared, drawn
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile

if TYPE_CHECKING:
    from jurystrut.records.project import Project

SIZES = (1_250, 2_500, 5_000, 10_000)


def panel(items: int) -> str:
    """A square panel of so many switches, 1.25 in apart, with legends, a beam behind and everything that rules ask for."""
    side = math.ceil(math.sqrt(items))
    wide = side * 1.25 + 1
    beam = ", ".join(f"[{x} in, {y} in]" for x, y in ((0, wide), (wide, wide), (wide, wide + 9), (0, wide + 9)))
    lines = [
        "aircraft: {name: Panel of many switches, authority: US, stage: operating, without: [electrical, weights]}",
        "panel:",
        f"  outline: [[0 in, 0 in], [{wide} in, 0 in], [{wide} in, {wide} in], [0 in, {wide} in]]",
        "  opening: {way: tilts, hinge: bottom, hinge_at: 0 in, angle: 45 deg}",
        "  seats: [{id: P, eye: [10 in, 9 in, 28 in], shoulder: [10 in, 5 in, 20 in], reach: 999 in}]",
        f"  keep_outs: [{{id: K, what: beam, corners: [{beam}], behind: 2 in}}]",
    ]
    holes, legends, records = [], [], []
    for place in range(items):
        x, y = 1 + 1.25 * (place % side), 1 + 1.25 * (place // side)
        screws = "screws: [[0.35 in, 0.35 in], [-0.35 in, -0.35 in]], screw_diameter: 0.1 in"
        holes.append(f"    - {{id: H{place}, centre: [{x} in, {y} in], diameter: 0.47 in, {screws}}}")
        legends.append(
            f"    - {{id: L{place}, text: SWITCH {place}, centre: [{x} in, {y + 0.5} in], letter_height: 0.14 in}}"
        )
        records.append(
            f"    - {{id: S{place}, kind: switch, hole: H{place}, legend: L{place}, bezel: {{diameter: 0.6 in}}, depth: 1.3 in, "
            f"body: {{width: 0.8 in, height: 0.8 in}}, confusion_hurts: true, distinct: knurled}}"
        )
    return "\n".join([*lines, "  holes:", *holes, "  legends:", *legends, "  items:", *records, ""])


def drawing(project: Project) -> str:
    """How long it takes to draw the panel, to read the drawing, and to hold it against the records."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "panel.dxf"
        start = time.process_time()
        path.write_text(drawn(project, None), encoding="utf-8")
        written = time.process_time()
        comparison = compared(project, path, sheet=None, tolerance=0.001, unit=None, layer=None)
        held = time.process_time()
    agree = f"{comparison.agreeing} holes and {comparison.words} legends agree"
    return f"drawn in {written - start:.2f} s, held against the records in {held - written:.2f} s: {agree}"


def main() -> None:
    """Measure and print."""
    book = load(installed_packs())
    rules = tuple(rule for rule in book.rules if rule.domain == "panel")
    book = Rulebook(rules, book.facts, book.references, book.packs)
    gc.disable()
    earlier = 0.0
    for size in SIZES:
        project = read_files([RecordFile("panel.yaml", panel(size))])
        start = time.process_time()
        judgement = judge(project, book)
        seconds = time.process_time() - start
        findings = sum(len(result.findings) for result in judgement.results)
        growth = f", {seconds / earlier:.2f} times as long as for half as many" if earlier else ""
        print(
            f"{size} items: {findings} findings in {seconds:.2f} s, {seconds / size * 1e6:.0f} us an item{growth}",
            flush=True,
        )
        print(f"  {drawing(project)}", flush=True)
        earlier = seconds


if __name__ == "__main__":
    main()
