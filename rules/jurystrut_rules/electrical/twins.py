"""Do the devices of the wiring agree with their twins among the lights and the weights?"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, fails, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Device, Electrical, Load
    from jurystrut.records.lighting import Light, Lighting
    from jurystrut.records.weights import Component, Weights

__all__ = ["device_is_fitted", "device_is_weighed", "lamp_is_a_light", "light_is_wired_as_what_it_is"]

_LAMPS = frozenset({"lamp", "led"})


def _light_of(lighting: Lighting) -> dict[str, list[Light]]:
    found: dict[str, list[Light]] = {}
    for light in lighting.lights:
        if light.load:
            found.setdefault(light.load, []).append(light)
    return found


@rule(
    "electrical/lamp-is-a-light",
    title="Every lamp is a light",
    asks="Is every load that is a lamp also recorded among the lights?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Record the light and name the load in it.",
    at_worst=Verdict.WARN,
)
def lamp_is_a_light(electrical: Electrical, lighting: Lighting) -> Iterator[Finding]:
    """Loads of the nature lamp or led are looked for as the `load` of a light: only there are colour, arc and approval judged.
    That every light names its load is asked by lighting/light-fed.
    """
    lights = _light_of(lighting)
    lamps = [load for load in electrical.loads if load.nature in _LAMPS]
    if not lamps:
        yield not_applicable("aircraft", "no load is a lamp", electrical.at("loads"))
    for load in lamps:
        named = lights.get(load.id, [])

        def working(load: Load = load, named: list[Light] = named) -> list[str]:
            return [f"recorded: {load.id}, nature {load.nature}", f"lights that name it: {len(named)}"]

        if named:
            names = ", ".join(light.id for light in named)
            yield passes(load.id, f"it feeds the light {names}", load.at(), named[0].at("load"), working=working)
        else:
            message = "it is a lamp, and no light names it as its load"
            remedy = "Record the light and name this load in it."
            yield warns(load.id, message, load.at("nature"), lighting.at("lights"), remedy=remedy, working=working)


_NATURES = {"filament": {"lamp"}, "halogen": {"lamp"}, "led": {"led", "electronic"}}


@rule(
    "electrical/light-nature",
    title="A light is wired as what it is",
    asks="Is the load of every light of the nature that its technology has?",
    references=("own-consistency", "ac43-table-11-4"),
    due=Stage.SYSTEMS,
    remedy="Correct the nature of the load, or the technology of the light.",
)
def light_is_wired_as_what_it_is(electrical: Electrical, lighting: Lighting) -> Iterator[Finding]:
    """A filament takes many times its steady current when it is cold, and Table 11-4 asks for a switch to match; a load recorded
    as led while the light is a filament lamp gets by without. An LED lamp is led, or electronic where it has a driver. Other
    technologies are not compared.
    """
    loads = {load.id: load for load in electrical.loads}
    pairs = [(light, loads[light.load]) for light in lighting.lights if light.load in loads]
    if not pairs:
        yield not_applicable("aircraft", "no light names a load", lighting.at("lights"))
    for light, load in pairs:
        if light.technology is None:
            message = "its technology is not recorded"
            yield no_data(light.id, message, light.at(), load.at(), remedy="Record 'technology'.")
        elif light.technology in _NATURES:
            yield _same(light, load, _NATURES[light.technology])
        else:
            message = f"the technology {light.technology} is not compared"
            yield not_applicable(light.id, message, light.at("technology"))


def _same(light: Light, load: Load, natures: set[str]) -> Finding:
    def working() -> list[str]:
        return [
            f"light {light.id}: technology {light.technology}",
            f"load {load.id}: nature {load.nature}",
            f"wanted for {light.technology}: {' or '.join(sorted(natures))}",
        ]

    message = f"a {light.technology} light, its load {load.id} of the nature {load.nature}"
    where = (load.at("nature"), light.at("technology"))
    if load.nature in natures:
        return passes(light.id, message, *where, working=working)
    remedy = "Correct the nature of the load, or the technology of the light."
    return fails(light.id, message, *where, remedy=remedy, working=working)


def _devices(electrical: Electrical) -> tuple[Device, ...]:
    return (
        *electrical.sources,
        *electrical.protection,
        *electrical.switches,
        *electrical.diodes,
        *electrical.loads,
    )


def _component_of(weights: Weights) -> dict[str, Component]:
    """By the device: a component that is in the aircraft before one that is not, one of the device's name before others."""
    found: dict[str, Component] = {}
    for there in (False, True):
        components = [c for c in weights.components if (c.fitted and c.removed is None) is there]
        found |= {name: component for component in components for name in component.equipment}
        found |= {component.id: component for component in components}
    return found


@rule(
    "electrical/device-fitted",
    title="What is wired is in the aircraft",
    asks="Is no wired device weighed as a component that is not fitted?",
    references=("own-consistency",),
    due=Stage.SYSTEMS,
    remedy="Take the device out of the wiring's records, or record its component as fitted.",
    at_worst=Verdict.WARN,
)
def device_is_fitted(electrical: Electrical, weights: Weights) -> Iterator[Finding]:
    """A component with `fitted: false`, or with a day on which it was removed, is not in the aircraft; a source, device,
    switch or load that is this component is left over in the wiring, or the component was forgotten.
    """
    components = _component_of(weights)
    twins = [(device, components[device.id]) for device in _devices(electrical) if device.id in components]
    if not twins:
        yield not_applicable("aircraft", "no device of the wiring is a component that is weighed", electrical.at())
    for device, component in twins:
        gone = not component.fitted or component.removed is not None

        def working(component: Component = component) -> list[str]:
            return [
                f"component {component.id}: fitted {str(component.fitted).lower()}",
                f"removed: {component.removed or 'never'}",
            ]

        field = "removed" if component.removed else "fitted"
        where = (device.at(), component.at(field))
        if gone:
            message = f"its component {component.id} is recorded as not in the aircraft"
            remedy = "Take it out of the wiring, or record the component as fitted."
            yield warns(device.id, message, *where, remedy=remedy, working=working)
        else:
            yield passes(device.id, f"{component.id} is fitted", *where, working=working)


@rule(
    "electrical/device-weighed",
    title="Devices are weighed",
    asks="Is every protective device, switch and diode part of some component's weight?",
    references=("own-consistency", "ac43-10-2-b"),
    due=Stage.SYSTEMS,
    remedy="Name it in the `equipment` of the component that includes it, or weigh it.",
    at_worst=Verdict.WARN,
)
def device_is_weighed(electrical: Electrical, weights: Weights) -> Iterator[Finding]:
    """Sources and loads are asked for by weights/installed-item-weighed; here fuses, breakers, limiters, switches, relays and
    diodes are, by their own id or as the equipment of a component such as a fuse block. Each weighs little, so this warns.
    """
    components = _component_of(weights)
    devices = (*electrical.protection, *electrical.switches, *electrical.diodes)
    if not devices:
        yield not_applicable("aircraft", "no device is recorded", electrical.at())
    for device in devices:
        component = components.get(device.id)
        if component:
            yield passes(
                device.id,
                f"part of the weight of {component.id}",
                device.at(),
                working=partial(_weighed, component),
            )
        else:
            remedy = f"Name {device.id} in the `equipment` of the component that includes it."
            message = "no component's weight includes it"
            yield warns(
                device.id,
                message,
                device.at(),
                remedy=remedy,
                working=partial(_nowhere, device.id, len(weights.components)),
            )


def _weighed(component: Component) -> list[str]:
    return [f"component {component.id}: {component.weight or 'not weighed'}"]


def _nowhere(device: str, components: int) -> list[str]:
    return [f"components: {components}, none named {device} or naming it as equipment"]
