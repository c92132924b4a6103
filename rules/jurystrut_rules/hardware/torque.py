"""Is each nut set to its torque, by whom, with what, and does it still lock?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.calculations.fasteners import torque_window, wrench_reading
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    between,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.hardware.nuts import no_nut
from jurystrut_rules.hardware.tables import Nut, TorqueRow, least_drag, torque_row
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.hardware import Hardware, Joint
    from jurystrut_rules.hardware.stack import Bolted

__all__ = [
    "adapter_is_reckoned_with",
    "nut_keeps_its_drag",
    "torque_below_limit",
    "torque_in_range",
    "torque_is_recorded",
    "wrench_is_calibrated",
]

_YEAR = 366  # ac43-7-40-a: days; a calibration on the same day of the year before still counts


@rule(
    "hardware/torque",
    title="Torque of the nut",
    asks="Is the torque, the nut's own drag included, within the range for its size and kind?",
    references=("ac43-table-7-1", "ac43-7-40", "nut-part-numbers"),
    due=Stage.SYSTEMS,
    remedy="Set it again within the range; change a washer or the nut where a cotter hole does not come in line.",
)
def torque_in_range(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A range that a manual gives for the joint goes first. Otherwise table 7-1 gives the range for the thread, in the column of
    the nut's kind, and the drag of the nut on its thread, which the builder measures, is added to both ends. A nut whose kind
    is known from memory alone is warned of at most.
    """
    for bolted in bolted_joints:
        yield _torque(bolted)


def _torque(bolted: Bolted) -> Finding:
    joint, nut = bolted.joint, bolted.nut
    if joint.torque is None:
        return lacking(joint, "torque")
    if joint.torque_range is not None:
        if joint.manual is None:
            return lacking(joint, "manual", ", which gives its torque")
        low, high = joint.torque_range.low.to("in-lb"), joint.torque_range.high.to("in-lb")
        return _set(
            joint, low, high, f"{joint.manual} gives", Verdict.FAIL, [f"{joint.manual}: {low:g} to {high:g} in-lb"]
        )
    if nut is None:
        return no_nut(bolted)
    row = _row(bolted)
    if row is None:
        return _not_listed(bolted)
    if joint.nut_drag is None:
        return lacking(joint, "nut_drag", ", which is added to the table's torque")
    column, drag = row.shear if nut.duty == "shear" else row.tension, joint.nut_drag.to("in-lb")
    low, high = torque_window(*column, drag)
    steps = [
        f"table 7-1, {nut.duty} nut: {column[0]:g} to {column[1]:g} in-lb",
        f"with the nut's drag of {drag:g} in-lb: {low:g} to {high:g} in-lb",
    ]
    verdict = Verdict.FAIL if nut.known == "read" else Verdict.WARN
    return _set(joint, low, high, "table 7-1 with the nut's drag gives", verdict, steps)


def _row(bolted: Bolted) -> TorqueRow | None:
    """The row of table 7-1, which is for cadmium-plated steel: an aluminium or stainless bolt has none."""
    bolt = bolted.bolt
    return torque_row(bolt.thread) if bolt and bolt.material == "steel" else None


def _not_listed(bolted: Bolted) -> Finding:
    joint, bolt = bolted.joint, bolted.bolt
    steel = f"table 7-1 is for cadmium-plated steel, and {bolt.part} is {bolt.material}" if bolt else ""
    remedy = "Record 'torque_range' and the 'manual' that gives it."
    return no_data(joint.id, steel or "its bolt is not in table 7-1", joint.at("bolt"), remedy=remedy)


def _set(joint: Joint, low: float, high: float, source: str, otherwise: Verdict, steps: list[str]) -> Finding:
    assert joint.torque is not None
    torque = joint.torque.to("in-lb")
    message = f"set to {torque:g} in-lb; {source} {low:g} to {high:g} in-lb"
    remedy = f"Set it to {low:g} to {high:g} in-lb."
    return between(
        joint.id,
        torque,
        low,
        high,
        "in-lb",
        message,
        joint.at("torque"),
        remedy=remedy,
        working=lambda: steps,
        otherwise=otherwise,
    )


@rule(
    "hardware/torque-limit",
    title="Torque that a thread may get",
    asks="Does no nut, whatever a manual gives for it, get more than its thread may ever get?",
    references=("ac43-table-7-1", "nut-part-numbers"),
    due=Stage.SYSTEMS,
    remedy="Check the manual's figure and its unit; replace bolt and nut.",
)
def torque_below_limit(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """The last two columns of table 7-1 give the most for each thread and kind of nut. A manual's own range that reaches
    beyond is more often a slip of the unit than a better bolt. A bolt stronger than AN's has its own limit: record that as
    a deviation.
    """
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        row = _row(bolted)
        if row is None and joint.torque_range and joint.manual:
            yield not_applicable(
                joint.id, f"table 7-1 does not hold its bolt; {joint.manual} decides", joint.at("bolt")
            )
        elif nut is None:
            yield no_nut(bolted)
        elif row is None:
            yield _not_listed(bolted)
        elif joint.torque is None:
            yield lacking(joint, "torque")
        else:
            most, torque = row.most_shear if nut.duty == "shear" else row.most_tension, joint.torque.to("in-lb")
            message = f"set to {torque:g} in-lb; {bolted.bolt.thread if bolted.bolt else ''} may get {most:g} in-lb in {nut.duty}"
            verdict = Verdict.FAIL if nut.known == "read" else Verdict.WARN
            yield at_most(joint.id, torque, most, "in-lb", message, joint.at("torque"), otherwise=verdict)


@rule(
    "hardware/torque-record",
    title="Torque has its record",
    asks="Is it recorded who set each torque, and when?",
    references=("own-consistency", "ac43-7-40"),
    due=Stage.SYSTEMS,
    remedy="Check the joint again with a calibrated wrench, and record who did it and when.",
)
def torque_is_recorded(bolted_joints: list[Bolted], day: datetime.date) -> Iterator[Finding]:
    """A torque that nobody signed is one that nobody can ask about. A day yet to come is a slip of the pen."""
    for bolted in bolted_joints:
        joint = bolted.joint
        if joint.torqued_by is None or joint.torqued is None:
            yield lacking(joint, "torqued" if joint.torqued is None else "torqued_by")
        else:
            say = passes if joint.torqued <= day else fails
            yield say(joint.id, f"set by {joint.torqued_by} on {joint.torqued}", joint.at("torqued"))


@rule(
    "hardware/wrench-calibration",
    title="Torque wrench calibrated",
    asks="Was the wrench calibrated within the year before it was used?",
    references=("ac43-7-40-a",),
    due=Stage.SYSTEMS,
    remedy="Have the wrench calibrated, and check the joints that it set.",
    at_worst=Verdict.WARN,
)
def wrench_is_calibrated(bolted_joints: list[Bolted], hardware: Hardware) -> Iterator[Finding]:
    """The last calibration before the day of the joint counts; AC 43.13-1B wants one at least once a year, as a builder's
    manual quotes it.
    """
    wrenches = {wrench.id: wrench for wrench in hardware.wrenches}
    for bolted in bolted_joints:
        joint = bolted.joint
        if joint.torqued is None or joint.wrench is None:
            yield lacking(joint, "wrench" if joint.wrench is None else "torqued")
            continue
        wrench = wrenches[joint.wrench]
        before = [day for day in wrench.calibrated if day <= joint.torqued]
        if not before:
            yield no_data(joint.id, f"no calibration of {wrench.id} before {joint.torqued} is recorded", wrench.at())
            continue
        age = (joint.torqued - max(before)).days
        message = f"{wrench.id} was calibrated {age} days before this joint was set"
        yield at_most(joint.id, age, _YEAR, "days", message, joint.at("torqued"), wrench.at("calibrated"))


_READ_TO = 0.04  # own-reading-precision: of the reading, what a wrench of the usual kind is good for


@rule(
    "hardware/torque-adapter",
    title="Torque through an adapter",
    asks="Where an adapter stood on the wrench, did the wrench show what gives the recorded torque at the nut?",
    references=("ac43-figure-7-2", "own-reading-precision"),
    due=Stage.SYSTEMS,
    remedy="Set the nut again by the reading that the adapter asks for.",
    at_worst=Verdict.WARN,
)
def adapter_is_reckoned_with(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """A wrench that an adapter lengthens gives the nut more than it shows: it must show torque x L / (L + E), L from the grip to
    its square, E from there to the nut, less than nothing where it points back. `torque` is what the nut got, not what the
    wrench showed. The formula is from memory, so this rule warns at most; that a reading within 4 % will do is our own choice.
    """
    for bolted in bolted_joints:
        joint = bolted.joint
        missing = next(
            (field for field in ("torque", "wrench_length", "wrench_reading") if getattr(joint, field) is None), None
        )
        if joint.adapter is None:
            yield not_applicable(joint.id, "no adapter is recorded", joint.at())
        elif missing:
            yield lacking(joint, missing, ", and an adapter stood on the wrench")
        else:
            yield _through(joint)


def _through(joint: Joint) -> Finding:
    assert joint.torque is not None
    assert joint.adapter is not None
    assert joint.wrench_length is not None
    assert joint.wrench_reading is not None
    torque, length = joint.torque.to("in-lb"), joint.wrench_length.to("in")
    longer = -joint.adapter.to("in") if joint.adapter_points_back else joint.adapter.to("in")
    try:
        wanted = wrench_reading(torque, length, longer)
    except ValueError as error:
        return no_data(joint.id, str(error), joint.at("adapter"), joint.at("wrench_length"))
    shown, off = joint.wrench_reading.to("in-lb"), _READ_TO * wanted
    return between(
        joint.id,
        shown,
        wanted - off,
        wanted + off,
        "in-lb",
        f"the wrench showed {shown:g} in-lb; {torque:g} in-lb at the nut ask for {wanted:.1f} in-lb",
        joint.at("wrench_reading"),
        joint.at("torque"),
        remedy=f"Set it again, to {wanted:.1f} in-lb on the wrench.",
        working=lambda: [
            f"{torque:g} in-lb x {length:g} in / ({length:g} {longer:+g}) in = {wanted:.2f} in-lb (AC 43.13-1B, from memory)",
            f"{_READ_TO:.0%} to either side, our own choice: {wanted - off:.2f} to {wanted + off:.2f} in-lb",
        ],
    )


@rule(
    "hardware/nut-drag",
    title="Drag of a self-locking nut",
    asks="Has every self-locking nut the drag that keeps it on?",
    references=("ac43-table-7-2", "ac43-7-122"),
    due=Stage.SYSTEMS,
    remedy="Fit a new nut.",
)
def nut_keeps_its_drag(bolted_joints: list[Bolted]) -> Iterator[Finding]:
    """Table 7-2 starts at 7/16 in. A smaller nut is only asked whether it has any drag at all, which is a warning from memory:
    one that turns on by hand is worn out.
    """
    for bolted in bolted_joints:
        joint, nut = bolted.joint, bolted.nut
        if nut is None:
            yield no_nut(bolted)
        elif not nut.self_locking:
            yield not_applicable(joint.id, f"{nut.part} does not lock by its drag", joint.at("nut"))
        elif joint.nut_drag is None:
            yield lacking(joint, "nut_drag")
        else:
            yield _drag(joint, nut, joint.nut_drag.to("in-lb"))


def _drag(joint: Joint, nut: Nut, drag: float) -> Finding:
    least = least_drag(nut.thread) if nut.thread else None
    if least is not None:
        return at_least(joint.id, drag, least, "in-lb", f"the nut drags with {drag:g} in-lb", joint.at("nut_drag"))
    if drag <= 0:
        return Finding(
            Verdict.WARN, joint.id, "the nut turns on by hand", (joint.at("nut_drag"),), remedy="Fit a new nut."
        )
    return passes(
        joint.id, f"the nut drags with {drag:g} in-lb; table 7-2 gives no least drag for its size", joint.at("nut_drag")
    )
