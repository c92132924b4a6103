"""Do diodes, junctions and protective devices carry no more than they are rated for?"""

from __future__ import annotations

from functools import cache, partial
from math import isnan
from operator import itemgetter
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Sound, Stage, Verdict, at_most, later_if, no_data, not_applicable, rule

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping

    from jurystrut.records.electrical import Diode, Electrical, Junction, Load, Protection
    from jurystrut_rules.electrical.circuit import Circuit, Coils
    from jurystrut_rules.electrical.operation import Operation

__all__ = ["devices_between_sources_hold", "devices_carry_loads", "parts_carry_loads"]


@rule(
    "electrical/part-rating",
    title="Diodes and junctions carry their loads",
    asks="Is every diode, splice, stud, block and connector rated for the current of all the loads behind it?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Fit one of a higher rating, or feed part of the loads by another way.",
)
def parts_carry_loads(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """The rating is what its maker declares, so the record is held against itself. Through a diode goes the current of all the
    loads behind it, all taken as on at once. A junction is rated by the contact: of the wires that end at it, the one that
    carries most counts. Starter feeders carry their current for seconds and are not counted.
    """
    if not electrical.diodes and not electrical.junctions:
        yield not_applicable("aircraft", "no diode and no junction is recorded", electrical.at())
    current = circuit.analysis.current
    for diode in electrical.diodes:
        yield _rated(diode, [("all the loads behind it", current[circuit.edge_of[diode.id][0]])])
    ending: dict[str, list[tuple[str, float]]] = {junction.id: [] for junction in electrical.junctions}
    for wire in electrical.wires if ending else ():
        if wire.serves != "starter-feeder":
            for end in (wire.from_, wire.to):
                name = end.partition(".")[0]
                if name in ending:
                    ending[name].append((wire.id, current[circuit.edge_of[wire.id][0]]))
    for junction in electrical.junctions:
        yield _rated(junction, ending[junction.id])


def _rated(part: Diode | Junction, carried: list[tuple[str, float]]) -> Finding:
    amperes = max((each for _, each in carried), default=0.0)
    if part.rating is None:
        message = f"its rating is not recorded; {amperes:.4g} A may pass it"
        return no_data(part.id, message, part.at(), remedy="Record its 'rating'.")
    return at_most(
        part.id,
        amperes,
        part.rating.si,
        "A",
        f"{amperes:.4g} A may pass it; it is rated {part.rating}",
        part.at("rating"),
        remedy=f"Fit one rated {amperes:.4g} A or more.",
        working=lambda: [*(f"{what}: {each:.4g} A" for what, each in carried), f"the most of them: {amperes:.4g} A"],
    )


@rule(
    "electrical/device-load",
    title="Devices hold while their loads are on",
    asks="Is every protective device rated for the loads behind it that are on together?",
    references=("23-1351-a", "blade-fuse-times"),
    due=Stage.SYSTEMS,
    remedy="Fit a larger device with wire to suit, or move a load to another.",
)
def devices_carry_loads(electrical: Electrical, circuit: Circuit, coils: Coils) -> Iterator[Finding | Sound]:
    """A fuse or breaker holds its rating for ever, and no more than a little beyond it. The currents of the loads behind it are
    added: of all of them, and where that is too much, of those that one phase of flight has on, intermittent ones too, a load
    that says no phase in every phase. Starters and the inrush of motors are left out; electrical/inrush judges that. A device
    between two sources has no loads of its own behind it: electrical/feeder-device judges it.
    """
    if not electrical.protection:
        yield not_applicable("aircraft", "no protective device is recorded", electrical.at())
    core, everything = set(circuit.analysis.core), circuit.analysis.current
    hungriest = cache(partial(_hungriest, electrical, circuit))  # known once a finding is read
    phases: dict[str, list[float]] = {}
    for device in electrical.protection:
        index = circuit.edge_of[device.id][0]
        if index in core:
            yield not_applicable(device.id, "it lies between sources or in a mesh", device.at())
            continue
        fits = everything[index] <= device.rating.si
        if fits:
            yield later_if(fits, _holds, device, everything[index], "all loads behind it at once", hungriest)
            continue
        phases = phases or dict(_by_phase(electrical, circuit, coils))
        amperes, phase = max(((passing[index], name) for name, passing in phases.items()), key=itemgetter(0))
        yield _holds(device, amperes, f"the loads behind it that are on in {phase}", hungriest)


def _hungriest(electrical: Electrical, circuit: Circuit) -> dict[str, Load]:
    """The load of the largest current for which a device is the nearest, by the device."""
    found: dict[str, Load] = {}
    for load in sorted(electrical.loads, key=lambda load: load.current.si):
        nearest = circuit.analysis.first_device(load.id)
        if nearest:
            found[nearest.id] = load
    return found


def _by_phase(electrical: Electrical, circuit: Circuit, coils: Coils) -> Iterator[tuple[str, list[float]]]:
    """What passes each device in each phase of flight, starters left out; in `any phase` where none is recorded."""
    drawing = [load for load in electrical.loads if not load.starter]
    for phase in dict.fromkeys(phase for load in drawing for phase in load.duty) or ("any phase",):
        on = [load for load in drawing if not load.duty or (phase in load.duty and load.duty[phase].si > 0)]
        yield phase, circuit.branch_currents({load.id: load.current.si for load in on} | coils.held | coils.cranking)


def _holds(device: Protection, amperes: float, what: str, hungriest: Callable[[], Mapping[str, Load]]) -> Finding:
    load = hungriest().get(device.id)
    return at_most(
        device.id,
        amperes,
        device.rating.si,
        "A",
        f"{what} draw {amperes:.4g} A; it is rated {device.rating}",
        device.at("rating"),
        *((load.at("current"),) if load else ()),
        remedy=f"Fit one of {amperes:.4g} A or more with wire to suit, or move a load to another.",
        working=lambda: [f"{what}: {amperes:.4g} A", f"rated {device.rating}, which it holds for ever"],
    )


@rule(
    "electrical/feeder-device",
    title="Devices between sources hold",
    asks="Does every protective device between sources carry the current that each phase of flight sends through it?",
    references=("23-1351-a", "blade-fuse-times"),
    due=Stage.SYSTEMS,
    remedy="Fit a larger device with wire to suit, or take loads off.",
)
def devices_between_sources_hold(
    electrical: Electrical, circuit: Circuit, operations: tuple[Operation, ...]
) -> Iterator[Finding]:
    """The whole network is solved as for electrical/minimum-voltage; what passes each device between the sources is held against
    its rating: in every phase, whole, and with each generator lost. That one device opens after another did is a warning, and
    so is more than its rating for the seconds of cranking. What a battery takes after a start is left out.
    """
    core = set(circuit.analysis.core)
    meshed = [device for device in electrical.protection if circuit.edge_of[device.id][0] in core]
    if not meshed:
        yield not_applicable("aircraft", "no protective device lies between sources", electrical.at("protection"))
    for device in meshed:
        yield _passed(device, circuit.edge_of[device.id][0], operations)


def _passed(device: Protection, index: int, operations: tuple[Operation, ...]) -> Finding:
    cases = [(abs(case.point.amperes[index]), case.name) for case in operations if case.point]
    known = sorted((case for case in cases if not isnan(case[0])), reverse=True)
    if not known:
        return no_data(device.id, "what passes it cannot be told", device.at(), remedy="Record resistances on its way.")
    alone = [case for case in known if not case[1].endswith(" open") and case[1] != "cranking"]
    worst = alone[0] if alone and alone[0][0] > device.rating.si else known[0]
    return at_most(
        device.id,
        worst[0],
        device.rating.si,
        "A",
        f"{worst[0]:.4g} A pass it, {worst[1]}; it is rated {device.rating}",
        device.at("rating"),
        remedy=f"Fit one of {worst[0]:.4g} A or more with wire to suit, or take loads off.",
        working=lambda: [*(f"{name}: {amperes:.4g} A" for amperes, name in known[:8]), f"rated {device.rating}"],
        otherwise=Verdict.FAIL if worst in alone else Verdict.WARN,
    )
