"""Is each protective device one that exists, that can break what it must, and that the pilot can reach?"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.circuit import Source
from jurystrut.calculations.circuit.faults import fault_currents
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Sound,
    Stage,
    Verdict,
    at_least,
    fact,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.electrical.tables import blade_ratings

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Grid
    from jurystrut.records.electrical import Electrical, Load, Protection
    from jurystrut_rules.electrical.circuit import Circuit
    from jurystrut_rules.electrical.conductors import Aluminium

__all__ = [
    "Prospective",
    "device_breaks_fault",
    "device_stands_voltage",
    "essential_device_is_reached",
    "fuse_exists",
    "nothing_resets_itself",
    "prospective_currents",
]

_BLADE_VOLTS = 32.0  # blade-fuse-limits
_BLADE_INTERRUPTS = 1000.0  # blade-fuse-limits
_BY_SHEETS = "by data sheets that cite ISO 8820-3, second-hand"


@rule(
    "electrical/standard-rating",
    title="Fuses of ratings that exist",
    asks="Is every blade fuse of a rating in which they are made?",
    references=("blade-fuse-colours",),
    due=Stage.SYSTEMS,
    remedy="Record the rating that is fitted, or fit one that exists.",
    at_worst=Verdict.WARN,
)
def fuse_exists(electrical: Electrical) -> Iterator[Finding | Sound]:
    """A rating outside the series is a slip in the record, or a fuse for another body. The series comes from pages that quote
    the standard, so this rule warns at most.
    """
    made = blade_ratings()
    fuses = [device for device in electrical.protection if device.kind == "blade-fuse"]
    if not fuses:
        yield not_applicable("aircraft", "no blade fuse is recorded", electrical.at("protection"))
    for fuse in fuses:
        yield later_if(fuse.rating.si in made, _made, fuse)


def _made(fuse: Protection) -> Finding:
    made, amperes = blade_ratings(), fuse.rating.si
    if any(abs(amperes - rating) < 1e-9 for rating in made):
        message = f"blade fuses are made in {amperes:g} A"
        return passes(fuse.id, message, fuse.at("rating"), working=partial(_series, fuse))
    smaller = max((rating for rating in made if rating < amperes), default=made[0])
    return warns(
        fuse.id,
        f"regular blade fuses are not made in {amperes:g} A",
        fuse.at("rating"),
        remedy=f"Fit {smaller:g} A, the next smaller.",
        working=partial(_series, fuse),
    )


def _series(fuse: Protection) -> list[str]:
    made = ", ".join(f"{rating:g}" for rating in blade_ratings())
    return [f"recorded: {fuse.rating}", f"made in {made} A (pages that quote ISO 8820-3, second-hand)"]


@rule(
    "electrical/device-voltage",
    title="Rated voltage of protective devices",
    asks="Is every protective device rated for the highest voltage of the system?",
    references=("blade-fuse-limits", "device-voltage"),
    due=Stage.SYSTEMS,
    remedy="Fit a device rated for the system's voltage.",
)
def device_stands_voltage(electrical: Electrical) -> Iterator[Finding | Sound]:
    """The highest voltage of any source, as recorded, else the system's nominal one, against the voltage that is recorded of the
    device, which is its maker's. A blade fuse that says nothing is taken at the 32 V of data sheets that cite the standard;
    any other device must say.
    """
    recorded = [source.voltage.si for source in electrical.sources if source.voltage]
    if electrical.nominal_voltage:
        recorded.append(electrical.nominal_voltage.si)
    if not recorded:
        raise MissingRecord("neither a nominal voltage nor that of a source is recorded", electrical.at())
    if not electrical.protection:
        yield not_applicable("aircraft", "no protective device is recorded", electrical.at())
    highest = max(recorded)
    for device in electrical.protection:
        stands = _stands(device)
        yield later_if(stands is not None and stands >= highest, _voltage, device, recorded)


def _stands(device: Protection) -> float | None:
    return device.voltage.si if device.voltage else _BLADE_VOLTS if device.kind == "blade-fuse" else None


def _voltage(device: Protection, recorded: list[float]) -> Finding:
    highest, stands = max(recorded), _stands(device)
    if stands is None:
        return no_data(device.id, "its rated voltage is not recorded", device.at(), remedy="Record its 'voltage'.")
    return at_least(
        device.id,
        stands,
        highest,
        "V",
        f"rated {stands:g} V; the system reaches {highest:g} V",
        device.at("voltage") if device.voltage else device.at("kind"),
        remedy=f"Fit a device rated {highest:g} V or more.",
        working=lambda: [
            f"{device.id}: {stands:g} V, {'as recorded' if device.voltage else _BY_SHEETS}",
            f"highest of {', '.join(f'{volts:g} V' for volts in recorded)}: {highest:g} V",
            f"margin: {stands - highest:g} V",
        ],
    )


@fact
def prospective_currents(electrical: Electrical, grid: Grid) -> dict[str, Prospective]:
    """The current that a dead short draws at the near side of each protective device."""
    batteries = []
    for source in electrical.sources:
        if source.kind == "battery":
            if source.voltage is None or source.resistance is None:
                raise MissingRecord(f"the voltage or resistance of {source.id} is not recorded", source.at())
            if not source.resistance.si:
                raise MissingRecord(f"the resistance of {source.id} is recorded as nothing", source.at("resistance"))
            batteries.append(
                Source(source.id, source.id, f"{source.id}.return", source.voltage.si, source.resistance.si)
            )
    generators = sum(s.rating.si for s in electrical.sources if s.rating and s.kind in {"alternator", "generator"})
    points = {f"{device.id}.in": device.id for device in electrical.protection}
    currents = fault_currents(grid, batteries, points)
    volts = max((battery.volts for battery in batteries), default=0.0)
    return {device: Prospective(currents.get(point, 0.0), volts, generators) for point, device in points.items()}


class Prospective(NamedTuple):
    """What batteries drive into a dead short, in amperes, and with how many volts; and what the generators give, as rated."""

    batteries: float
    volts: float
    generators: float

    @property
    def amperes(self) -> float:
        """All of it together."""
        return self.batteries + self.generators

    def lines(self) -> list[str]:
        """The sum in words; the resistance on the way follows from the voltage."""
        if not self.batteries:
            return [f"no battery reaches it; generators as rated: {self.generators:g} A"]
        ohms = self.volts / self.batteries
        return [
            f"batteries: {self.volts:g} V / {1000 * ohms:.2f} mohm of them and of the wires on the way = {self.batteries:.0f} A",
            f"generators as rated: {self.generators:g} A; together {self.amperes:.0f} A",
        ]


@rule(
    "electrical/interrupting-rating",
    title="Interrupting rating",
    asks="Can every protective device break the current of a dead short behind it?",
    references=("blade-fuse-limits", "interrupting", "ac43-table-11-9"),
    due=Stage.SYSTEMS,
    remedy="Fit a device with a greater interrupting rating, or a current limiter nearer the battery.",
)
def device_breaks_fault(
    electrical: Electrical, circuit: Circuit, prospective_currents: dict[str, Prospective], aluminium: Aluminium
) -> Iterator[Finding | Sound]:
    """The greatest current that a dead short right behind the device can draw: the batteries' voltage over their resistance and
    that of the wires on the way to it, and the generators' rated output on top. Returns are taken as without resistance and
    wires without a recorded length as none, which err to more current. What the device breaks is its maker's figure, as
    recorded; a blade fuse that says nothing is taken at the 1000 A of data sheets that cite the standard. The resistance of
    aluminium is from memory: with such a wire on the way this warns at most.
    """
    if not electrical.protection:
        yield not_applicable("aircraft", "no protective device is recorded", electrical.at())
    for device in electrical.protection:
        current, breaks = prospective_currents[device.id], _interrupts(device)
        breaks_it = breaks is not None and breaks >= current.amperes
        yield later_if(breaks_it, _breaks, device, current, circuit, aluminium)


def _interrupts(device: Protection) -> float | None:
    return device.interrupts.si if device.interrupts else _BLADE_INTERRUPTS if device.kind == "blade-fuse" else None


def _breaks(device: Protection, prospective: Prospective, circuit: Circuit, aluminium: Aluminium) -> Finding:
    current, breaks = prospective.amperes, _interrupts(device)
    if breaks is None:
        message = f"what it can break is not recorded; a short draws {current:.0f} A here"
        return no_data(device.id, message, device.at(), remedy="Record what it 'interrupts'.")
    return at_least(
        device.id,
        breaks,
        current,
        "A",
        f"it can break {breaks:g} A; a dead short behind it draws {current:.0f} A",
        device.at("interrupts") if device.interrupts else device.at("kind"),
        remedy="Fit a device with a greater interrupting rating, or a current limiter nearer the battery.",
        working=lambda: [
            *prospective.lines(),
            f"it breaks {breaks:g} A, {'as recorded' if device.interrupts else _BY_SHEETS}",
            f"margin: {breaks - current:.0f} A",
        ],
        otherwise=Verdict.WARN if aluminium.on_the_way(circuit, f"{device.id}.in") else Verdict.FAIL,
    )


@rule(
    "electrical/automatic-reset",
    title="Nothing resets itself",
    asks="Does every protective device stay open until a person closes it?",
    references=("23-1357-c", "ac43-11-50"),
    due=Stage.SYSTEMS,
    remedy="Fit a trip-free device that is reset by hand.",
)
def nothing_resets_itself(electrical: Electrical) -> Iterator[Finding]:
    """A device that closes by itself feeds a fault again and again. Fuses, links and limiters never close; a breaker says how
    it does. That resettable devices are reset by hand was read in old 23.1357(c), and decides; the AC's word that automatic
    breakers are not to be used is from memory.
    """
    breakers = [device for device in electrical.protection if device.kind == "breaker" or device.resets]
    if not breakers:
        yield not_applicable("aircraft", "no resettable device is recorded", electrical.at("protection"))
    for device in breakers:
        yield _reset(device)


def _reset(device: Protection) -> Finding:
    if device.resets is None:
        return no_data(device.id, "how it closes again is not recorded", device.at(), remedy="Record how it 'resets'.")

    def working() -> list[str]:
        return [
            f"recorded: {device.kind}, resets: {device.resets}",
            "wanted: reset by hand (old 23.1357(c), read in a translation), or never",
        ]

    if device.resets == "automatic":
        remedy = "Fit a trip-free breaker that is reset by hand."
        return fails(device.id, "it closes again by itself", device.at("resets"), remedy=remedy, working=working)
    how = "it is reset by hand" if device.resets == "by-hand" else "it never closes again"
    return passes(device.id, how, device.at("resets"), working=working)


@rule(
    "electrical/essential-reset",
    title="Essential devices within reach",
    asks="Can the pilot reach every device whose resetting or replacing is essential?",
    references=("23-1357-d",),
    due=Stage.SYSTEMS,
    remedy="Move the device within reach, or feed the load by a second way.",
    at_worst=Verdict.WARN,
)
def essential_device_is_reached(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Old 23.1357(d) asks for ready access in flight where resetting or replacing is essential to safety. Whether it is, the
    record does not tell: the device nearest each essential load is looked at, and out of reach is a warning.
    """
    devices = {device.id: device for device in electrical.protection}
    essential = [load for load in electrical.loads if load.essential]
    if not essential:
        yield not_applicable("aircraft", "no load is recorded as essential", electrical.at())
    for load in essential:
        upstream = circuit.analysis.upstream_devices(load.id)
        device = devices[upstream[0].id] if upstream else None
        if device is None:
            message = "which device is nearest to it cannot be told: no single way leads over one"
            yield no_data(load.id, message, load.at())
        elif device.reachable_in_flight is None:
            yield no_data(load.id, f"whether {device.id} can be reached in flight is not recorded", device.at())
        else:
            yield _reached(load, device)


def _reached(load: Load, device: Protection) -> Finding:
    def working() -> list[str]:
        return [
            f"the device nearest {load.id}, recorded as essential: {device.id}, {device.kind} {device.rating}",
            f"recorded: reachable_in_flight: {str(device.reachable_in_flight).lower()}",
            "wanted: ready access in flight where resetting is essential (old 23.1357(d), read in a translation)",
        ]

    where = (device.at("reachable_in_flight"), load.at())
    if device.reachable_in_flight:
        return passes(load.id, f"{device.id} can be reached in flight", *where, working=working)
    return warns(
        load.id,
        f"{device.id}, which protects it, is out of reach in flight",
        *where,
        remedy=f"Move {device.id} within the pilot's reach, or fit a breaker there.",
        working=working,
    )
