"""Are switches large enough for the kind of load they switch?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, MissingRecord, Stage, at_most, no_data, not_applicable, rule
from jurystrut_rules.electrical.tables import switch_factor

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Electrical, Switch
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["switch_fits_load"]

_ROW_OF_NATURE = {"lamp": "lamp", "relay": "inductive", "heater": "resistive", "motor": "motor"}
_OTHER_ROW = "resistive"
_BY_HAND = frozenset({"toggle", "rocker", "push-button", "rotary", "key", "lever", "dimmer"})


@rule(
    "electrical/switch-rating",
    title="Switch rating with derating",
    asks="Is every switch rated for its loads, multiplied by the factor for their kind?",
    references=("ac43-table-11-4", "ac43-11-53"),
    due=Stage.SYSTEMS,
    remedy="Fit a switch of a higher rating, or let it work a relay.",
)
def switch_fits_load(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """A filament draws many times its steady current when cold, a motor when it starts, a coil throws a spark.

    Table 11-4 multiplies the steady current by a factor for each kind of load; a 14 V system uses its rows for 12 V. The
    table has no row for electronic loads, ignitions and LED lamps: they are taken as resistive. Contacts of relays and
    contactors are held against the continuous current as it is.
    """
    if electrical.nominal_voltage is None:
        raise MissingRecord("the system's nominal voltage is not recorded", electrical.at())
    if not electrical.switches:
        yield not_applicable("aircraft", "no switch is recorded", electrical.at())
        return
    volts = electrical.nominal_voltage.si
    factors = {nature: switch_factor(volts, row) for nature, row in _ROW_OF_NATURE.items()}
    other = switch_factor(volts, _OTHER_ROW)
    needed = {load.id: load.current.si * factors.get(load.nature, other) for load in electrical.loads}
    steady = {load.id: load.current.si for load in electrical.loads if not load.intermittent}
    for switch in electrical.switches:
        if switch.coil:
            needed[switch.id], steady[switch.id] = switch.coil.si * factors["relay"], switch.coil.si
    by_hand, by_coil = circuit.with_currents(needed), circuit.with_currents(steady)
    for switch in electrical.switches:
        manual = switch.kind in _BY_HAND
        currents = (by_hand if manual else by_coil).current
        most = max(currents[index] for index in circuit.edge_of[switch.id])
        yield _rated(switch, most, needed if manual else steady, circuit, manual=manual)


def _rated(switch: Switch, needed: float, shares: dict[str, float], circuit: Circuit, *, manual: bool) -> Finding:
    if switch.rating is None:
        return no_data(
            switch.id,
            f"its rating is not recorded; its loads ask for {needed:.4g} A",
            switch.at(),
            remedy="Record its 'rating'.",
        )
    how = "multiplied by their factors" if manual else "continuous"
    return at_most(
        switch.id,
        needed,
        switch.rating.si,
        "A",
        f"its loads, {how}, ask for {needed:.4g} A; it is rated {switch.rating}",
        switch.at("rating"),
        remedy=f"Fit one rated {needed:.4g} A or more, or let it work a relay.",
        working=lambda: [
            *_shares(switch.id, shares, circuit),
            f"most that any contact carries (between two sources, the larger demand of either side): {needed:.4g} A",
        ],
    )


def _shares(switch: str, shares: dict[str, float], circuit: Circuit) -> Iterator[str]:
    """What each load asks of the switch, for the loads that have a single way over it."""
    analysis = circuit.analysis
    for sink in circuit.network.sinks:
        asked = shares.get(sink.id, 0.0)
        if asked and any(edge.id == switch for edge in (*analysis.path(sink.point), *analysis.path(sink.back))):
            table = "" if asked == sink.current else f" x {asked / sink.current:g} (Table 11-4) = {asked:.4g} A"
            yield f"{sink.id}: {sink.current:g} A{table}"
