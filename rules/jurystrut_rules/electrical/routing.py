"""Is the wiring led, hung and guarded as AC 43.13-1B wants it? Judged on what the builder saw, said in words or yes and no."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, fact, no_data, not_applicable, rule
from jurystrut_rules.electrical.installed import each_bundle, said

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Bundle, Electrical, Wire
    from jurystrut.records.installed import Installed

__all__ = [
    "bundles_are_held_by_clamps",
    "bundles_do_not_chafe",
    "bundles_twist_at_hinges",
    "clamps_near_controls_are_steel",
    "drips_fall_off",
    "failed_clamp_fouls_nothing",
    "feeders",
    "feeders_are_guarded",
    "feeders_are_inspectable",
    "lacing_is_tied",
    "stand_offs_keep_clear",
    "tubing_is_drained",
]


@rule(
    "electrical/drip-loop",
    title="Drip loops",
    asks="Has every bundle a drip loop where it runs down into a connector or box?",
    references=("ac43-11-96-x",),
    due=Stage.SYSTEMS,
    remedy="Lead the bundle below the connector and up into it.",
)
def drips_fall_off(electrical: Electrical) -> Iterator[Finding]:
    """Recorded as true where there is one, and where no wire of the bundle runs down into anything."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        there = bool(installed.drip_loop)
        yield said(
            bundle.id,
            "a drip loop where it runs down" if there else "it runs down into a connector or box without a drip loop",
            installed.at("drip_loop"),
            good=there,
            source="AC 43.13-1B 11-96x, read",
            recorded=f"drip_loop: {'true' if there else 'false'}",
            wanted="a drip loop where wires run down to a connector, block, panel or box",
            remedy="Lead it below the connector and up into it.",
        )

    return each_bundle(electrical, judge, "drip_loop")


@rule(
    "electrical/primary-support",
    title="What carries a bundle",
    asks="Is every bundle carried by clamps, and not by tape, straps or cord?",
    references=("ac43-11-96-o",),
    due=Stage.SYSTEMS,
    remedy="Carry the bundle by clamps.",
)
def bundles_are_held_by_clamps(electrical: Electrical) -> Iterator[Finding]:
    """Tape, tie straps and cord hold wires to each other; what holds them to the aircraft is a clamp."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        yield said(
            bundle.id,
            f"carried by {installed.held_by}",
            installed.at("held_by"),
            good=installed.held_by == "clamps",
            source="AC 43.13-1B 11-96o, read",
            recorded=f"held_by: {installed.held_by}",
            wanted="no tape, tie straps or cord as primary support",
            remedy="Carry it by clamps.",
        )

    return each_bundle(electrical, judge, "held_by")


@rule(
    "electrical/stand-off",
    title="Stand-offs",
    asks="Is every bundle kept clear by stand-offs where it would touch, and not by tape or tubing?",
    references=("ac43-11-96-b",),
    due=Stage.SYSTEMS,
    remedy="Fit metal stand-offs.",
)
def stand_offs_keep_clear(electrical: Electrical) -> Iterator[Finding]:
    """Metal stand-offs hold clearance; tape and tubing wear through. Where nothing is near, that is what is recorded."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        yield said(
            bundle.id,
            f"kept off structure by {installed.kept_off_by}"
            if installed.kept_off_by != "nothing-near"
            else "nothing is near that it would touch",
            installed.at("kept_off_by"),
            good=installed.kept_off_by in {"stand-offs", "nothing-near"},
            source="AC 43.13-1B 11-96b, read",
            recorded=f"kept_off_by: {installed.kept_off_by}",
            wanted="metal stand-offs; tape or tubing is no substitute",
            remedy="Fit metal stand-offs.",
        )

    return each_bundle(electrical, judge, "kept_off_by")


@rule(
    "electrical/lacing",
    title="No continuous lacing",
    asks="Is no bundle laced in one piece outside panels and junction boxes?",
    references=("ac43-11-96-i",),
    due=Stage.SYSTEMS,
    remedy="Tie the bundle with single ties.",
)
def lacing_is_tied(electrical: Electrical) -> Iterator[Finding]:
    """Continuous lacing, which catches the bundle every 6 in, opens from end to end where it is cut once; so it belongs in
    panels and junction boxes alone.
    """

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        laced, inside = bool(installed.continuous_lacing), installed.inside_box
        yield said(
            bundle.id,
            f"{'laced in one piece' if laced else 'tied one by one'}, {'inside a panel or box' if inside else 'in the open'}",
            installed.at("continuous_lacing"),
            good=inside or not laced,
            source="AC 43.13-1B 11-96i, read",
            recorded=f"continuous_lacing: {str(laced).lower()}, inside_box: {str(inside).lower()}",
            wanted="no continuous lacing (every 6 in) but in panels and junction boxes",
            remedy="Tie it with single ties.",
        )

    return each_bundle(electrical, judge, "continuous_lacing")


@rule(
    "electrical/chafing",
    title="Nothing chafes",
    asks="Can no bundle rub on the airframe or on a component?",
    references=("ac43-11-96-q",),
    due=Stage.SYSTEMS,
    remedy="Lead the bundle elsewhere, or clamp it off.",
)
def bundles_do_not_chafe(electrical: Electrical) -> Iterator[Finding]:
    """Looked for along the whole way, with the engine's movement and the controls' travel in mind."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        yield said(
            bundle.id,
            "it can rub on the airframe or a component" if installed.chafes else "it rubs on nothing",
            installed.at("chafes"),
            good=not installed.chafes,
            source="AC 43.13-1B 11-96q, read",
            recorded=f"chafes: {str(bool(installed.chafes)).lower()}",
            wanted="routed so that wires cannot chafe on airframe or components",
            remedy="Lead it elsewhere, or clamp it off.",
        )

    return each_bundle(electrical, judge, "chafes")


@rule(
    "electrical/tubing-drain",
    title="Drain holes in tubing",
    asks="Has tubing over wires a drain hole at its lowest part?",
    references=("ac43-11-96-p",),
    due=Stage.SYSTEMS,
    remedy="Make a drain hole at the lowest part.",
)
def tubing_is_drained(electrical: Electrical) -> Iterator[Finding]:
    """Water that runs along a wire collects in tubing. Where a bundle runs in none, nothing is asked."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        spot = installed.at("drain_holes")
        if not installed.in_tubing:
            yield not_applicable(bundle.id, "no part of it runs in tubing", installed.at("in_tubing"))
        elif installed.drain_holes is None:
            yield no_data(bundle.id, "whether its tubing has drain holes is not recorded", installed.at("in_tubing"))
        else:
            yield said(
                bundle.id,
                f"its tubing has {'a' if installed.drain_holes else 'no'} drain hole at the lowest part",
                spot,
                good=installed.drain_holes,
                source="AC 43.13-1B 11-96p, read",
                recorded=f"in_tubing: true, drain_holes: {str(installed.drain_holes).lower()}",
                wanted="drain holes at drip loops and at the lowest part of tubing",
                remedy="Make a drain hole at its lowest part.",
            )

    return each_bundle(electrical, judge, "in_tubing")


@rule(
    "electrical/hinge",
    title="Across hinges",
    asks="Does every bundle that crosses a hinge twist there instead of bending?",
    references=("ac43-11-115",),
    due=Stage.SYSTEMS,
    remedy="Clamp the bundle along the hinge line, so that it twists.",
)
def bundles_twist_at_hinges(electrical: Electrical) -> Iterator[Finding]:
    """A wire that is twisted over a length lives longer than one that is bent in one place."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        if installed.at_hinges == "no-hinge":
            yield not_applicable(bundle.id, "it crosses no hinge", installed.at("at_hinges"))
            return
        yield said(
            bundle.id,
            f"it {installed.at_hinges} where it crosses a hinge",
            installed.at("at_hinges"),
            good=installed.at_hinges == "twists",
            source="AC 43.13-1B 11-115, read",
            recorded=f"at_hinges: {installed.at_hinges}",
            wanted="clamped so that the bundle twists, not bends",
            remedy="Clamp it along the hinge line, so that it twists.",
        )

    return each_bundle(electrical, judge, "at_hinges")


@rule(
    "electrical/steel-clamps",
    title="Steel clamps beside controls",
    asks="Are the clamps of every bundle beside flight controls of steel?",
    references=("ac43-11-125-steel",),
    due=Stage.SYSTEMS,
    remedy="Fit steel clamps there.",
)
def clamps_near_controls_are_steel(electrical: Electrical) -> Iterator[Finding]:
    """Only bundles recorded as near flight controls are asked."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        yield _beside_controls(bundle, installed, "steel_clamps", ("steel clamps", "clamps that are not of steel"))

    return each_bundle(electrical, judge, "near_controls")


@rule(
    "electrical/failed-clamp",
    title="A failed clamp fouls no control",
    asks="Does every bundle beside flight controls stay off them when any one clamp fails?",
    references=("ac43-11-125-steel",),
    due=Stage.SYSTEMS,
    remedy="Set the clamps closer.",
)
def failed_clamp_fouls_nothing(electrical: Electrical) -> Iterator[Finding]:
    """Clamps stand so close that one that lets go does not give the bundle enough length to reach a control."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        words = ("one failed clamp leaves it clear", "one failed clamp lets it reach a control")
        yield _beside_controls(bundle, installed, "failed_clamp_clear", words)

    return each_bundle(electrical, judge, "near_controls")


def _beside_controls(bundle: Bundle, installed: Installed, field: str, words: tuple[str, str]) -> Finding:
    if not installed.near_controls:
        return not_applicable(bundle.id, "it runs beside no flight control", installed.at("near_controls"))
    good = getattr(installed, field)
    if good is None:
        message = f"{field} is not recorded of a bundle beside flight controls"
        return no_data(bundle.id, message, installed.at("near_controls"), remedy=f"Record '{field}'.")
    return said(
        bundle.id,
        f"beside flight controls: {words[0] if good else words[1]}",
        installed.at(field),
        good=good,
        source="AC 43.13-1B 11-125, read",
        recorded=f"near_controls: true, {field}: {str(good).lower()}",
        wanted="steel clamp hardware near flight controls, spaced so that one failed clamp cannot foul a control",
        remedy="Fit steel clamps there." if field == "steel_clamps" else "Set the clamps closer.",
    )


@fact
def feeders(electrical: Electrical) -> list[Wire]:
    """Wires joined to a source's own terminal, wires that arrive at a bus, and starter feeders."""
    sources = {source.id for source in electrical.sources}
    buses = {bus.id for bus in electrical.buses}
    return [
        wire
        for wire in electrical.wires
        if wire.to in buses or wire.to in sources or wire.from_ in sources or wire.serves == "starter-feeder"
    ]


def _each_feeder(
    electrical: Electrical, feeders: list[Wire], field: str, words: tuple[str, str], remedy: str
) -> Iterator[Finding]:
    if not feeders:
        yield not_applicable("aircraft", "no feeder is recorded", electrical.at("wires"))
    for wire in feeders:
        good = getattr(wire, field)
        if good is None:
            yield no_data(wire.id, f"{field} is not recorded of this feeder", wire.at(), remedy=f"Record '{field}'.")
        else:
            yield said(
                wire.id,
                words[0] if good else words[1],
                wire.at(field),
                good=good,
                source="AC 43.13-1B 11-119, read",
                recorded=f"{field}: {str(good).lower()}",
                wanted="feeders inspectable and replaceable, with extra protection against chafing",
                remedy=remedy,
            )


@rule(
    "electrical/feeder-access",
    title="Feeders can be reached",
    asks="Can every feeder be looked at and replaced?",
    references=("ac43-11-119",),
    due=Stage.SYSTEMS,
    remedy="Lead the feeder where it can be reached.",
)
def feeders_are_inspectable(electrical: Electrical, feeders: list[Wire]) -> Iterator[Finding]:
    """Feeders are the wires joined to a source, those that arrive at a bus, and those recorded as starter feeders."""
    words = ("it can be looked at and replaced", "it cannot be looked at or replaced")
    return _each_feeder(electrical, feeders, "inspectable", words, "Lead it where it can be reached.")


@rule(
    "electrical/feeder-guard",
    title="Feeders are guarded",
    asks="Has every feeder protection against chafing beside its insulation?",
    references=("ac43-11-119",),
    due=Stage.SYSTEMS,
    remedy="Fit a sleeve or a guard.",
)
def feeders_are_guarded(electrical: Electrical, feeders: list[Wire]) -> Iterator[Finding]:
    """Feeders are the wires joined to a source, those that arrive at a bus, and those recorded as starter feeders."""
    words = ("it has protection against chafing", "nothing but its insulation protects it from chafing")
    return _each_feeder(electrical, feeders, "chafe_guard", words, "Fit a sleeve or a guard.")
