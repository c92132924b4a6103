"""The empty aircraft: what the latest weighing and the components say of it. Facts for the other rules, and their agreement."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

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
    from jurystrut.records.lighting import Lighting
    from jurystrut.records.panel import Panel
    from jurystrut.records.weights import Component, Weighing, Weights

__all__ = [
    "NO_RESULT",
    "Empty",
    "component_is_known",
    "components_agree",
    "empty_aircraft",
    "inches",
    "installed_item_is_weighed",
    "latest",
    "pounds",
    "result_of",
]


@dataclass(frozen=True, slots=True)
class Empty:
    """The empty aircraft in kilograms and metres, how that is known, and where."""

    body: Body
    steps: tuple[str, ...]
    where: tuple[Spot, ...]


def latest(weights: Weights) -> Weighing | None:
    """The latest weighing, or None."""
    return max(weights.weighings, key=lambda weighing: weighing.day, default=None)


NO_RESULT = "readings, tare, arms, or what was aboard or missing are not all recorded, or leave nothing"
"""Why `result_of` gives None."""


def result_of(weighing: Weighing) -> Body | None:
    """Empty weight and arm from a weighing's readings; None where a scale's tare or arm, or the lists of extras, are missing,
    where a tare exceeds its reading, or where nothing is left.

    AC 43.13-1B paragraphs 10-15 and 10-16.
    """
    nets = [Net(s.reading.si, s.tare.si, s.arm.si) for s in weighing.scales if s.tare is not None and s.arm is not None]
    if not nets or len(nets) < len(weighing.scales) or weighing.aboard is None or weighing.missing is None:
        return None
    aboard = [Body(extra.weight.si, extra.arm.si) for extra in weighing.aboard]
    missing = [Body(extra.weight.si, extra.arm.si) for extra in weighing.missing]
    left = sum(net.body.weight for net in nets) + sum(b.weight for b in missing) - sum(b.weight for b in aboard)
    if left < 1e-9 or any(net.tare > net.reading for net in nets):
        return None
    return weighed(nets, aboard, missing)


def pounds(kilograms: float) -> float:
    """Kilograms in pounds."""
    return kilograms / 0.45359237


def inches(metres: float) -> float:
    """Metres in inches."""
    return metres / 0.0254


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
        raise MissingRecord(f"weighing {weighing.id} gives no empty weight: {NO_RESULT}", weighing.at())
    later = [c for c in weights.components if c.fitted and c.since is not None and c.since > weighing.day]
    changes = [(c, Body(c.weight.si, c.arm.si)) for c in later if c.weight is not None and c.arm is not None]
    if len(changes) < len(later):
        raise MissingRecord("a component fitted after the weighing has no weight or arm", *(c.at() for c in later))
    whole = total([body, *(change for _, change in changes)])
    steps = [f"weighing {weighing.id}: {_words(body)}", *(f"{c.id}, fitted {c.since}: {_words(b)}" for c, b in changes)]
    return Empty(whole, (*steps, f"empty: {_words(whole)}"), (*(c.at("weight") for c, _ in changes), weighing.at()))


def _from_components(weights: Weights) -> Empty:
    bodies = [Body(c.weight.si, c.arm.si) for c in weights.components if c.weight is not None and c.arm is not None]
    if not any(body.weight for body in bodies) or len(bodies) < len(weights.components):
        raise MissingRecord("there is no weighing, and not every component has a weight and an arm", weights.at())
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
    asks="Is every source, load, light and panel item part of some component's weight?",
    references=("ac43-10-2-b", "ac43-10-18"),
    due=Stage.SYSTEMS,
    remedy="Add a component for it, or name it in the `equipment` of the component that includes it.",
)
def installed_item_is_weighed(
    weights: Weights, electrical: Electrical | None = None, panel: Panel | None = None, lighting: Lighting | None = None
) -> Iterator[Finding]:
    """What is recorded as installed elsewhere is looked for in the weights: by its own id, or named by a component.

    A light whose load is weighed counts as weighed, and so does a panel item whose equipment is.
    """
    covered = {component.id for component in weights.components}
    covered.update(name for component in weights.components for name in component.equipment)
    for source in electrical.sources if electrical else ():
        yield _covered(source.id, {source.id}, covered, source.at())
    for load in electrical.loads if electrical else ():
        yield _covered(load.id, {load.id}, covered, load.at())
    for light in lighting.lights if lighting else ():
        yield _covered(light.id, {light.id, light.load or light.id}, covered, light.at())
    for item in panel.items if panel else ():
        yield _covered(item.id, {item.id, item.equipment or item.id}, covered, item.at())
    wired, lit, mounted = (
        electrical and (electrical.sources or electrical.loads),
        lighting and lighting.lights,
        panel and panel.items,
    )
    if not (wired or lit or mounted):
        yield not_applicable("aircraft", "nothing is recorded as installed")


def _covered(name: str, names: set[str], covered: set[str], where: Spot) -> Finding:
    if names & covered:
        return passes(name, "part of a component's weight", where)
    remedy = f"Add a component for {name}, or name it in one's `equipment`."
    return fails(name, "installed by the records, and in no component's weight", where, remedy=remedy)


_ALLOWANCE = {"weighed": 0.0, "catalogue": 0.05, "estimated": 0.20}
"""Our own choice, by how a weight is known; no statistics of amateur-built aeroplanes are published."""
_NEGLIGIBLE_LB = 1.0  # AC 43.13-1B paragraph 10-2c, empty weight below 5,000 lb


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

    The difference may be 1 lb, which AC 43.13-1B calls negligible, plus 20 % of every estimated and 5 % of every catalogue
    weight. Those two shares are our own choice, so this rule only warns. Components fitted after the weighing are left out
    on both sides. One without a weight leaves the question open.
    """
    weighing = latest(weights)
    body = result_of(weighing) if weighing else None
    if weighing is None or body is None:
        raise MissingRecord("there is no weighing with all its readings", weights.at("weighings"))
    counted = [c for c in weights.components if c.since is None or c.since <= weighing.day]
    if not counted:
        raise MissingRecord("no component is recorded", weights.at("components"))
    unknown = [c for c in counted if c.weight is None]
    if unknown:
        message = f"no weight is recorded for {', '.join(c.id for c in unknown)}"
        yield no_data(weighing.id, message, *(c.at() for c in unknown), remedy="Record it; an estimate will do.")
        return
    listed = sum(pounds(c.weight.si) for c in counted if c.weight)
    allowed = _NEGLIGIBLE_LB + sum(
        _ALLOWANCE[c.basis or "estimated"] * pounds(c.weight.si) for c in counted if c.weight
    )
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
