"""Do diodes and junctions carry no more than they are rated for?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, at_most, no_data, not_applicable, rule

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Diode, Electrical, Junction
    from jurystrut_rules.electrical.circuit import Circuit

__all__ = ["parts_carry_loads"]


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
