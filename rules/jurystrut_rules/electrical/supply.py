"""Do the sources carry the loads, and does every load have a source and a return?"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    at_most,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.circuit import Sink
    from jurystrut.positions import Spot
    from jurystrut.records.electrical import Electrical, Source
    from jurystrut_rules.electrical.circuit import Circuit, Coils

__all__ = ["AlternatorOutput", "alternator_output", "load_has_circuit", "sources_carry_loads"]

_UNMONITORED = 0.80  # ac43-11-35-a
_GENERATORS = frozenset({"alternator", "generator"})


class AlternatorOutput(NamedTuple):
    """What all alternators and generators together deliver, and how much of it may be planned on, in amperes."""

    generators: tuple[Source, ...]
    rated: float
    plannable: float

    def plannable_in(self, phase: str) -> float | None:
        """The amperes that may be planned on in a phase of flight; None in `emergency`, which has no alternator."""
        return None if phase == "emergency" else self.plannable


@fact
def alternator_output(electrical: Electrical) -> AlternatorOutput:
    """The whole output of what is monitored, 80 % of what is not: AC 43.13-1B paragraph 11-35a."""
    generators = tuple(source for source in electrical.sources if source.kind in _GENERATORS)
    if not generators:
        raise MissingRecord("no alternator or generator is recorded", electrical.at("sources"))
    for source in generators:
        if source.rating is None:
            raise MissingRecord(f"the rating of {source.id} is not recorded", source.at())
    outputs = [(source.rating.si, source.monitored) for source in generators if source.rating]
    return AlternatorOutput(
        generators,
        sum(amperes for amperes, _ in outputs),
        sum(amperes * (1.0 if monitored else _UNMONITORED) for amperes, monitored in outputs),
    )


@rule(
    "electrical/source-capacity",
    title="Sources carry the load",
    asks="Do the loads of each phase of flight stay within what the alternators deliver?",
    references=("ac43-11-35-a", "23-1351-a"),
    due=Stage.SYSTEMS,
    remedy="Take loads off, fit a larger alternator, or monitor its load and record that.",
)
def sources_carry_loads(electrical: Electrical, alternator_output: AlternatorOutput, coils: Coils) -> Iterator[Finding]:
    """The continuous loads of each phase are added, each by the share of the time it is on, and held against the alternators.

    Without an ammeter, a load meter or placards, AC 43.13-1B takes 80 % of the rated output as the limit, and calls that a
    rule of thumb, not a load analysis; with one the whole output counts. Intermittent loads are left to the battery. Coils of
    relays and contactors draw throughout. The phase `emergency` is one without an alternator and is not judged here.
    """
    if not electrical.loads:
        raise MissingRecord("no load is recorded", electrical.at("loads"))
    for load in electrical.loads:
        if not load.duty and not load.intermittent:
            yield no_data(
                load.id,
                "in which phases of flight this load is on is not recorded",
                load.at(),
                remedy="Record its 'duty'.",
            )
    loads = [load for load in electrical.loads if load.duty and not load.intermittent]
    phases = dict.fromkeys(
        phase for load in loads for phase in load.duty if alternator_output.plannable_in(phase) is not None
    )
    if not phases:
        yield not_applicable(
            "aircraft", "no load is recorded as on continuously while an alternator turns", electrical.at("loads")
        )
    held = [_Drawn(s.id, coils.held[s.id], s.at("coil")) for s in electrical.switches if s.id in coils.held]
    for phase in phases:
        on = [_Drawn(d.id, d.current.si * d.duty[phase].si, d.at("current")) for d in loads if phase in d.duty]
        yield _phase(phase, [*on, *held], alternator_output)


class _Drawn(NamedTuple):
    id: str
    amperes: float
    spot: Spot


def _phase(phase: str, drawn: list[_Drawn], output: AlternatorOutput) -> Finding:
    on = sorted(drawn, key=lambda one: -one.amperes)
    total = sum(one.amperes for one in on)
    rated, limit = output.rated, output.plannable
    return at_most(
        phase,
        total,
        limit,
        "A",
        f"the continuous loads draw {total:.1f} A; the alternators deliver {rated:g} A, of which {limit:g} A may be planned on",
        output.generators[0].at("rating"),
        on[0].spot,
        remedy=f"Take {total - limit:.3g} A off this phase, fit a larger alternator, or monitor its load.",
        working=lambda: [*(f"{one.id}: {one.amperes:.2f} A" for one in on), f"together {total:.2f} A"],
    )


@rule(
    "electrical/load-circuit",
    title="Source and return for every load",
    asks="Has every load a way from a source and a way back?",
    references=("23-1351-a",),
    due=Stage.SYSTEMS,
    remedy="Record the missing wire or ground; if it is not there, fit it.",
    no_deviation="without a feed or a return a load does not work, whatever the reason",
)
def load_has_circuit(electrical: Electrical, circuit: Circuit) -> Iterator[Finding]:
    """Each load is looked for in the network that the wires and devices make: it must be reached from a source, and its return
    must lead to a source's return. Whether something switches it off is asked by electrical/load-switch.
    """
    network = circuit.network
    fed, returned = network.fed(), network.returned()
    if not network.sinks:
        yield not_applicable("aircraft", "no load is recorded", electrical.at())
    coils = {switch.id: switch for switch in electrical.switches if switch.coil}
    for sink in network.sinks:
        spot = (circuit.loads.get(sink.id) or coils[sink.id]).at()
        if sink.point not in fed:
            yield fails(sink.id, "no source feeds this load", spot, remedy="Record or fit the wire that feeds it.")
        elif sink.back not in returned:
            yield fails(sink.id, "this load has no way back to a source", spot, remedy="Record or fit its return wire.")
        else:
            working = partial(_ways, circuit, sink)
            yield passes(sink.id, "a source feeds it, and it has a return", spot, working=working)


def _ways(circuit: Circuit, sink: Sink) -> list[str]:
    return [
        f"from {sink.point} towards the sources: {_way(circuit, sink.point)}",
        f"from {sink.back} back to a source: {_way(circuit, sink.back)}",
    ]


def _way(circuit: Circuit, point: str) -> str:
    return ", ".join(edge.id for edge in circuit.analysis.path(point)) or "joined at once, or by more than one way"
