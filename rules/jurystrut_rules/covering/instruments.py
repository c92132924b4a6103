"""Were iron and thermometer right when they were used, and was the fabric tautened as its manual says?"""

from __future__ import annotations

from itertools import pairwise
from typing import TYPE_CHECKING

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
from jurystrut_rules.covering.no_fabric import no_fabric
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.covering import Cloth, Covering
    from jurystrut.records.fabric import Calibration, Instrument, Shrinking

__all__ = ["every_surface_is_tautened", "iron_is_calibrated", "iron_not_too_hot", "thermometer_is_calibrated"]

_HOTTEST_F = 350.0  # amt-fabric-iron (memory): degF, the usual ceiling for polyester
_CUSTOMARY_INTERVAL = 366  # practice-instrument-year: days


def _nothing_ironed(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """Why there is nothing to judge: cotton, linen and glass are not tautened with an iron; other fabric lacks its record."""
    fibres = {cloth.fibre for cloth in covering.cloths}
    apart = no_fabric(aircraft, covering)
    if apart:
        yield apart
    if apart or covering.shrinkings:
        return
    if not fibres or fibres & {None, "polyester"}:
        raise MissingRecord("no tautening is recorded", covering.at("shrinkings"))
    yield not_applicable(
        "aircraft", f"{' and '.join(sorted(map(str, fibres)))} is not tautened with an iron", covering.at()
    )


def _before(instrument: Instrument, day: datetime.date) -> Calibration | None:
    """Its last calibration up to a day."""
    past = [calibration for calibration in instrument.calibrations if calibration.day <= day]
    return max(past, key=lambda calibration: calibration.day, default=None)


@rule(
    "covering/iron-calibration",
    title="Iron calibrated",
    asks="Was the iron calibrated before every use, at temperatures on both sides of those used?",
    references=("amt-fabric-iron",),
    due=Stage.COVERING,
    remedy="Calibrate the iron now, and look for slack and for scorched fabric where it was used.",
    at_worst=Verdict.WARN,
)
def iron_is_calibrated(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """A dial on an iron says little. The last calibration up to the day counts, and its points must reach from the coolest to the
    hottest stage; it is good for as long as the iron's record declares. The handbook is known at second hand, so this warns at
    most.
    """
    irons = {instrument.id: instrument for instrument in covering.instruments}
    yield from _nothing_ironed(aircraft, covering)
    for shrinking in covering.shrinkings:
        if shrinking.iron is None or shrinking.day is None or not shrinking.stages:
            yield lacking(shrinking, next(f for f in ("iron", "day", "stages") if not getattr(shrinking, f)))
        else:
            yield _ironed(shrinking, irons[shrinking.iron], shrinking.day)


def _ironed(shrinking: Shrinking, iron: Instrument, day: datetime.date) -> Finding:
    if iron.kind != "iron":
        return warns(shrinking.id, f"{iron.id} is recorded as no iron", shrinking.at("iron"), iron.at("kind"))
    last = _before(iron, day)
    if last is None:
        return no_data(shrinking.id, f"no calibration of {iron.id} up to {day} is recorded", iron.at())
    if not last.points:
        return no_data(shrinking.id, f"at which points {iron.id} was calibrated is not recorded", last.at())
    age = (day - last.day).days
    if iron.interval and age > iron.interval.to("d"):
        words = f"{iron.id} was calibrated {age} days before, which its record says is good for {iron.interval}"
        return warns(shrinking.id, words, shrinking.at("day"), iron.at("interval"))
    used, known = ([round(heat.to("degF"), 6) for heat in heats] for heats in (shrinking.stages, last.points))
    reached = min(known) <= min(used) and max(used) <= max(known)
    words = (
        f"used at {min(used):.0f} to {max(used):.0f} degF; {iron.id} was calibrated on {last.day} "
        f"from {min(known):.0f} to {max(known):.0f} degF"
    )
    return (passes if reached else warns)(shrinking.id, words, shrinking.at("stages"), last.at("points"))


@rule(
    "covering/shrink-stages",
    title="Stages of tautening",
    asks="Was the fabric tautened from cool to hot, and never hotter than its manual allows?",
    references=("declared-manual", "amt-fabric-iron"),
    due=Stage.COVERING,
    remedy="Look for slack and weak fabric; where it was too hot, replace it.",
)
def iron_not_too_hot(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """The ceiling is what the fabric's manual declares. Where none is declared, 350 degF serves as a warning, from memory.
    Cooler stages come first; a hot iron on slack fabric pulls it out of line.
    """
    cloths = {cloth.id: cloth for cloth in covering.cloths}
    of_surface = {surface.id: cloths.get(surface.cloth or "") for surface in covering.surfaces}
    yield from _nothing_ironed(aircraft, covering)
    for shrinking in covering.shrinkings:
        if not shrinking.stages:
            yield lacking(shrinking, "stages")
        else:
            yield _stages(shrinking, of_surface[shrinking.surface])


def _stages(shrinking: Shrinking, cloth: Cloth | None) -> Finding:
    heats = [round(heat.to("degF"), 6) for heat in shrinking.stages]
    declared = cloth.hottest_iron if cloth else None
    if cloth and declared and cloth.manual is None:
        return lacking(cloth, "manual", ", which gives its hottest iron")._replace(subject=shrinking.id)
    limit = round(declared.to("degF"), 6) if declared else _HOTTEST_F
    by = cloth.manual if cloth and declared else "from memory"
    words = f"{', '.join(f'{heat:.0f}' for heat in heats)} degF; at most {limit:.0f} degF ({by})"
    where = (shrinking.at("stages"), *([cloth.at("hottest_iron")] if cloth and declared else []))
    if max(heats) <= limit and any(later < earlier for earlier, later in pairwise(heats)):
        return warns(shrinking.id, f"{words}; a cooler stage came after a hotter one", shrinking.at("stages"))
    otherwise = Verdict.FAIL if declared else Verdict.WARN
    return at_most(shrinking.id, max(heats), limit, "degF", words, *where, otherwise=otherwise)


@rule(
    "covering/thermometer",
    title="Thermometer and hygrometer calibrated",
    asks="Was what measured air and surface calibrated before every application?",
    references=("practice-instrument-year", "declared-manual"),
    due=Stage.COVERING,
    remedy="Compare it with a better one now, and judge the log by what it is found to be off.",
)
def thermometer_is_calibrated(covering: Covering) -> Iterator[Finding]:
    """Where only one instrument for the weather is recorded, it is taken to have measured everything. A calibration is good for
    as long as the instrument's record declares; where nothing is declared, older than a year is warned of (common practice,
    no source).
    """
    known = {instrument.id: instrument for instrument in covering.instruments if instrument.kind == "weather"}
    if not covering.applications:
        raise MissingRecord("no application is recorded", covering.at("applications"))
    if not known:
        raise MissingRecord("no instrument for air and surface is recorded", covering.at("instruments"))
    for entry in covering.applications:
        name = entry.measured_with or (next(iter(known)) if len(known) == 1 else None)
        if name is None:
            yield lacking(entry, "measured_with", ", and there are several instruments")
        elif name not in known:
            yield fails(entry.id, f"{name} is an iron and measures no air", entry.at("measured_with"))
        else:
            yield _measured(entry.id, known[name], entry.started.date())


def _measured(subject: str, instrument: Instrument, day: datetime.date) -> Finding:
    last = _before(instrument, day)
    if last is None:
        return no_data(subject, f"no calibration of {instrument.id} up to {day} is recorded", instrument.at())
    declared = instrument.interval
    limit = declared.to("d") if declared else _CUSTOMARY_INTERVAL
    age = (day - last.day).days
    words = (
        f"{instrument.id} was calibrated {age} days before; {limit:g} days by {'its record' if declared else 'custom'}"
    )
    otherwise = Verdict.FAIL if declared else Verdict.WARN
    return at_most(subject, age, limit, "days", words, last.at("day"), instrument.at("interval"), otherwise=otherwise)


@rule(
    "covering/tautened-everywhere",
    title="Every surface tautened",
    asks="Is the tautening of every surface on record on which coats were begun?",
    references=("ac43-2-11-c",),
    due=Stage.COVERING,
    remedy="Record it under 'shrinkings', or look for slack fabric.",
)
def every_surface_is_tautened(aircraft: Aircraft, covering: Covering) -> Iterator[Finding]:
    """Fabric that an iron tautens is looked for, surface by surface, once anything beyond cement went on. Cotton, linen and
    glass are not tautened with an iron.
    """
    yield from _nothing_ironed(aircraft, covering)
    fibres = {cloth.id: cloth.fibre for cloth in covering.cloths}
    tautened = {shrinking.surface: shrinking for shrinking in covering.shrinkings}
    begun = {entry.surface: entry for entry in covering.applications if entry.step not in {"cement", "prime"}}
    for surface in covering.surfaces if covering.shrinkings else ():
        if surface.id not in begun or fibres.get(surface.cloth or "") not in {None, "polyester"}:
            yield not_applicable(surface.id, "not coated yet, or not tautened with an iron", surface.at())
        elif surface.id in tautened:
            yield passes(surface.id, f"tautened: {tautened[surface.id].id}", tautened[surface.id].at("surface"))
        else:
            message = f"{begun[surface.id].step or 'a coat'} went on, and no tautening is recorded"
            yield no_data(surface.id, message, surface.at(), begun[surface.id].at("step"))
