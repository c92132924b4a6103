"""Are coaxial cables led so that they stay round?"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, rule
from jurystrut_rules.electrical.installed import Figure, inches, said, within

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.installed import Coax

__all__ = ["coaxial_bends_are_wide", "coaxial_cables_are_not_squeezed", "coaxial_centres_are_stranded"]

_BEND = Figure(6.0, "diameters", "AC 43.13-1B 11-96, from memory: flexible coaxial cable")  # ac43-11-96-bend


def _each(electrical: Electrical, judge: Callable[[Coax], Finding], *fields: str) -> Iterator[Finding]:
    if not electrical.coaxial:
        yield not_applicable("aircraft", "no coaxial cable is recorded", electrical.at())
    for cable in electrical.coaxial:
        missing = [field for field in fields if getattr(cable, field) is None]
        if missing:
            message = f"its {' and '.join(missing)} is not recorded"
            yield no_data(cable.id, message, cable.at(), remedy=f"Record '{missing[0]}'.")
        else:
            yield judge(cable)


@rule(
    "electrical/coax-bend",
    title="Bends of coaxial cables",
    asks="Is every bend of a coaxial cable at least six diameters wide?",
    references=("ac43-11-96-bend", "ac43-11-120"),
    due=Stage.SYSTEMS,
    remedy="Lead the cable in a wider bend.",
    at_worst=Verdict.WARN,
)
def coaxial_bends_are_wide(electrical: Electrical) -> Iterator[Finding]:
    """A sharp bend moves the inner conductor out of the middle. That none are sharp was read; that six diameters are enough
    for flexible cable is from memory, so this rule warns at most.
    """

    def judge(cable: Coax) -> Finding:
        radius, diameter = inches(cable.bend_radius), inches(cable.diameter)
        least = _BEND._replace(value=_BEND.value * diameter, unit="in")
        return within(
            cable.id,
            radius,
            least,
            f"tightest bend {radius:g} in, diameter {diameter:g} in",
            cable.at("bend_radius"),
            least=True,
            remedy=f"Lead it in bends of {least} or more.",
            derived=f"{_BEND} x {diameter:g} in = {least}",
        )

    return _each(electrical, judge, "bend_radius", "diameter")


@rule(
    "electrical/coax-clamp",
    title="Coaxial cables are not squeezed",
    asks="Does no clamp or tie squeeze a coaxial cable?",
    references=("ac43-11-120",),
    due=Stage.SYSTEMS,
    remedy="Loosen the clamp, or fit a larger one.",
)
def coaxial_cables_are_not_squeezed(electrical: Electrical) -> Iterator[Finding]:
    """A tie that is pulled tight presses the cable out of round for good."""

    def judge(cable: Coax) -> Finding:
        tight = bool(cable.tight_clamps)
        return said(
            cable.id,
            "a clamp or tie squeezes it" if tight else "no clamp or tie squeezes it",
            cable.at("tight_clamps"),
            good=not tight,
            source="AC 43.13-1B 11-120, read",
            recorded=f"tight_clamps: {str(tight).lower()}",
            wanted="no sharp bends and no tight clamps",
            remedy="Loosen the clamp, or fit a larger one.",
        )

    return _each(electrical, judge, "tight_clamps")


@rule(
    "electrical/coax-centre",
    title="Coaxial cables with stranded centres",
    asks="Is the inner conductor of every coaxial cable stranded?",
    references=("ac43-11-120",),
    due=Stage.SYSTEMS,
    remedy="Fit cable with a stranded centre when it is next replaced.",
    at_worst=Verdict.WARN,
)
def coaxial_centres_are_stranded(electrical: Electrical) -> Iterator[Finding]:
    """A solid centre is to be avoided: it breaks where it is bent again and again. The AC says avoid, so this warns at most."""

    def judge(cable: Coax) -> Finding:
        return said(
            cable.id,
            f"its centre is {cable.centre}",
            cable.at("centre"),
            good=cable.centre == "stranded",
            source="AC 43.13-1B 11-120, read",
            recorded=f"centre: {cable.centre}",
            wanted="solid centres avoided",
            remedy="Fit cable with a stranded centre when it is next replaced.",
        )

    return _each(electrical, judge, "centre")
