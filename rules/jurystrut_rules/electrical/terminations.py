"""Are the ends of wires sound, and are wires marked and spliced as AC 43.13-1B describes it?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_most, no_data, not_applicable, passes, rule
from jurystrut_rules.electrical.installed import Figure, inches, said, within
from jurystrut_rules.electrical.tables import allowed_strands

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical, Wire

__all__ = ["ends_are_marked", "markings_are_close", "splices_are_few", "strands_are_whole"]

_SPLICES = Figure(1, "splices", "AC 43.13-1B 11-167, from memory")  # ac43-11-167
_MARKING = Figure(15.0, "in", "AC 43.13-1B 11-208, read")  # ac43-11-208
_SLEEVE = Figure(72.0, "in", "AC 43.13-1B 11-208: 6 is read, that it means feet is from memory")  # ac43-11-208 (memory)
_UNMARKED_BELOW_IN = 3.0  # ac43-11-208


@rule(
    "electrical/strands",
    title="Nicked and broken strands",
    asks="Has every termination no more nicked and broken strands than Table 11-13 allows?",
    references=("ac43-table-11-13",),
    due=Stage.SYSTEMS,
    remedy="Cut the wire back and terminate it anew.",
)
def strands_are_whole(electrical: Electrical) -> Iterator[Finding]:
    """A wire counts where somebody looked and recorded a number. Nicked and broken strands have a figure each; the one that is
    worse against its own is shown, and where only one of them is recorded and good, the other is missing. Aluminium may have
    none.
    """
    looked = [wire for wire in electrical.wires if wire.nicked is not None or wire.broken is not None]
    if not looked:
        message = "nicked and broken strands are recorded for no wire"
        yield no_data(
            "aircraft", message, electrical.at("wires"), remedy="Record 'nicked' and 'broken', 0 where none is."
        )
    for wire in looked:
        yield _strands(wire)


def _strands(wire: Wire) -> Finding:
    allowed = allowed_strands(wire.size.name, wire.material) if wire.size else None
    if allowed is None:
        return no_data(wire.id, "its size is not recorded, or not in Table 11-13 for its metal", wire.at())
    cells = [
        (field, count, most)
        for field, count, most in zip(("nicked", "broken"), (wire.nicked, wire.broken), allowed, strict=True)
        if count is not None
    ]
    field, count, most = max(cells, key=lambda cell: (max(0, cell[1] - cell[2]), cell[1]))
    if count <= most and len(cells) == 1:
        other = "broken" if field == "nicked" else "nicked"
        return no_data(wire.id, f"{other} strands are not recorded", wire.at(), remedy=f"Record '{other}'.")
    return at_most(
        wire.id,
        count,
        most,
        "strands",
        f"{count} {field} strands at a termination of {wire.size} {wire.material}; Table 11-13 allows {most}",
        wire.at(field),
        remedy="Cut the wire back and terminate it anew.",
        working=lambda: [
            *(f"{name}: recorded {found}, Table 11-13 allows {limit} (read)" for name, found, limit in cells),
            f"margin of the worse, {field}: {most - count} strands",
        ],
    )


@rule(
    "electrical/splices",
    title="Splices in a wire",
    asks="Has every wire no more than one splice between its ends?",
    references=("ac43-11-167",),
    due=Stage.SYSTEMS,
    remedy="Replace the wire.",
    at_worst=Verdict.WARN,
)
def splices_are_few(electrical: Electrical) -> Iterator[Finding]:
    """Wires whose splices are counted are judged; a splice that is a junction of its own ends a wire. From memory."""
    counted = [wire for wire in electrical.wires if wire.splices is not None]
    if not counted:
        message = "splices are recorded for no wire"
        yield no_data("aircraft", message, electrical.at("wires"), remedy="Record 'splices', 0 where none is.")
    for wire in counted:
        message = f"{wire.splices} splices between its ends"
        yield within(wire.id, wire.splices or 0, _SPLICES, message, wire.at("splices"), remedy="Replace the wire.")


@rule(
    "electrical/marking-interval",
    title="Markings along a wire",
    asks="Is every wire marked at least every 15 in, or every 6 ft on printed sleeves?",
    references=("ac43-11-208",),
    due=Stage.SYSTEMS,
    remedy="Mark the wire between.",
)
def markings_are_close(electrical: Electrical) -> Iterator[Finding]:
    """Wires whose `marking_interval` is recorded are judged. A wire of less than 3 in needs none; one of 3 to 7 in is marked at
    its middle, which is within 15 in of either end. That the 6 between printed sleeves means feet is from memory, so those
    warn at most.
    """
    marked = [wire for wire in electrical.wires if wire.marking_interval is not None]
    if not marked:
        message = "how far apart markings stand is recorded for no wire"
        yield no_data("aircraft", message, electrical.at("wires"), remedy="Record 'marking_interval'.")
    for wire in marked:
        if wire.length and wire.length.to("in") < _UNMARKED_BELOW_IN:
            yield not_applicable(wire.id, f"{wire.length} long; below 3 in no marking is asked for", wire.at())
            continue
        apart = inches(wire.marking_interval)
        how, figure = ("on printed sleeves", _SLEEVE) if wire.printed_sleeves else ("on the wire", _MARKING)
        message = f"marked every {apart:g} in {how}"
        found = within(wire.id, apart, figure, message, wire.at("marking_interval"), remedy="Mark it between.")
        if wire.printed_sleeves and found.verdict is Verdict.FAIL:
            found = found._replace(verdict=Verdict.WARN)
        yield found


@rule(
    "electrical/marked-ends",
    title="Markings at both ends",
    asks="Is every wire of 3 in or more marked at both its ends?",
    references=("ac43-11-208",),
    due=Stage.SYSTEMS,
    remedy="Mark the end.",
)
def ends_are_marked(electrical: Electrical) -> Iterator[Finding]:
    """Wires that say whether both ends are marked are judged, those with an unmarked end one by one. A wire of less than 3 in
    needs no marking; where it says nothing of its length it counts as longer.
    """
    known = [wire for wire in electrical.wires if wire.ends_marked is not None]
    if not known:
        message = "whether the ends are marked is recorded for no wire"
        yield no_data("aircraft", message, electrical.at("wires"), remedy="Record 'ends_marked'.")
        return
    short = [wire for wire in known if wire.length and inches(wire.length) < _UNMARKED_BELOW_IN]
    exempt = {wire.id for wire in short}
    bare = [wire for wire in known if not wire.ends_marked and wire.id not in exempt]
    for wire in bare:
        yield said(
            wire.id,
            "an end of it is not marked",
            wire.at("ends_marked"),
            good=False,
            source="AC 43.13-1B 11-208, read",
            recorded=f"{wire.length or 'no length'}, ends_marked: false",
            wanted=f"a marking at each end from {_UNMARKED_BELOW_IN:g} in on",
            remedy="Mark both its ends.",
        )
    if not bare:
        yield passes(
            "aircraft",
            f"{len(known) - len(short)} wires marked at both ends",
            electrical.at("wires"),
            working=lambda: [
                f"recorded: ends_marked for {len(known)} of {len(electrical.wires)} wires, {len(short)} of them under 3 in",
                "wanted: a marking at each end (AC 43.13-1B 11-208, read)",
            ],
        )
