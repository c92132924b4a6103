"""The section `electrical`: sources, buses, protective devices, switches, loads, and the wires between them."""

from typing import Annotated, ClassVar, Literal

from pydantic import Field

from jurystrut.quantities import Charge, Current, Gauge, Length, Mass, Ratio, Resistance, Temperature, Time, Voltage
from jurystrut.records.base import Named, Record
from jurystrut.records.fields import Count, Flag, Id, Names, Number, Terminal, Text
from jurystrut.records.installed import Bond, Coax, Installed, IsolatedPart

__all__ = [
    "Bundle",
    "Bus",
    "Contact",
    "Device",
    "Diode",
    "Electrical",
    "Function",
    "Ground",
    "Junction",
    "Load",
    "Protection",
    "Source",
    "Switch",
    "Wire",
]

_LoadName = Annotated[Id, Names("electrical.loads")]
_BundleName = Annotated[Id, Names("electrical.bundles")]
_ComponentName = Annotated[Id, Names("weights.components")]


class Device(Named):
    """Something that wires are joined to; a wire names it, or one of its terminals behind a dot."""

    terminals: ClassVar[frozenset[str] | None] = frozenset()
    """The terminals that it has beside its own id; None where any name is a terminal."""

    def has_terminal(self, name: str) -> bool:
        """Whether a wire may be joined to this terminal."""
        return self.terminals is None or name in self.terminals


class Source(Device):
    """A source of current; its terminals are its id (positive) and `.return` (negative)."""

    terminals = frozenset({"return"})

    kind: Literal["alternator", "generator", "battery", "ground-power"]
    """For example battery."""
    what: Text | None = None
    """What it is, in words, for example engine-driven, internally regulated."""
    rating: Current | None = None
    """Continuous output of a generator, for example 40 A."""
    voltage: Voltage | None = None
    """Regulated voltage, or a battery's at rest, for example 14.2 V."""
    capacity: Charge | None = None
    """A battery's nameplate capacity, for example 18 A*h."""
    capacity_hours: Time | None = None
    """The discharge time at which the capacity is stated, for example 20 h."""
    resistance: Resistance | None = None
    """Internal resistance, for example 9 mohm."""
    chemistry: Literal["agm", "gel", "flooded", "lithium-iron-phosphate", "nickel-cadmium"] | None = None
    """A battery's chemistry, for example agm."""
    field: _LoadName | None = None
    """The load that is a generator's field; without it the generator gives nothing, for example ALT-F."""
    peukert: Number | None = None
    """A battery's exponent in Peukert's law, from its maker's discharge curves, for example 1.12."""
    charging: Current | None = None
    """What a battery takes after a start, for example 8 A."""
    vented: Flag | None = None
    """Whether a battery's gas and spilled electrolyte are led overboard, away from structure, for example true."""
    heat_watched: Flag | None = None
    """Whether a battery's overheating is sensed and it can be disconnected from its charge, for example true."""
    monitored: Flag = False
    """Whether an ammeter, load meter or placards keep the load inside the rating, for example true."""
    overvoltage: Literal["cut-off", "nothing"] | None = None
    """What comes of a generator whose voltage runs away: something cuts it off, or nothing does, for example cut-off."""


class Bus(Device):
    """A bus: one conductor that many devices are fed from; it is one terminal."""

    what: Text | None = None
    """For example main bus, behind the panel."""
    rating: Current | None = None
    """Continuous current of the bus bar, for example 80 A."""
    avionics: Flag = False
    """Whether radios, displays and the like hang on it, for example true."""


class Protection(Device):
    """A protective device; its terminals are `.in` (nearer the source) and `.out`."""

    terminals = frozenset({"in", "out"})

    kind: Literal["blade-fuse", "glass-fuse", "breaker", "current-limiter", "fusible-link"]
    """For example breaker."""
    rating: Current
    """For example 10 A."""
    what: Text | None = None
    """What it protects, for example landing light."""
    fed_from: Terminal | None = None
    """The bus or terminal that its source side sits on, where no wire leads there, for example MAIN."""
    spares: Count | None = None
    """Spare fuses of this rating carried for it, for example 2."""
    reachable_in_flight: Flag | None = None
    """Whether the pilot can reach it belted in, for example false."""
    place: Text | None = None
    """Where it is, where that is not the panel, for example fuse block behind the panel."""
    voltage: Voltage | None = None
    """Its rated voltage, for example 32 V."""
    interrupts: Current | None = None
    """The greatest current it can break, for example 1000 A."""
    resets: Literal["by-hand", "automatic", "never"] | None = None
    """How it closes again after it opened; a fuse never does, for example by-hand."""
    resistance: Resistance | None = None
    """Across its terminals, contacts included, for example 5 mohm."""
    spare: Flag = False
    """Whether it is a spare position, fitted or reserved and not yet used, for example true."""


class Contact(Record):
    """Two terminals of a switch that one of its positions joins."""

    joins: tuple[Id, Id]
    """The terminals, for example [in, out]."""


class Switch(Device):
    """A switch, relay or contactor; its terminals are `.in` and `.out` where `contacts` names no others."""

    kind: Literal["toggle", "rocker", "push-button", "rotary", "key", "lever", "relay", "contactor", "dimmer"]
    """For example toggle."""
    what: Text | None = None
    """What it switches, for example landing light."""
    rating: Current | None = None
    """Its direct-current rating at the system's voltage, for example 15 A."""
    contacts: tuple[Contact, ...] = ()
    """Terminals joined in one position or another, for example [{joins: [left, out]}, {joins: [right, out]}]."""
    coil: Current | None = None
    """What the coil of a relay or contactor draws, between `.coil` and `.coil-return`, for example 0.8 A."""
    place: Text | None = None
    """Where it is, where that is not the panel, for example control stick, left seat."""
    guarded: Flag = False
    """Whether a guard keeps it from being moved by accident, for example true."""
    contact_material: Literal["silver", "gold"] | None = None
    """What its contacts are made of, for example silver."""
    approved_to: Text | None = None
    """The standard for use in aircraft that it is made to, or none, for example MIL-DTL-3950."""
    low_energy: Flag = False
    """Whether its maker rates it for less than 8 V or 0.5 A, for example true."""
    turns_off: Flag | None = None
    """Whether a dimmer also switches off at the end of its travel, for example true."""
    by_accident: Text | None = None
    """What comes of it if it is moved by accident in flight, for example the engine stops."""
    master: Flag = False
    """Whether it is the master switch, or part of it, for example true."""
    resistance: Resistance | None = None
    """Across its closed contacts, for example 5 mohm."""

    def has_terminal(self, name: str) -> bool:
        """`.in`, `.out`, those that its contacts name, and the coil's two where it has one."""
        named = {terminal for contact in self.contacts for terminal in contact.joins} or {"in", "out"}
        return name in named or (self.coil is not None and name in {"coil", "coil-return"})


class Diode(Device):
    """A diode; current passes from `.in` to `.out` only."""

    terminals = frozenset({"in", "out"})

    rating: Current | None = None
    """Continuous forward current, for example 25 A."""
    drop: Voltage | None = None
    """Forward voltage drop, for example 0.5 V."""
    what: Text | None = None
    """For example feeds the engine bus from the main bus."""


class Junction(Device):
    """A splice, stud, terminal block or connector; each named terminal is one point, all others are one together."""

    terminals = None

    kind: Literal["splice", "stud", "terminal-block", "connector"]
    """For example splice."""
    what: Text | None = None
    """For example wing root, left."""
    rating: Current | None = None
    """Continuous current of one contact, for example 13 A."""


class Load(Device):
    """A device that draws current; its terminals are its id (supply) and `.return`."""

    terminals = frozenset({"return"})

    current: Current
    """Steady current at the system's voltage, for example 6.5 A."""
    what: Text | None = None
    """For example landing light, left wing."""
    nature: Literal["lamp", "led", "heater", "motor", "relay", "electronic", "ignition"]
    """How it takes its current; decides how a switch is derated, for example led."""
    takes: Literal["current", "power", "resistance"] = "current"
    """What stays the same when its voltage falls, for example power."""
    inrush: Current | None = None
    """Peak current at switch-on, for example 12 A."""
    inrush_time: Time | None = None
    """How long the current at switch-on lasts, for example 80 ms."""
    starter: Flag = False
    """Whether it is the engine's starter, whose mains go without protection, for example true."""
    dimmable: Flag | None = None
    """Whether its maker lets it be dimmed, for an LED lamp with a driver of its own, for example true."""
    audio: Flag = False
    """Whether it carries sound, so that currents in a shared return can be heard, for example true."""
    essential: Flag = False
    """Whether safe flight and landing need it, for example true."""
    duty: dict[str, Ratio] = Field(default_factory=dict)
    """Share of the time it is on in each phase of flight; a phase left out means never, for example {landing: 100 %}."""
    intermittent: Flag = False
    """Whether it runs for no more than two minutes at a time, for example false."""
    always_live: Text | None = None
    """Why nothing switches it off, where that is meant, for example clock memory."""
    grounded_at: Terminal | None = None
    """The ground that its case or frame sits on, where no wire leads there, for example G-ENG."""
    minimum_voltage: Voltage | None = None
    """The least voltage at which it still does its job, for example 10 V."""
    warns_below: Voltage | None = None
    """The voltage below which it warns the pilot, of a lamp or monitor that watches the bus, for example 13 V."""


class Wire(Named):
    """One wire; `from` is the end nearer the source, on a return the end nearer the load."""

    from_: Annotated[Terminal, Field(alias="from")]
    """The device nearer the source, or its terminal; a fuse or switch alone is its side away from the source, for example F3."""
    to: Terminal
    """The device at the other end, or its terminal; alone it is its side nearer the source, for example SW-LAND."""
    size: Gauge | None = None
    """For example 18 AWG."""
    length: Length | None = None
    """From terminal to terminal, for example 42 in."""
    route: Length | None = None
    """The way it lies with the panel closed, without its service loop, for example 34 in."""
    spec: Text | None = None
    """The wire's specification; it decides the insulation's temperature, for example M22759/16."""
    insulation: Temperature | None = None
    """The temperature that its insulation stands, where the specification does not tell, for example 105 degC."""
    material: Literal["copper", "aluminium"] = "copper"
    """For example copper."""
    bundle: _BundleName | None = None
    """The bundle it runs in; without one it is taken as single in free air, for example B1."""
    serves: Literal["starter-feeder", "short-lead"] | None = None
    """A feeder that published practice leaves unprotected, for example starter-feeder."""
    intermittent: Flag = False
    """Whether it carries its current for no more than two minutes at a time, for example false."""
    marking: Text | None = None
    """What is written on it, where that is not its id, for example L2A20."""
    marking_interval: Length | None = None
    """The longest way between two markings, for example 12 in."""
    printed_sleeves: Flag = False
    """Whether its markings stand on printed sleeves, for example true."""
    ends_marked: Flag | None = None
    """Whether both its ends are marked, for example true."""
    inspectable: Flag | None = None
    """Whether a feeder can be looked at and replaced without cutting into the airframe, for example true."""
    chafe_guard: Flag | None = None
    """Whether a feeder has protection against chafing beside its insulation, for example true."""
    splices: Count | None = None
    """Splices in it between its two ends, for example 0."""
    nicked: Count | None = None
    """Nicked strands at its worse end, for example 0."""
    broken: Count | None = None
    """Broken strands at its worse end, for example 0."""


class Bundle(Named):
    """Wires that run together for most of their length."""

    what: Text | None = None
    """For example left wing."""
    zone: Literal["engine-compartment", "cabin", "wing", "tail", "elsewhere"] | None = None
    """Where it runs, by the hottest part of its way, for example engine-compartment."""
    ambient: Temperature | None = None
    """The hottest air around it, for example 50 degC."""
    loading: Ratio | None = None
    """Current carried by all its wires together over what they could carry; taken as 100 % if left out, for example 20 %."""
    service_loop: Length | None = None
    """Spare length left in it where it reaches the panel, for example 8 in."""
    wires: Count | None = None
    """How many wires run in it, where some are not recorded one by one, for example 12."""
    installed: Installed | None = None
    """How it lies in the aircraft, for example {support_spacing: 20 in, tie_spacing: 6 in}."""


class Ground(Device):
    """A place where returns come together."""

    kind: Literal["single-point", "airframe", "engine", "avionics"]
    """For example single-point."""
    studs: Count | None = None
    """Its studs or tabs; one if left out at an engine or airframe ground, for example 24."""
    what: Text | None = None
    """For example block on the cabin side of the firewall."""


class Function(Record):
    """Something that must go on working after any single failure."""

    name: Text
    """For example ignition."""
    loads: tuple[_LoadName, ...]
    """The loads that can each do it, for example [IGN-A, IGN-B]."""
    survive: Count
    """How many of them must be left, for example 1."""


class Electrical(Record):
    """The section `electrical`."""

    nominal_voltage: Voltage | None = None
    """The system's voltage by its usual name, for example 14 V."""
    sources: tuple[Source, ...] = ()
    """Alternators, batteries and the like."""
    buses: tuple[Bus, ...] = ()
    """Buses."""
    protection: tuple[Protection, ...] = ()
    """Fuses, breakers and links."""
    switches: tuple[Switch, ...] = ()
    """Switches, relays and contactors."""
    diodes: tuple[Diode, ...] = ()
    """Diodes."""
    junctions: tuple[Junction, ...] = ()
    """Splices, studs, terminal blocks and connectors."""
    loads: tuple[Load, ...] = ()
    """All that draws current."""
    wires: tuple[Wire, ...] = ()
    """Wires."""
    bundles: tuple[Bundle, ...] = ()
    """Bundles."""
    grounds: tuple[Ground, ...] = ()
    """Grounds."""
    functions: tuple[Function, ...] = ()
    """What must survive a single failure."""
    bonds: tuple[Bond, ...] = ()
    """Bonding connections."""
    isolated_parts: tuple[IsolatedPart, ...] = ()
    """Conducting parts outside that insulation or non-conducting structure holds apart from the rest."""
    coaxial: tuple[Coax, ...] = ()
    """Coaxial cables, which are no wires of the network."""
    short_lead: Length | None = None
    """The longest lead that the builder's manual leaves without protection from its source, for example 6 in."""
    flame_tested: tuple[Text, ...] = ()
    """Specifications whose insulation puts itself out, by table 11-11 or 11-12 or a test, for example [M22759/16]."""
    ammeter: Literal["generator-lead", "battery-lead", "none"] | None = None
    """Where the ammeter that the crew can see measures, for example battery-lead."""
    voltmeter: Flag | None = None
    """Whether the crew can see the voltage of a bus, for example true."""
    endurance: Time | None = None
    """How long the essential loads are to run without a generator, by the builder's own choice, for example 45 min."""
    harness: tuple[_ComponentName, ...] = ()
    """The components of the section `weights` that stand for all wires, for example [LOOM-FWD, LOOM-TAIL]."""
    harness_fittings: Mass | None = None
    """What connectors, blocks, clamps and coaxial cables in these components weigh together, for example 8.5 lb."""
