"""A record that nothing refers to changes no other record's finding."""

from __future__ import annotations

import pytest
from tests.properties.judgements import Said, alike, as_recorded, judged, said, texts

from jurystrut.rulebook import Verdict

NEW = "BRAND-NEW"

ADDED = {
    "electrical: {buses: [%s]}": "",
    "electrical: {junctions: [%s]}": "kind: splice",
    "electrical: {protection: [%s]}": "kind: breaker, rating: 5 A, spare: true",
    "electrical: {loads: [%s]}": "current: 1 A, nature: led",
    "electrical: {switches: [%s]}": "kind: toggle",
    "weights: {components: [%s]}": "what: label, weight: 0 lb, arm: 10 in, basis: weighed",
    "weights: {stations: [%s]}": "kind: baggage, arm: 14 in, maximum: 0 lb",
    "panel: {legends: [%s]}": "text: SPARE",
    "panel: {keep_outs: [%s]}": "what: tube, behind: 30 in, corners: [[0 in, 0 in], [1 in, 0 in], [1 in, 1 in]]",
    "lighting: {lights: [%s]}": "function: landing",
    "covering: {products: [%s]}": "what: cement",
    "covering: {surfaces: [%s]}": "what: spare rudder",
    "hardware: {joints: [%s]}": "",
    "hardware: {wrenches: [%s]}": "",
    "rigging: {cables: [%s]}": "",
    "fuel: {lines: [%s]}": "",
    "markings: {placards: [%s]}": "purpose: other, text: NO STEP",
    "documents: [%s]": "kind: other",
}
"""Where a record is added, and what it says; nothing names it, and it weighs, draws and touches nothing."""


def of_others(given: Said) -> Said:
    """Without the new record, and without `aircraft`, under which a rule says that it found nothing to ask."""
    return Said(
        {key: verdict for key, verdict in given.verdicts.items() if not {NEW, "aircraft"} & set(key)},
        {key: value for key, value in given.figures.items() if not {NEW, "aircraft"} & set(key)},
    )


@pytest.mark.parametrize("place", ADDED)
def test_it_changes_nothing_for_others(place: str) -> None:
    record = "{" + ", ".join(filter(None, (f"id: {NEW}", ADDED[place]))) + "}"
    after = judged({**texts("project_example"), "new.yaml": place % record + "\n"})
    assert NEW in after.project.index[place.partition(":")[0]]
    alike(of_others(as_recorded("project_example")), of_others(said(after)))


def test_a_declared_loading_is_another_that_the_weighing_must_be_sure_of() -> None:
    """Where it is not true: the band of the weighing is held against the declared loading that is nearest to a limit."""
    text = "weights: {loadings: [{id: BRAND-NEW}]}\n"
    before = said(judged(texts("project_example"), "weights/weighing-band"))
    after = said(judged({**texts("project_example"), "new.yaml": text}, "weights/weighing-band"))
    room = ("weights/weighing-band", "WEIGHING-2", "", "0", "0")
    assert after.figures[room] < before.figures[room]
    assert after.verdicts == before.verdicts == {room[:-1]: Verdict.PASS}
