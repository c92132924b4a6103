"""Can every load be switched off, dimmed as it may be, and switched by contacts that stand small currents?"""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Sound,
    Stage,
    Verdict,
    at_least,
    at_most,
    later_if,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.electrical.installed import Figure

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.calculations.circuit import Sink
    from jurystrut.positions import Spot
    from jurystrut.records.electrical import Electrical, Load, Switch
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = [
    "contacts_stand_small_currents",
    "dimmers_carry_their_loads",
    "dimmers_dim_lamps",
    "loads_can_be_switched_off",
]

_LIVE_LIMIT = Figure(5.0, "A", "old 23.1361(b), from memory")  # 23-1361
_LOW_ENERGY = Figure(0.5, "A", "AC 43.13-1B 11-53g, read")  # ac43-11-53-g
_LOW_VOLTS = 8.0  # ac43-11-53-g
_BY_HAND = frozenset({"toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"})


@rule(
    "electrical/load-switch",
    title="A switch for every load",
    asks="Can every load be switched off?",
    references=("23-1361", "ac43-11-51"),
    due=Stage.SYSTEMS,
    remedy="Fit a switch, or record why the load is 'always_live'.",
    at_worst=Verdict.WARN,
)
def loads_can_be_switched_off(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """With every switch open each load must lose its source or its return. A breaker is no switch: AC 43.13-1B does not
    recommend using one so. A load that is meant to stay live says why, and what feeds it opens at 5 A or less (old
    23.1361(b), from memory; it also lets the engine's own circuits stay live). So this rule warns at most. Loads without a
    source or a return are told by electrical/load-circuit.
    """
    network = circuit.network
    fed, returned = (network.live(closed=True, backwards=backwards) for backwards in (False, True))
    live, live_return = (network.live(closed=False, backwards=backwards) for backwards in (False, True))
    if not network.sinks:
        yield not_applicable("aircraft", "no load is recorded", electrical.at())
    coils = {switch.id: switch for switch in electrical.switches if switch.coil}
    for sink, (point, back) in zip(network.sinks, network.sink_ends, strict=True):
        if not (fed[point] and returned[back]):
            spot = (circuit.loads.get(sink.id) or coils[sink.id]).at()
            yield not_applicable(sink.id, "no source feeds it, or it has no return", spot)
            continue
        stays = (live[point], live_return[back])
        yield later_if(stays != (True, True), _switched, sink, coils, stays, circuit)


def _switched(sink: Sink, coils: Mapping[str, Switch], stays: tuple[bool, bool], circuit: Circuit) -> Finding:
    """`stays` tells whether its supply and its return stay joined to a source with every switch open."""
    load = circuit.loads.get(sink.id)
    spot = (load or coils[sink.id]).at()
    if stays == (True, True):
        return _stays_live(sink, load, spot, circuit)

    def working() -> list[str]:
        return [
            f"with every switch open, its supply side is {'fed' if stays[0] else 'dead'}",
            f"and its return {'leads' if stays[1] else 'does not lead'} to a source",
        ]

    return passes(sink.id, "a switch cuts it off", spot, working=working)


def _stays_live(sink: Sink, load: Load | None, spot: Spot, circuit: Circuit) -> Finding:
    reaching = circuit.analysis.available(sink.point)

    def working() -> list[str]:
        return [
            "with every switch open it is still fed and returned",
            f"the greatest current that its supply lets through: {reaching:g} A",
            f"where it is meant to stay live, the most: {_LIVE_LIMIT} ({_LIVE_LIMIT.source})",
        ]

    if load is None or load.always_live is None:
        what = "load off" if load else "coil off; what it closes stays closed"
        remedy = "Fit a switch, or record why it is 'always_live'." if load else "Fit a switch."
        return warns(sink.id, f"nothing but a breaker or fuse cuts this {what}", spot, remedy=remedy, working=working)
    opens = f"what feeds it opens at {reaching:g} A" if reaching < inf else "nothing that feeds it ever opens"
    return at_most(
        sink.id,
        reaching,
        _LIVE_LIMIT.value,
        "A",
        f"meant to stay live ({load.always_live}); {opens}",
        load.at("always_live"),
        remedy=f"Protect it at {_LIVE_LIMIT} or less next to the source.",
        working=working,
    )


def _behind(electrical: Electrical, circuit: Circuit) -> dict[str, list[Load]]:
    """The loads on whose single way towards the sources a dimmer lies, by the dimmer."""
    found: dict[str, list[Load]] = {switch.id: [] for switch in electrical.switches if switch.kind == "dimmer"}
    for load in electrical.loads if found else ():
        for point in (load.id, f"{load.id}.return"):
            for edge in circuit.analysis.path(point):
                if edge.id in found:
                    found[edge.id].append(load)
    return found


@rule(
    "electrical/dimmer-rating",
    title="Dimmers carry their loads",
    asks="Is every dimmer rated for all the loads behind it at once?",
    references=("23-1367", "dimmers"),
    due=Stage.SYSTEMS,
    remedy="Fit a larger dimmer, or take lamps off it.",
)
def dimmers_carry_their_loads(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """The steady currents of the loads behind a dimmer are added and held against the rating that is recorded of it, which is
    its maker's. The cold filaments that wear a switch are judged by electrical/switch-rating, where the dimmer counts as one.
    """
    behind = _behind(electrical, circuit)
    if not behind:
        yield not_applicable("aircraft", "no dimmer is recorded", electrical.at("switches"))
    dimmers = {switch.id: switch for switch in electrical.switches}
    for name, loads in behind.items():
        yield _dimmer(dimmers[name], loads)


def _dimmer(dimmer: Switch, loads: list[Load]) -> Finding:
    together = sum(load.current.si for load in loads)
    if not loads:
        return no_data(dimmer.id, "no load is found behind it on a single way", dimmer.at())
    if dimmer.rating is None:
        return no_data(dimmer.id, "its rating is not recorded", dimmer.at(), remedy="Record its 'rating'.")
    rated = dimmer.rating.si
    return at_most(
        dimmer.id,
        together,
        rated,
        "A",
        f"the loads behind it draw {together:.4g} A; it is rated {dimmer.rating}",
        dimmer.at("rating"),
        *(load.at("current") for load in loads),
        remedy=f"Fit one of {together:.4g} A or more, or take {together - rated:.3g} A off it.",
        working=lambda: [
            *(f"{load.id}: {load.current}" for load in loads),
            f"together {together:.4g} A; rated, as recorded, {rated:g} A",
            f"margin: {rated - together:.4g} A",
        ],
    )


@rule(
    "electrical/dimmer-load",
    title="Dimmers dim lamps",
    asks="Is every load behind a dimmer a lamp that may be dimmed?",
    references=("dimmers",),
    due=Stage.SYSTEMS,
    remedy="Take the load off the dimmer.",
    at_worst=Verdict.WARN,
)
def dimmers_dim_lamps(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Filament lamps may be dimmed; LED lamps where their maker says so, recorded as `dimmable`. Motors, coils, ignitions and
    electronics on a lowered or chopped voltage stall, chatter or reset. Common practice without a source: it warns at most.
    """
    behind = _behind(electrical, circuit)
    if not any(behind.values()):
        yield not_applicable("aircraft", "no load is found behind a dimmer", electrical.at("switches"))
    for name, loads in behind.items():
        for load in loads:
            yield _dimmed(load, name)


def _dimmed(load: Load, dimmer: str) -> Finding:
    if load.nature == "led" and load.dimmable is None:
        message = f"an LED lamp behind {dimmer}; whether it may be dimmed is not recorded"
        return no_data(load.id, message, load.at(), remedy="Record 'dimmable'.")

    def working() -> list[str]:
        return [
            f"behind {dimmer}: nature {load.nature}, dimmable {load.dimmable}",
            "wanted: a lamp, or an LED lamp that its maker lets be dimmed (common practice, no source)",
        ]

    if load.nature == "lamp" or (load.nature == "led" and load.dimmable):
        return passes(load.id, f"a lamp that {dimmer} may dim", load.at("nature"), working=working)
    what = "an LED lamp that may not be dimmed" if load.nature == "led" else f"its nature is {load.nature}"
    remedy = f"Take it off {dimmer}."
    return warns(load.id, f"behind {dimmer}, and {what}", load.at("nature"), remedy=remedy, working=working)


@rule(
    "electrical/low-energy-contacts",
    title="Contacts for small currents",
    asks="Does no silver contact switch less than 0.5 A or 8 V, unless it is rated for that?",
    references=("ac43-11-53-g",),
    due=Stage.SYSTEMS,
    remedy="Fit a switch with gold contacts, or one rated for low energy.",
)
def contacts_stand_small_currents(electrical: Electrical, circuit: Circuit) -> Iterator[Finding | Sound]:
    """Silver grows a skin that only an arc burns off. The continuous current of each contact of a switch that a hand moves is the
    sum of the loads behind it; below 0.5 A, or in a system below 8 V, its contacts are gold, or its maker rates them for
    low energy. Contacts with more are sound whatever they are made of.
    """
    by_hand = [switch for switch in electrical.switches if switch.kind in _BY_HAND and switch.kind != "dimmer"]
    if not by_hand:
        yield not_applicable("aircraft", "no switch is recorded", electrical.at("switches"))
    volts = electrical.nominal_voltage.si if electrical.nominal_voltage else inf
    current = circuit.analysis.current
    for switch in by_hand:
        carried = [current[index] for index in circuit.edge_of[switch.id] if current[index] > 0]
        if not carried:
            yield not_applicable(switch.id, "no load is found behind it", switch.at())
        else:
            least = min(carried)
            yield later_if(least >= _LOW_ENERGY.value and volts >= _LOW_VOLTS, _small, switch, least, volts)


def _small(switch: Switch, least: float, volts: float) -> Finding:
    enough = least >= _LOW_ENERGY.value * (1 - 1e-9) and volts >= _LOW_VOLTS
    material = "gold" if switch.contact_material == "gold" else "rated for low energy" if switch.low_energy else None

    def working() -> list[str]:
        return [
            f"least continuous current of a contact: {least:.4g} A, system {volts:g} V",
            f"silver contacts from {_LOW_ENERGY} and {_LOW_VOLTS:g} V on ({_LOW_ENERGY.source})",
            f"recorded: contact_material {switch.contact_material}, low_energy {str(switch.low_energy).lower()}",
        ]

    spot = switch.at("contact_material")
    if material and not enough:
        return passes(switch.id, f"{least:.4g} A over contacts that are {material}", spot, working=working)
    if switch.contact_material is None and not enough:
        message = f"a contact carries {least:.4g} A; what its contacts are made of is not recorded"
        return no_data(switch.id, message, switch.at(), remedy="Record 'contact_material'.")
    if volts < _LOW_VOLTS:
        message = f"silver contacts in a system of {volts:g} V; {_LOW_VOLTS:g} V is the least"
        return at_least(switch.id, volts, _LOW_VOLTS, "V", message, spot, working=working)
    message = f"{least:.4g} A over {switch.contact_material or 'any'} contacts; {_LOW_ENERGY} is the least for silver"
    remedy = "Fit one with gold contacts, or one rated for low energy."
    return at_least(switch.id, least, _LOW_ENERGY.value, "A", message, spot, remedy=remedy, working=working)
