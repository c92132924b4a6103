"""Do the sources carry the loads, and does every load have a source, a return and a switch?"""

from __future__ import annotations

from math import inf
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Sink
    from jurystrut.positions import Spot
    from jurystrut.records.electrical import Electrical, Load, Source
    from jurystrut_rules.electrical.circuit import Circuit, Coils

__all__ = ["load_has_circuit", "sources_carry_loads"]

_UNMONITORED = 0.80  # AC 43.13-1B paragraph 11-35a
_GENERATORS = frozenset({"alternator", "generator"})


@rule(
    "electrical/source-capacity",
    title="Sources carry the load",
    asks="Do the loads of each phase of flight stay within what the alternators deliver?",
    references=("ac43-11-35-a", "23-1351-a"),
    due=Stage.SYSTEMS,
    remedy="Take loads off, fit a larger alternator, or monitor its load and record that.",
)
def sources_carry_loads(electrical: Electrical, coils: Coils) -> Iterator[Finding]:
    """The continuous loads of each phase are added, each by the share of the time it is on, and held against the alternators.

    Without an ammeter, a load meter or placards, AC 43.13-1B takes 80 % of the rated output as the limit, and calls that a
    rule of thumb, not a load analysis; with one the whole output counts. Intermittent loads are left to the battery. Coils of
    relays and contactors draw throughout. The phase `emergency` is one without an alternator and is not judged here.
    """
    if not electrical.loads:
        raise MissingRecord("no load is recorded", electrical.at("loads"))
    generators = [source for source in electrical.sources if source.kind in _GENERATORS]
    if not generators:
        raise MissingRecord("no alternator or generator is recorded", electrical.at("sources"))
    for source in generators:
        if source.rating is None:
            raise MissingRecord(f"the rating of {source.id} is not recorded", source.at())
    for load in electrical.loads:
        if not load.duty and not load.intermittent:
            yield no_data(
                load.id,
                "in which phases of flight this load is on is not recorded",
                load.at(),
                remedy="Record its 'duty'.",
            )
    loads = [load for load in electrical.loads if load.duty and not load.intermittent]
    phases = dict.fromkeys(phase for load in loads for phase in load.duty if phase != "emergency")
    if not phases:
        yield not_applicable(
            "aircraft", "no load is recorded as on continuously while an alternator turns", electrical.at("loads")
        )
    held = [_Drawn(s.id, coils.held[s.id], s.at("coil")) for s in electrical.switches if s.id in coils.held]
    for phase in phases:
        on = [_Drawn(d.id, d.current.si * d.duty[phase].si, d.at("current")) for d in loads if phase in d.duty]
        yield _phase(phase, [*on, *held], generators)


class _Drawn(NamedTuple):
    id: str
    amperes: float
    spot: Spot


def _phase(phase: str, drawn: list[_Drawn], generators: list[Source]) -> Finding:
    on = sorted(drawn, key=lambda one: -one.amperes)
    total = sum(one.amperes for one in on)
    rated = sum(source.rating.si for source in generators if source.rating)
    limit = sum(
        source.rating.si * (1.0 if source.monitored else _UNMONITORED) for source in generators if source.rating
    )
    return at_most(
        phase,
        total,
        limit,
        "A",
        f"the continuous loads draw {total:.1f} A; the alternators deliver {rated:g} A, of which {limit:g} A may be planned on",
        generators[0].at("rating"),
        on[0].spot,
        remedy=f"Take {total - limit:.3g} A off this phase, fit a larger alternator, or monitor its load.",
        working=lambda: [*(f"{one.id}: {one.amperes:.2f} A" for one in on), f"together {total:.2f} A"],
    )


_LIVE_LIMIT = 5.0  # amperes, 14 CFR 23.1361(b) before amendment 64, from memory


@rule(
    "electrical/load-circuit",
    title="Source, return and switch for every load",
    asks="Has every load a way from a source, a way back, and a way to be switched off?",
    references=("23-1351-a", "23-1361", "ac43-11-51"),
    due=Stage.SYSTEMS,
    remedy="Record the missing wire, ground or switch; if it is not there, fit it.",
    no_deviation="without a feed or a return a load does not work, whatever the reason",
)
def load_has_circuit(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Each load is looked for in the network that the wires and devices make.

    It must be reached from a source, its return must lead to a source's return, and with every switch open it must lose one
    of the two. A breaker is no switch: AC 43.13-1B does not recommend using one so. A load that is meant to stay live says
    why, and what feeds it opens at 5 A or less (old 23.1361(b), from memory; it also lets the engine's own circuits stay
    live). So a missing switch or a larger device is a warning, a missing source or return a failure.
    """
    network = circuit.network
    fed, returned = network.fed(), network.returned()
    live, live_return = network.fed(closed=False), network.returned(closed=False)
    if not network.sinks:
        yield not_applicable("aircraft", "no load is recorded", electrical.at())
    coils = {switch.id: switch for switch in electrical.switches if switch.coil}
    for sink in network.sinks:
        load = circuit.loads.get(sink.id)
        spot = (load or coils[sink.id]).at()
        if sink.point not in fed:
            yield fails(sink.id, "no source feeds this load", spot, remedy="Record or fit the wire that feeds it.")
        elif sink.back not in returned:
            yield fails(sink.id, "this load has no way back to a source", spot, remedy="Record or fit its return wire.")
        elif sink.point in live and sink.back in live_return:
            yield _stays_live(sink, load, spot, circuit)
        else:
            yield passes(sink.id, "a source feeds it, it has a return, and a switch cuts it off", spot)


def _stays_live(sink: Sink, load: Load | None, spot: Spot, circuit: Circuit) -> Finding:
    if load is None:
        return warns(
            sink.id,
            "nothing but a breaker or fuse cuts this coil off; what it closes stays closed",
            spot,
            remedy="Fit a switch.",
        )
    if load.always_live is None:
        return warns(
            sink.id,
            "nothing but a breaker or fuse cuts this load off",
            spot,
            remedy="Fit a switch, or record why it is 'always_live'.",
        )
    reaching = circuit.analysis.available.get(sink.point, 0.0)
    opens = f"what feeds it opens at {reaching:g} A" if reaching < inf else "nothing that feeds it ever opens"
    return at_most(
        sink.id,
        reaching,
        _LIVE_LIMIT,
        "A",
        f"meant to stay live ({load.always_live}); {opens}",
        load.at("always_live"),
        remedy=f"Protect it at {_LIVE_LIMIT:g} A or less next to the source.",
        working=lambda: [f"the greatest current that its supply lets through: {reaching:g} A"],
        otherwise=Verdict.WARN,
    )
