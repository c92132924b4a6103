"""Is each nut of a kind that may be where it is, and each bolt far enough from edges and neighbours?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.hardware.tables import washer_series
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut_rules.hardware.stack import Bolted
    from jurystrut_rules.hardware.tables import Nut

__all__ = [
    "bolt_has_edge",
    "bolts_keep_apart",
    "cotter_where_it_turns",
    "no_nut",
    "nut_not_opened_often",
    "nut_stands_heat",
    "nut_stays_on",
    "shear_nut_in_shear",
    "washers_fit_bolt",
]

_WASHERS = ("head_washers", "nut_washers")
_FIBRE_LIMIT = 250.0  # ac43-7-64: degF
_COTTERED = frozenset({"controls", "landing-gear", "tailwheel"})  # AC 43.13-1B paragraph 7-38
_PLATED_LIMIT = 450.0  # ac43-7-64: degF, cadmium-plated nuts


def no_nut(bolted: Bolted) -> Finding:
    """No data: the nut is not recorded, or not known to the tables."""
    return no_data(bolted.joint.id, bolted.no_nut, bolted.joint.at(), remedy="Record 'nut' by its open part number.")


def _complaint(nut: Nut) -> Callable[..., Finding]:
    """A nut whose kind is known from memory alone is warned of at most."""
    return fails if nut.known == "read" else warns


@rule(
    "hardware/nut-on-turning-part",
    title="Nut on a part that turns",
    asks="Is there no plain self-locking nut where bolt or nut can turn?",
    references=("ac43-7-64",),
    due=Stage.STRUCTURE,
    remedy="Fit a drilled bolt, a castle nut and a cotter.",
)
def nut_stays_on(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A nut held by its own drag is worked off by a part that turns. A castellated self-locking nut with its cotter may stay.
    A bolt that clamps the inner race of a bearing or pulley stands still itself, and does not count as turning.
    """
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield no_nut(bolted)
        elif not joint.rotates:
            yield passes(joint.id, "nothing turns here", joint.at("nut"))
        else:
            say = _complaint(nut) if nut.self_locking and not nut.castle else passes
            yield say(joint.id, f"it turns in use and has {nut}", joint.at("nut"), joint.at("rotates"))


@rule(
    "hardware/cotter",
    title="Cotter pin",
    asks="Has every part that turns, and every castle nut, a drilled bolt and its cotter pin?",
    references=("ac43-7-38", "an3-an20"),
    due=Stage.SYSTEMS,
    remedy="Fit a bolt without the trailing A, a castle nut and a new cotter pin.",
)
def cotter_where_it_turns(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A castle nut without its cotter holds nothing. The shank is drilled where the part number has no trailing A. AC
    43.13-1B asks for cotters in controls, landing gear and tailwheel too; where bolt and nut stand still there, a nut that
    locks otherwise is warned of and does not fail.
    """
    for bolted in bolted_joints:
        joint, nut, bolt = bolted.joint, bolted.nut, bolted.bolt
        if nut is None:
            yield no_nut(bolted)
        elif not nut.castle and not joint.rotates and joint.place in _COTTERED:
            yield warns(
                joint.id,
                f"it belongs to the {joint.place}, and {nut.part} takes no cotter",
                joint.at("nut"),
                joint.at("place"),
            )
        elif not nut.castle and not joint.rotates:
            yield not_applicable(joint.id, f"{nut.part} takes no cotter, and nothing turns here", joint.at("nut"))
        elif not nut.castle:
            yield _complaint(nut)(
                joint.id, f"it turns in use, and {nut.part} takes no cotter", joint.at("nut"), joint.at("rotates")
            )
        elif bolt is None:
            yield no_data(
                joint.id,
                "whether its bolt is drilled is not known",
                joint.at(),
                remedy="Record 'bolt' by its part number.",
            )
        elif not bolt.drilled_shank:
            yield fails(
                joint.id, f"{nut.part} needs a cotter, and the shank of {bolt.part} is not drilled", joint.at("bolt")
            )
        elif joint.cotter is None:
            yield lacking(joint, "cotter")
        else:
            yield passes(joint.id, f"{bolt.part} is drilled; cotter {joint.cotter}", joint.at("cotter"))


@rule(
    "hardware/nut-heat",
    title="Nut and heat",
    asks="Does every nut stand the heat where it is?",
    references=("ac43-7-64", "nut-part-numbers"),
    due=Stage.STRUCTURE,
    remedy="Fit an all-metal nut that stands the heat.",
)
def nut_stands_heat(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """Fibre locking nuts end at 250 degF, cadmium-plated ones at 450 degF; all nuts of the tables count as plated. Where only
    'hot' is recorded, the place counts as just above 250 degF; where neither is, as not hot.
    """
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield no_nut(bolted)
            continue
        limit = _FIBRE_LIMIT if nut.kind == "fibre" else _PLATED_LIMIT
        if joint.temperature is not None:
            heat = joint.temperature.to("degF")
            message = f"{heat:.0f} degF at {nut}"
            yield at_most(joint.id, heat, limit, "degF", message, joint.at("nut"), joint.at("temperature"))
        elif joint.hot:
            say = fails if nut.kind == "fibre" else passes
            yield say(joint.id, f"hotter than 250 degF at {nut}", joint.at("nut"), joint.at("hot"))
        else:
            yield passes(joint.id, "recorded as no hotter than 250 degF", joint.at())


@rule(
    "hardware/nut-opened-often",
    title="Nut that is opened often",
    asks="Is there no plain self-locking nut on anything that is opened for every flight?",
    references=("ac43-7-64",),
    due=Stage.STRUCTURE,
    remedy="Fit a castle nut, a pin or a fastener made for it.",
)
def nut_not_opened_often(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A self-locking nut loses a part of its drag every time; wings that fold, doors and panels wear it out in a season."""
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield no_nut(bolted)
        elif not joint.opened_often:
            yield passes(joint.id, "not opened for a flight", joint.at())
        else:
            say = _complaint(nut) if nut.self_locking and not nut.castle else passes
            yield say(joint.id, f"opened for every flight, with {nut}", joint.at("nut"))


@rule(
    "hardware/shear-nut",
    title="Shear nut",
    asks="Is every thin shear nut on a bolt that is loaded in shear?",
    references=("ac43-7-67", "ac43-table-7-1"),
    due=Stage.STRUCTURE,
    remedy="Fit the full nut, AN310 or AN365, and its torque.",
)
def shear_nut_in_shear(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """AN320 and AN364 are thin nuts, which keep a bolt in its hole and carry no tension."""
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield no_nut(bolted)
        elif nut.duty != "shear":
            yield passes(joint.id, f"{nut.part} is a full nut", joint.at("nut"))
        elif joint.loaded is None:
            yield lacking(joint, "loaded")
        else:
            say = passes if joint.loaded == "shear" else _complaint(nut)
            yield say(
                joint.id,
                f"{nut.part} is a shear nut; the bolt carries {joint.loaded}",
                joint.at("nut"),
                joint.at("loaded"),
            )


@rule(
    "hardware/edge-distance",
    title="Edge distance of a bolt",
    asks="Is every bolt as far from the edge as its drawing asks, or two diameters?",
    references=("practice-bolt-edge", "declared-drawing", "ac43-7-39"),
    due=Stage.STRUCTURE,
    remedy="Ask the designer; the hole is there.",
)
def bolt_has_edge(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """From the bolt's centre to the nearest edge of any part. What the drawing declares decides. Without it, two diameters serve
    as a warning: common practice, no source; a drawing may give as little as 1.5.
    """
    for bolted in bolted_joints:
        if bolted.joint.edge_distance is None:
            yield lacking(bolted.joint, "edge_distance")
        else:
            yield _apart(bolted, "edge_distance", 2, "to the edge", "two diameters")


@rule(
    "hardware/bolt-spacing",
    title="Bolts keep apart",
    asks="Are neighbouring bolts as far apart as their drawing asks, or three diameters?",
    references=("practice-bolt-edge", "declared-drawing"),
    due=Stage.STRUCTURE,
    remedy="Ask the designer; the holes are there.",
)
def bolts_keep_apart(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """Centre to centre. A joint without 'spacing' is taken as one bolt alone. What the drawing declares decides; three diameters
    are common practice, no source, and warn.
    """
    for bolted in bolted_joints:
        if bolted.joint.spacing is None:
            yield not_applicable(bolted.joint.id, "no neighbouring bolt is recorded", bolted.joint.at())
        else:
            yield _apart(bolted, "spacing", 3, "to the next bolt", "three diameters")  # practice-bolt-edge


def _apart(bolted: Bolted, field: str, diameters: int, where_to: str, custom: str) -> Finding:
    """The drawing's own limit fails, the customary one in diameters warns."""
    joint, bolt = bolted.joint, bolted.bolt
    have, declared = getattr(joint, field).to("in"), getattr(joint, f"least_{field}")
    if declared is not None:
        if joint.drawing is None:
            return lacking(joint, "drawing", f", which gives its least {field.replace('_', ' ')}")
        least, words = declared.to("in"), f"{have:.3f} in {where_to}; {joint.drawing} asks for {declared}"
        return at_least(joint.id, have, least, "in", words, joint.at(field), joint.at(f"least_{field}"))
    if bolt is None:
        return no_data(joint.id, f"its diameter is not known: {bolted.no_bolt}", joint.at("bolt"))
    least = diameters * bolt.diameter
    words = f"{have:.3f} in {where_to}; {custom} are {least:.3f} in"
    return at_least(joint.id, have, least, "in", words, joint.at(field), otherwise=Verdict.WARN)


@rule(
    "hardware/washer-fits",
    title="Washers fit their bolt",
    asks="Is every washer of the size of its bolt?",
    references=("an960-thickness", "an3-an20"),
    due=Stage.STRUCTURE,
    remedy="Correct the part number that is wrong.",
    at_worst=Verdict.WARN,
)
def washers_fit_bolt(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A washer that is too small does not go over the bolt, one too large carries the head or nut on its rim. The number of an
    AN960 washer names the bolt's diameter in sixteenths, with -10 for No. 10; that is known from memory, so this warns at most.
    """
    for bolted in bolted_joints:
        joint, bolt = bolted.joint, bolted.bolt
        known = [(part, field, washer_series(part)) for field in _WASHERS for part in getattr(joint, field)]
        if not any(series for *_, series in known):
            yield not_applicable(joint.id, "no washer of a known size is named", joint.at())
        elif bolt is None:
            yield no_data(joint.id, bolted.no_bolt, joint.at("bolt"))
        else:
            wrong = next(((part, field) for part, field, series in known if series not in {None, bolt.series}), None)
            where = joint.at(wrong[1] if wrong else _WASHERS[0]), joint.at("bolt")
            names = wrong[0] if wrong else ", ".join(part for part, *_ in known)
            yield (warns if wrong else passes)(joint.id, f"{names} on {bolt.part}", *where)
