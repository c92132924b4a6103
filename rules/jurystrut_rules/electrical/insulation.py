"""Is every wire of a kind, a metal and a size that its place asks for?"""

from __future__ import annotations

from collections import Counter
from functools import partial
from operator import itemgetter
from typing import TYPE_CHECKING

from jurystrut.quantities import Gauge
from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    fact,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.electrical.installed import said
from jurystrut_rules.electrical.tables import circular_mils, insulation_celsius

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Bundle, Electrical, Wire
    from jurystrut_rules.electrical.circuit import WireKinds

__all__ = [
    "aluminium_is_thick",
    "engine_wires_stand_heat",
    "insulation_by_bundle",
    "insulation_puts_itself_out",
    "insulation_stands_the_air",
    "wires_are_thick_enough_to_handle",
]

_FREE_AIR_C = 70.0  # ac43-table-11-9: what it takes the air to reach, for wires of no bundle
_ENGINE_CLASS_C = 150.0  # engine-compartment-wire
_SMALLEST = Gauge.parse("22 AWG")  # common practice, no source
_SMALLEST_ALUMINIUM = Gauge.parse("8 AWG")  # ac43-aluminium: note to Table 11-9


def _rating(wire: Wire) -> float | None:
    """The temperature in degC that a wire's insulation stands."""
    return wire.insulation.to("degC") if wire.insulation else insulation_celsius(wire.spec)


@fact
def insulation_by_bundle(wire_kinds: WireKinds) -> dict[str, list[Wire]]:
    """One wire of each kind of insulation in each bundle; the wires of no bundle stand under the empty name."""
    kinds: dict[str, dict[tuple[object, ...], Wire]] = {}
    for wire in wire_kinds.first:
        kinds.setdefault(wire.bundle or "", {}).setdefault((wire.spec, wire.insulation), wire)
    return {name: list(found.values()) for name, found in kinds.items()}


def _least(wires: list[Wire]) -> tuple[Wire, float | None]:
    """The wire whose insulation stands least, first of all one of which that is not known."""
    rated = [(wire, _rating(wire)) for wire in wires]
    return min(rated, key=lambda pair: -1e9 if pair[1] is None else pair[1])  # numerics: below every temperature


@rule(
    "electrical/insulation-temperature",
    title="Insulation stands the air around it",
    asks="Does the insulation of every wire stand more than the hottest air around it?",
    references=("ac43-table-11-9", "m22759-16"),
    due=Stage.SYSTEMS,
    remedy="Fit wire of a higher class, or lead the bundle where it is cooler.",
)
def insulation_stands_the_air(electrical: Electrical, insulation_by_bundle: dict[str, list[Wire]]) -> Iterator[Finding]:
    """The hottest air recorded of each bundle is held against the wire in it whose insulation stands least, by its record or its
    specification. Wires of no bundle are taken in air of 70 degC, as Table 11-9 takes it. What current a wire may carry in that
    air is judged elsewhere: here none would be left.
    """
    groups = insulation_by_bundle
    if not groups:
        yield no_data("aircraft", "no wire is recorded", electrical.at(), remedy="Record 'wires'.")
    bundles = {bundle.id: bundle for bundle in electrical.bundles}
    for name, wires in groups.items():
        yield _in_air(name, wires, bundles.get(name))


def _in_air(name: str, wires: list[Wire], bundle: Bundle | None) -> Finding:
    subject = name or "aircraft"
    wire, stands = _least(wires)
    if name and (bundle is None or bundle.ambient is None):
        spot = bundle.at() if bundle else wire.at("bundle")
        return no_data(subject, "the hottest air around it is not recorded", spot, remedy="Record 'ambient'.")
    if stands is None:
        message = f"what the insulation of {wire.id} stands is not recorded"
        return no_data(subject, message, wire.at(), remedy="Record its 'insulation'.")
    air = bundle.ambient.to("degC") if bundle and bundle.ambient else _FREE_AIR_C
    where = (wire.at("spec"), bundle.at("ambient")) if bundle else (wire.at("spec"),)
    return at_least(
        subject,
        stands,
        air,
        "degC",
        f"the insulation of {wire.id} stands {stands:g} degC, the least here; the air reaches {air:g} degC",
        *where,
        remedy="Fit wire of a higher class, or lead it where it is cooler.",
        working=lambda: [
            f"kinds of insulation here: {', '.join(f'{kind.spec or kind.id} {_rating(kind):g} degC' for kind in wires)}",
            f"the air: {air:g} degC, {'as recorded' if bundle else 'as Table 11-9 takes it'}",
            f"left for the wire's own heat: {stands:g} - {air:g} = {stands - air:g} degC",
        ],
    )


@rule(
    "electrical/engine-compartment",
    title="Insulation class in the engine compartment",
    asks="Is every wire in the engine compartment insulated for 150 degC or more?",
    references=("engine-compartment-wire", "23-1359"),
    due=Stage.SYSTEMS,
    remedy="Fit wire of the 150 degC class.",
    at_worst=Verdict.WARN,
)
def engine_wires_stand_heat(electrical: Electrical, insulation_by_bundle: dict[str, list[Wire]]) -> Iterator[Finding]:
    """Air under a cowling is hottest after the engine was stopped, when nobody measures it; so the 150 degC class is fitted there
    whatever was measured. That is common practice without a source, and warns at most. Every bundle says in which zone it runs.
    """
    groups = insulation_by_bundle
    if not electrical.bundles:
        yield no_data("aircraft", "no bundle is recorded", electrical.at(), remedy="Record 'bundles'.")
    for bundle in electrical.bundles:
        if bundle.zone is None:
            yield no_data(bundle.id, "the zone that it runs in is not recorded", bundle.at(), remedy="Record 'zone'.")
        elif bundle.zone != "engine-compartment":
            yield not_applicable(bundle.id, f"it runs in the zone {bundle.zone}", bundle.at("zone"))
        elif bundle.id not in groups:
            yield not_applicable(bundle.id, "no wire is recorded in it", bundle.at())
        else:
            yield _hot(bundle, groups[bundle.id])
    if "" in groups:
        yield _anywhere(groups[""])


def _anywhere(wires: list[Wire]) -> Finding:
    """The wires of no bundle, which say nothing of their zone."""
    wire, stands = _least(wires)
    if stands is None or stands < _ENGINE_CLASS_C:
        known = "unknown" if stands is None else f"{stands:g} degC"
        message = f"{wire.id} is in no bundle, so its zone is not recorded, and its insulation is of {known}"
        return no_data("aircraft", message, wire.at(), remedy="Record it in a bundle that has a 'zone'.")
    message = f"the wires of no bundle stand {stands:g} degC or more, wherever they run"
    working = [f"the least of them: {wire.id}, {stands:g} degC", f"{_ENGINE_CLASS_C:g} degC is customary (no source)"]
    return passes("aircraft", message, wire.at("spec"), working=lambda: working)


def _hot(bundle: Bundle, wires: list[Wire]) -> Finding:
    wire, stands = _least(wires)
    if stands is None:
        message = f"what the insulation of {wire.id} stands is not recorded"
        return no_data(bundle.id, message, wire.at(), remedy="Record its 'insulation'.")
    return at_least(
        bundle.id,
        stands,
        _ENGINE_CLASS_C,
        "degC",
        f"the insulation of {wire.id} stands {stands:g} degC, the least here; {_ENGINE_CLASS_C:g} degC is customary",
        wire.at("spec"),
        bundle.at("zone"),
        remedy=f"Fit wire of the {_ENGINE_CLASS_C:g} degC class.",
        working=lambda: [
            f"recorded: {wire.id}, {wire.spec or 'no specification'}, {stands:g} degC",
            f"the least: {_ENGINE_CLASS_C:g} degC (common practice, no source)",
            f"margin: {stands - _ENGINE_CLASS_C:g} degC",
        ],
    )


@rule(
    "electrical/smallest-wire",
    title="No wire too thin to handle",
    asks="Is no wire thinner than size 22?",
    references=("smallest-wire", "ac43-table-11-9"),
    due=Stage.SYSTEMS,
    remedy="Fit wire of size 22 or thicker.",
    at_worst=Verdict.WARN,
)
def wires_are_thick_enough_to_handle(electrical: Electrical, wire_kinds: WireKinds) -> Iterator[Finding]:
    """Thinner wires carry a sensor's current and break in the hand. The figure is common practice without a source, so this
    warns at most; wires inside a maker's own cable are best not recorded one by one. Wires without a size are judged by
    electrical/wire-load.
    """
    sized = [(wire.size.number, wire) for wire in wire_kinds.first if wire.size]
    if not sized:
        yield no_data("aircraft", "the size of no wire is recorded", electrical.at(), remedy="Record 'size'.")
        return
    number, thinnest = max(sized, key=itemgetter(0))
    thin = number > _SMALLEST.number
    for wire in electrical.wires if thin else ():
        if wire.size is None or wire.size >= _SMALLEST:
            continue
        yield warns(
            wire.id,
            f"{wire.size}; thinner than {_SMALLEST} is not customary",
            wire.at("size"),
            remedy=f"Fit {_SMALLEST} or thicker.",
            working=partial(_section, wire),
        )
    if not thin:
        message = f"the thinnest is {thinnest.id}, {thinnest.size}; {_SMALLEST} is the least"
        yield passes("aircraft", message, thinnest.at("size"), working=lambda: _section(thinnest))


def _section(wire: Wire) -> list[str]:
    own = circular_mils(wire.size.name) if wire.size else None
    return [
        f"recorded: {wire.id}, {wire.size}, {'not in Table 11-9' if own is None else f'{own:g} circular mils'}",
        f"the least: {_SMALLEST}, {circular_mils(_SMALLEST.name):g} circular mils (common practice, no source)",
    ]


@rule(
    "electrical/aluminium",
    title="Aluminium wire of size 8 and thicker",
    asks="Is no aluminium wire thinner than size 8?",
    references=("ac43-aluminium",),
    due=Stage.SYSTEMS,
    remedy="Fit copper wire two sizes thinner.",
    at_worst=Verdict.WARN,
)
def aluminium_is_thick(electrical: Electrical) -> Iterator[Finding]:
    """The AC does not recommend aluminium below size 8, so this warns. What a thicker one carries is that of copper two numbers
    higher; that, and the resistance from Table 11-10, is judged with all other wires.
    """
    wires = [wire for wire in electrical.wires if wire.material == "aluminium"]
    if not wires:
        yield not_applicable("aircraft", "no aluminium wire is recorded", electrical.at("wires"))
    for wire in wires:
        if wire.size is None:
            yield no_data(wire.id, "its size is not recorded", wire.at(), remedy="Record 'size'.")
        else:
            thick = wire.size >= _SMALLEST_ALUMINIUM
            yield said(
                wire.id,
                f"aluminium of {wire.size}; {_SMALLEST_ALUMINIUM} is the least",
                wire.at("size"),
                good=thick,
                source="AC 43.13-1B, note to Table 11-9, read: thinner is not recommended",
                recorded=f"aluminium, {wire.size}",
                wanted=f"{_SMALLEST_ALUMINIUM} or thicker",
                remedy="Fit copper wire two sizes thinner.",
            )


@rule(
    "electrical/wire-type",
    title="Insulation that puts itself out",
    asks="Is the insulation of every kind of wire known to put itself out?",
    references=("ac43-11-85", "23-1359"),
    due=Stage.SYSTEMS,
    remedy="Fit wire of a specification in tables 11-11 and 11-12, or test it and record that.",
    at_worst=Verdict.WARN,
)
def insulation_puts_itself_out(electrical: Electrical, wire_kinds: WireKinds) -> Iterator[Finding]:
    """The specifications in tables 11-11 and 11-12 were reviewed for flammability; a wire that is missing there is not thereby
    rejected, but somebody must have looked. The builder lists those that somebody did as `flame_tested`; each specification
    in use is looked for there. The tables themselves are not held here, so this warns at most.
    """
    used: dict[str, Wire] = {}
    counts: Counter[str] = Counter()
    for wire, count in zip(wire_kinds.first, wire_kinds.counts, strict=True):
        used.setdefault(wire.spec or "", wire)
        counts[wire.spec or ""] += count
    bare = used.pop("", None)
    if bare:
        message = f"the specification of {counts['']} wires is not recorded, {bare.id} first"
        yield no_data("aircraft", message, bare.at(), remedy="Record 'spec'.")
    elif not used:
        yield no_data("aircraft", "no wire is recorded", electrical.at(), remedy="Record 'wires'.")
    if used and not electrical.flame_tested:
        message = "no kind of wire is recorded as known to put itself out"
        yield no_data("aircraft", message, electrical.at(), remedy="Record 'flame_tested'.")
        return
    for spec, wire in used.items():
        yield _flame(spec, wire, counts[spec], electrical)


def _flame(spec: str, first: Wire, count: int, electrical: Electrical) -> Finding:
    def working() -> list[str]:
        return [
            f"wires of {spec}: {count}",
            f"flame_tested: {', '.join(electrical.flame_tested)}",
            "wanted: insulation reviewed for flammability, as tables 11-11 and 11-12 are (AC 43.13-1B 11-85, read)",
        ]

    spot = electrical.at("flame_tested")
    if any(spec == known or spec.startswith(f"{known}-") for known in electrical.flame_tested):
        return passes(first.id, f"{spec} is known to put itself out; wires of it: {count}", spot, working=working)
    message = f"nobody recorded that {spec} puts itself out; wires of it: {count}"
    return fails(
        first.id, message, first.at("spec"), spot, remedy="Find it in the tables, or test it.", working=working
    )
