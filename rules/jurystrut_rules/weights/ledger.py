"""The empty aircraft: what the latest weighing and the components say of it. Facts for the other rules, and their agreement."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, NamedTuple

from jurystrut.calculations.balance import Body, Net, total, weighed
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Spot,
    Stage,
    Verdict,
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

    from jurystrut.records.electrical import Electrical
    from jurystrut.records.fuel import Fuel
    from jurystrut.records.lighting import Lighting
    from jurystrut.records.panel import Panel
    from jurystrut.records.weights import Component, Extra, Scale, Weighing, Weights

__all__ = [
    "ALLOWANCE",
    "Empty",
    "changes_since",
    "component_is_known",
    "components_agree",
    "empty_aircraft",
    "inches",
    "installed_item_is_weighed",
    "latest",
    "nets_of",
    "no_result_of",
    "pounds",
    "result_of",
    "taken_off",
]


class Empty(NamedTuple):
    """The empty aircraft in kilograms and metres, how that is known, and where."""

    body: Body
    steps: tuple[str, ...]
    where: tuple[Spot, ...]


def latest(weights: Weights) -> Weighing | None:
    """The latest weighing, of several on one day the one recorded last, or None."""
    return max(reversed(weights.weighings), key=lambda weighing: weighing.day, default=None)


def no_result_of(weighing: Weighing) -> str:
    """Why `result_of` gives None, in words; empty where it gives a result."""
    if not weighing.scales:
        return "no scale reading is recorded"
    for scale in weighing.scales:
        if scale.tare is None or scale.arm is None:
            return f"the {'tare' if scale.tare is None else 'arm'} of wheel '{scale.wheel}' is not recorded"
        if taken_off(scale) > scale.reading.si:
            return f"tare and zero of wheel '{scale.wheel}' are more than its reading of {scale.reading}"
    if weighing.aboard is None or weighing.missing is None:
        return f"what was {'aboard' if weighing.aboard is None else 'missing'} is not recorded; write [] for nothing"
    left = sum(net.body.weight for net in nets_of(weighing)) + sum(
        sign * extra.weight.si for sign, extras in ((1, weighing.missing), (-1, weighing.aboard)) for extra in extras
    )
    return "what was aboard weighs as much as the readings" if left < 1e-9 else ""


def taken_off(scale: Scale) -> float:
    """What a scale shows that is not the aircraft: tare, and what it showed with nothing on it."""
    return (scale.tare.si if scale.tare else 0.0) + (scale.zero.si if scale.zero else 0.0)


def result_of(weighing: Weighing) -> Body | None:
    """Empty weight and arm from a weighing's readings; None where `no_result_of` says why not.

    AC 43.13-1B paragraphs 10-15 and 10-16.
    """
    if no_result_of(weighing):
        return None
    aboard = [Body(extra.weight.si, extra.arm.si) for extra in weighing.aboard or ()]
    missing = [Body(extra.weight.si, extra.arm.si) for extra in weighing.missing or ()]
    return weighed(nets_of(weighing), aboard, missing)


def nets_of(weighing: Weighing) -> list[Net]:
    """The wheels whose tare and arm are known; several readings count as their mean."""
    return [
        Net(
            math.fsum(reading.si for reading in (scale.reading, *scale.repeated)) / (1 + len(scale.repeated)),
            scale.tare.si,
            scale.arm.si,
            scale.zero.si if scale.zero else 0.0,
            scale.wheel,
        )
        for scale in weighing.scales
        if scale.tare is not None and scale.arm is not None
    ]


def pounds(kilograms: float) -> float:
    """Kilograms in pounds."""
    return kilograms / 0.45359237  # arithmetic


def inches(metres: float) -> float:
    """Metres in inches."""
    return metres / 0.0254  # arithmetic


def _words(body: Body) -> str:
    return f"{pounds(body.weight):.1f} lb at {inches(body.arm):.2f} in"


@fact
def empty_aircraft(weights: Weights) -> Empty:
    """The empty aircraft: the latest weighing and what was fitted after it; without a weighing, the sum of the components."""
    weighing = latest(weights)
    if weighing is None:
        return _from_components(weights)
    body = result_of(weighing)
    if body is None:
        raise MissingRecord(f"weighing {weighing.id} gives no empty weight: {no_result_of(weighing)}", weighing.at())
    changes = changes_since(weights, weighing)
    whole = total([body, *(change for _, change in changes)])
    steps = [f"weighing {weighing.id}: {_words(body)}", *(f"{_what(c, weighing)}: {_words(b)}" for c, b in changes)]
    return Empty(whole, (*steps, f"empty: {_words(whole)}"), (*(c.at("weight") for c, _ in changes), weighing.at()))


def changes_since(weights: Weights, weighing: Weighing) -> list[tuple[Component, Body]]:
    """What was fitted after a weighing, and what was taken out, which counts with a negative weight.

    What the weighing names as missing is in its result already; of that counts what it has become heavier or lighter since.
    MissingRecord where one of them has no weight or arm.
    """
    added = {extra.component: extra for extra in weighing.missing or () if extra.component}
    later = [c for c in weights.components if _later(c, weighing) and c.id not in added]
    fitted = [c for c in later if c.fitted and not c.removed]
    taken = [
        component
        for component in weights.components
        if component.removed
        and component.removed > weighing.day
        and (component.id in added or not _later(component, weighing))
    ]
    unknown = [c.at() for c in (*fitted, *taken) if c.weight is None or c.arm is None]
    if unknown:
        raise MissingRecord("a component fitted or taken out after the weighing has no weight or arm", *unknown)
    signed = [(c, 1) for c in fitted] + [(c, -1) for c in taken]
    bodies = [(c, Body(sign * c.weight.si, c.arm.si)) for c, sign in signed if c.weight and c.arm]
    known = [(c, added[c.id]) for c in weights.components if c.id in added]
    return bodies + [(c, body) for c, extra in known for body in _became(c, extra)]


def _became(component: Component, extra: Extra) -> list[Body]:
    """What must be added to a weighing's result where a part that was missing then is not what it was taken for."""
    if component.weight is None or component.arm is None:
        return []
    now, then = Body(component.weight.si, component.arm.si), Body(-extra.weight.si, extra.arm.si)
    if now.weight == extra.weight.si:
        return [] if now.arm == extra.arm.si else [now, then]
    return [total([now, then])]


def _later(component: Component, weighing: Weighing) -> bool:
    return component.since is not None and component.since > weighing.day


def _what(component: Component, weighing: Weighing) -> str:
    if component.removed and component.removed > weighing.day:
        return f"{component.id}, taken out {component.removed}"
    if _later(component, weighing):
        return f"{component.id}, fitted {component.since}"
    return f"{component.id}, not as it was taken for at the weighing"


def _from_components(weights: Weights) -> Empty:
    there = [c for c in weights.components if not c.removed]
    bodies = [Body(c.weight.si, c.arm.si) for c in there if c.weight is not None and c.arm is not None]
    if not there:
        raise MissingRecord("there is no weighing, and no component is recorded", weights.at())
    if len(bodies) < len(there):
        unknown = [c.at() for c in there if c.weight is None or c.arm is None]
        raise MissingRecord("there is no weighing, and not every component has a weight and an arm", *unknown)
    if not any(body.weight for body in bodies):
        raise MissingRecord("there is no weighing, and the components weigh nothing", weights.at("components"))
    whole = total(bodies)
    return Empty(whole, (f"no weighing yet: {len(bodies)} components, {_words(whole)}",), (weights.at("components"),))


@rule(
    "weights/component-known",
    title="Component weighed or estimated",
    asks="Has every component a weight, an arm, and a word on how the weight is known?",
    references=("ac43-10-2-b", "ac43-10-18"),
    due=Stage.STRUCTURE,
    remedy="Weigh it, or estimate it and say so.",
)
def component_is_known(weights: Weights) -> Iterator[Finding]:
    """A part without a weight or an arm is missing from every sum. An estimate is welcome as long as it is called one."""
    if not weights.components:
        raise MissingRecord("no component is recorded", weights.at())
    for component in weights.components:
        missing = [field for field in ("weight", "arm", "basis") if getattr(component, field) is None]
        if missing:
            yield no_data(
                component.id,
                f"not recorded: {', '.join(missing)}",
                component.at(),
                remedy="Record it; an estimate will do.",
            )
        else:
            yield passes(
                component.id, f"{component.weight} at {component.arm}, {component.basis}", component.at("weight")
            )


@rule(
    "weights/installed-item-weighed",
    title="Installed item in the weights",
    asks="Is every source, load, light, panel item and tank part of some component's weight?",
    references=("ac43-10-2-b", "ac43-10-18"),
    due=Stage.SYSTEMS,
    remedy="Add a component for it, or name it in the `equipment` of the component that includes it.",
)
def installed_item_is_weighed(
    weights: Weights,
    electrical: Electrical | None = None,
    panel: Panel | None = None,
    lighting: Lighting | None = None,
    fuel: Fuel | None = None,
) -> Iterator[Finding]:
    """What is recorded as installed elsewhere is looked for in the weights: by its own id, or named by a component.

    A light whose load is weighed counts as weighed, and so does a panel item whose equipment is.
    """
    there = [component for component in weights.components if not component.removed]
    covered = {component.id for component in there}
    covered.update(name for component in there for name in component.equipment)
    for source in electrical.sources if electrical else ():
        yield _covered(source.id, {source.id}, covered, source.at())
    for load in electrical.loads if electrical else ():
        yield _covered(load.id, {load.id}, covered, load.at())
    for light in lighting.lights if lighting else ():
        yield _covered(light.id, {light.id, light.load or light.id}, covered, light.at())
    for item in panel.items if panel else ():
        yield _covered(item.id, {item.id, item.equipment or item.id}, covered, item.at())
    for tank in fuel.tanks if fuel else ():
        yield _covered(tank.id, {tank.id}, covered, tank.at())
    wired, lit, mounted, tanked = (
        electrical and (electrical.sources or electrical.loads),
        lighting and lighting.lights,
        panel and panel.items,
        fuel and fuel.tanks,
    )
    if not (wired or lit or mounted or tanked):
        yield not_applicable("aircraft", "nothing is recorded as installed")


def _covered(name: str, names: set[str], covered: set[str], where: Spot) -> Finding:
    if names & covered:
        return passes(name, "part of a component's weight", where)
    remedy = f"Add a component for {name}, or name it in one's `equipment`."
    return fails(name, "installed by the records, and in no component's weight", where, remedy=remedy)


ALLOWANCE = {"weighed": 0.0, "catalogue": 0.05, "calculated": 0.10, "estimated": 0.20}  # own-mass-allowance
"""Our own choice, by how a weight is known; no statistics of amateur-built aeroplanes are published."""
_NEGLIGIBLE_LB = 1.0  # ac43-10-2-c: empty weight below 5,000 lb


@rule(
    "weights/components-agree",
    title="Components agree with the scales",
    asks="Do the components add up to what the latest weighing found, within what their estimates allow?",
    references=("ac43-10-2-c", "own-mass-allowance"),
    due=Stage.SYSTEMS,
    remedy="Find the part that is missing, counted twice or wrong, or weigh again.",
    at_worst=Verdict.WARN,
)
def components_agree(weights: Weights) -> Iterator[Finding]:
    """All components, fitted or still to be, are added and held against the weighing with what was missing then.

    The difference may be 1 lb, which AC 43.13-1B calls negligible, plus 20 % of every estimated, 10 % of every
    calculated and 5 % of every catalogue weight. Those shares are our own choice, so this rule only warns. Components
    fitted after the weighing are left out on both sides. One without a weight leaves the question open.
    """
    weighing = latest(weights)
    body = result_of(weighing) if weighing else None
    if weighing is None or body is None:
        raise MissingRecord("there is no weighing with all its readings", weights.at("weighings"))
    added = {extra.component for extra in weighing.missing or ()}
    counted = [
        component
        for component in weights.components
        if (component.id in added or not _later(component, weighing))
        and not (component.removed and component.removed <= weighing.day)
    ]
    if not counted:
        raise MissingRecord("no component that was there at the weighing is recorded", weights.at("components"))
    unknown = [c for c in counted if c.weight is None]
    if unknown:
        message = f"no weight is recorded for {', '.join(c.id for c in unknown)}"
        yield no_data(weighing.id, message, *(c.at() for c in unknown), remedy="Record it; an estimate will do.")
        return
    listed = sum(pounds(c.weight.si) for c in counted if c.weight)
    allowed = _NEGLIGIBLE_LB + sum(ALLOWANCE[c.basis or "estimated"] * pounds(c.weight.si) for c in counted if c.weight)
    found = pounds(body.weight)
    yield at_most(
        weighing.id,
        abs(listed - found),
        allowed,
        "lb",
        f"{len(counted)} components add up to {listed:.1f} lb, the scales found {found:.1f} lb: {listed - found:+.1f} lb",
        weighing.at(),
        weights.at("components"),
        remedy="Find the part that is missing, counted twice or wrong, or weigh again.",
        working=lambda: [
            *_largest(counted),
            f"together {listed:.1f} lb; scales {found:.1f} lb; allowed difference {allowed:.1f} lb",
        ],
    )


def _largest(components: list[Component]) -> Iterator[str]:
    heaviest = sorted(components, key=lambda c: -(c.weight.si if c.weight else 0))[:10]
    yield "the ten heaviest: " + ", ".join(f"{c.id} {c.weight}" for c in heaviest)
