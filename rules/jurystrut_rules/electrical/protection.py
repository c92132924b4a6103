"""Is every wire protected by what feeds it, and can fuses be replaced?"""

from __future__ import annotations

from math import ceil, floor, inf
from typing import TYPE_CHECKING

from jurystrut.calculations.circuit import deciding
from jurystrut.calculations.errors import OutsideTable
from jurystrut.rulebook import (
    Finding,
    Sound,
    Stage,
    Verdict,
    at_least,
    at_most,
    fails,
    later_if,
    no_data,
    not_applicable,
    rule,
    warns,
)
from jurystrut_rules.electrical.tables import circular_mils, protector_table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.conductors import Ampacity
    from jurystrut.quantities import Gauge
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.electrical import Electrical, Protection, Wire
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["fuses_have_spares", "protection_fits_wire", "protector_suits_size"]


@rule(
    "electrical/wire-protection",
    title="Wire protected by what feeds it",
    asks="Does everything that can feed a wire open before the wire carries more than it can as installed?",
    references=(
        "ac43-11-48",
        "ac43-11-47",
        "ac43-figure-11-4a",
        "ac43-figure-11-5",
        "ac43-figure-11-6",
        "ac43-table-11-9",
        "ac43-aluminium",
        "23-1357-a",
    ),
    due=Stage.SYSTEMS,
    remedy="Fit a smaller protective device nearer the source, or a thicker wire.",
    no_deviation="a wire that its protection cannot save is a fire",
)
def protection_fits_wire(
    electrical: Electrical, circuit: Circuit, wire_ampacity: list[Ampacity | str]
) -> Iterator[Finding | Sound]:
    """For every wire the greatest current is computed that a fault could send through it before anything opens.

    Current can reach a wire from every source and from both its ends, and protective devices side by side add. So it is the
    larger of the greatest flows from all sources to either end in the network without that wire, each protective device
    passing its rating, an alternator its rated output, a battery without limit. A return wire is taken to receive what its
    load's supply lets through when the load shorts inside.

    The wire's own ampacity follows from its size, its insulation, the air around it, its bundle and the altitude. Starter
    feeders are left out, as the published text leaves them out. A lead declared short is a warning: no published figure
    says how short.
    """
    analysis = circuit.analysis
    for index, wire in enumerate(electrical.wires):
        side = analysis.side[index]
        if side == "isolated":
            yield not_applicable(wire.id, "no source can feed this wire", wire.at())
        elif wire.serves == "starter-feeder":
            yield not_applicable(
                wire.id, "a starter feeder, which 23.1357(a) leaves without protection", wire.at("serves")
            )
        elif side == "source-return":
            yield not_applicable(
                wire.id, "the return of a source itself; its current is judged by electrical/wire-load", wire.at()
            )
        else:
            let_through, carries = analysis.let_through[index], wire_ampacity[index]
            safe = not isinstance(carries, str) and let_through <= carries.amperes
            yield later_if(safe, _protected, wire, let_through, carries, circuit)


def _protected(wire: Wire, let_through: float, carries: Ampacity | str, circuit: Circuit) -> Finding:
    if let_through == inf:  # whatever the wire carries, it is too little
        return _unprotected(wire)
    if isinstance(carries, str):
        return no_data(wire.id, f"what this wire carries cannot be told: {carries}", wire.at())
    limit = carries.amperes
    # Rounded down: a device of the rounded-up rating would not protect it.
    remedy = (
        f"Protect it with {floor(limit)} A or less, or fit a thicker wire."
        if limit >= 1
        else "Fit wire whose insulation stands more than the air around it."
    )
    return at_most(
        wire.id,
        let_through,
        limit,
        "A",
        f"{let_through:g} A can reach this {wire.size} wire before anything opens; it carries {limit:.1f} A as installed",
        wire.at("size"),
        remedy=remedy,
        working=lambda: [
            *carries.steps,
            *_upstream(wire, circuit),
            f"let-through rating of the wire: {let_through:g} A",
        ],
    )


def _unprotected(wire: Wire) -> Finding:
    def working() -> list[str]:
        return [
            "let-through rating of the wire: without limit, for a battery delivers whatever is asked of it",
            f"exemption recorded: {wire.serves or 'none'} (old 23.1357(a) knows starter mains and harmless circuits)",
        ]

    if wire.serves == "short-lead":
        remedy = "Keep it as short as the installation allows, out of reach of metal; the authority decides whether it is short."
        return warns(
            wire.id,
            f"declared a short lead without protection, {wire.length or 'length not recorded'}",
            wire.at("serves"),
            remedy=remedy,
            working=working,
        )
    message = "nothing between a source and this wire ever opens"
    remedy = "Fit a protective device at the source end of this wire."
    return fails(wire.id, message, wire.at(), remedy=remedy, working=working)


def _upstream(wire: Wire, circuit: Circuit) -> Iterator[str]:
    """Which devices and sources make the let-through rating what it is: worked out for one wire, when somebody asks."""
    found = deciding(circuit.analysis, circuit.edge_of[wire.id][0])
    if found.load:
        yield f"a return: when {found.load} shorts inside, it receives what that load's supply lets through"
    limits = " + ".join(f"{limit.id} {limit.amperes:g} A" for limit in found.limits)
    yield f"what opens or gives out first on all ways from the sources to {found.point}: {limits or 'nothing'}"


@rule(
    "electrical/protector-by-size",
    title="Device by size of wire",
    asks="Is every protective device no larger than Table 11-3 lists for the thinnest wire right behind it?",
    references=("ac43-table-11-3", "ac43-11-49"),
    due=Stage.SYSTEMS,
    remedy="Fit a smaller device or thicker wire, or record why the wire's own conditions allow it.",
    at_worst=Verdict.WARN,
)
def protector_suits_size(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """Table 11-3 lists the largest breaker and fuse for a size of copper, in hot air and a full bundle. Links and limiters are
    held against its fuses. A wire that lies in no bundle may have the next higher breaker. The wire's own conditions may move
    the rating either way, and electrical/wire-protection judges those; so exceeding the table warns at most, and the two
    are not demanded at once.
    """
    thinnest = _thinnest_behind(electrical, circuit)
    if not electrical.protection:
        yield not_applicable("aircraft", "no protective device is recorded", electrical.at())
    for device in electrical.protection:
        if device.id not in thinnest:
            message = "no copper wire of a size that Table 11-9 knows hangs on it alone"
            yield not_applicable(device.id, message, device.at())
            continue
        wire = thinnest[device.id]
        try:
            listed = _listed(device, wire)
        except OutsideTable as outside:
            yield not_applicable(device.id, str(outside), device.at("kind"), wire.at("size"))
        else:
            yield later_if(device.rating.si <= listed, _by_size, device, wire, listed)


def _listed(device: Protection, wire: Wire) -> float:
    """What Table 11-3 has for the device before this wire."""
    assert wire.size is not None
    table, size = protector_table(), wire.size.name
    return table.largest_breaker(size) if device.kind == "breaker" else table.largest_fuse(size)


def _thinnest_behind(electrical: Electrical, circuit: Circuit) -> dict[str, Wire]:
    """The thinnest copper wire between each device and the next one, towards the loads, of the sizes in Table 11-9."""
    first_devices, side = circuit.analysis.first_devices, circuit.analysis.side
    found: dict[int, tuple[Gauge, Wire]] = {}
    for index, wire in enumerate(electrical.wires):
        first, size = first_devices[index], wire.size
        if first is None or size is None or wire.material != "copper" or side[index] != "supply":
            continue
        if (first not in found or size.number > found[first][0].number) and circular_mils(size.name):
            found[first] = size, wire
    edges = circuit.network.edges
    return {edges[first].id: wire for first, (_, wire) in found.items()}


def _by_size(device: Protection, wire: Wire, listed: float) -> Finding:
    breaker = device.kind == "breaker"
    alone = breaker and not wire.bundle
    breakers = protector_table().breakers.values()
    most = min((a for a in breakers if a and a > listed), default=listed) if alone else listed
    what = "breaker" if breaker else "fuse"
    return at_most(
        device.id,
        device.rating.si,
        most,
        "A",
        f"{device.rating} before {wire.id}, {wire.size}; Table 11-3 lists a {what} of {most:g} A",
        device.at("rating"),
        wire.at("size"),
        remedy=f"Fit {most:g} A or less, or record why this wire's conditions allow more.",
        working=lambda: [
            f"recorded: {device.kind} of {device.rating}; thinnest copper wire up to the next device: {wire.id}, {wire.size}",
            f"Table 11-3, {what}, {wire.size}: {listed:g} A (read; its conditions are from memory)",
            *([f"in no bundle, so the next higher breaker: {most:g} A (11-49, read)"] if alone else []),
            f"margin: {most - device.rating.si:g} A",
        ],
    )


_FUSES = frozenset({"blade-fuse", "glass-fuse"})
_ENOUGH_OF_EACH_KIND = 3  # 91-205-c-6
_SHARE_OF_EACH_RATING = 0.5  # 23-1357-e


@rule(
    "electrical/spare-fuses",
    title="Spare fuses within reach",
    asks="Are there spares for every fuse that can be replaced in flight?",
    references=("91-205-c-6", "23-1357-e"),
    due=Stage.SYSTEMS,
    remedy="Carry the spares within the pilot's reach and record them.",
)
def fuses_have_spares(aircraft: Aircraft, electrical: Electrical) -> Iterator[Finding]:
    """Fuses that the pilot can reach are counted by kind and rating, and so are the spares carried for them.

    Where night flight is intended, 91.205(c)(6) asks for one whole spare set or three of each kind, within the pilot's
    reach; it reaches an amateur-built aircraft through its own operating limitations. By day, old 23.1357(e) is a yardstick:
    one spare of each rating or half as many as are fitted, whichever is more; falling short is a warning.
    """
    night = "night-vfr" in aircraft.operations
    groups: dict[tuple[str, float], list[Protection]] = {}
    for fuse in (device for device in electrical.protection if device.kind in _FUSES):
        if fuse.reachable_in_flight is None:
            yield no_data(
                fuse.id,
                "whether this fuse can be reached in flight is not recorded",
                fuse.at(),
                remedy="Record 'reachable_in_flight'.",
            )
        elif fuse.reachable_in_flight:
            groups.setdefault((fuse.kind, fuse.rating.si), []).append(fuse)
    if not groups:
        yield not_applicable("aircraft", "no fuse is recorded as one that can be reached in flight")
    for (kind, _), fuses in groups.items():
        yield _spares(f"{fuses[0].rating} {kind}", fuses, night=night)


def _spares(group: str, fuses: list[Protection], *, night: bool) -> Finding:
    if all(fuse.spares is None for fuse in fuses):
        message = f"{len(fuses)} fitted; how many spares are carried is not recorded"
        return no_data(
            group,
            message,
            *(fuse.at() for fuse in fuses),
            remedy="Record 'spares' at one of them, 0 where none is carried.",
        )
    fitted, carried = len(fuses), sum(fuse.spares or 0 for fuse in fuses)
    whole_or_three = min(fitted, _ENOUGH_OF_EACH_KIND)
    half = ceil(fitted * _SHARE_OF_EACH_RATING)  # never less than the one spare asked for
    wanted, source = (whole_or_three, "91.205(c)(6)") if night else (half, "old 23.1357(e)")
    return at_least(
        group,
        carried,
        wanted,
        "spares",
        f"{fitted} fitted, {carried} spare carried; {source} asks for {wanted}",
        *(fuse.at("spares") if fuse.spares is not None else fuse.at("kind") for fuse in fuses),
        remedy=f"Carry {wanted - carried} more, within the pilot's reach.",
        working=lambda: [*(f"{fuse.id}: {fuse.spares or 0} spare" for fuse in fuses), f"together {carried}"],
        otherwise=Verdict.FAIL if night else Verdict.WARN,
    )
