"""Is the wiring held, led and kept apart as AC 43.13-1B describes it? Judged on what the builder measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, no_data, not_applicable, passes, rule
from jurystrut_rules.electrical.installed import Figure, each_bundle, inches, within

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.electrical import Bundle, Electrical
    from jurystrut.records.installed import Installed

__all__ = [
    "bends_are_wide",
    "bundles_are_supported",
    "bundles_are_tied",
    "controls_stay_clear",
    "ends_can_be_renewed",
    "fluids_stay_apart",
    "holes_have_grommets",
    "sag_is_small",
]

_SUPPORT = Figure(24.0, "in", "AC 43.13-1B 11-96a, read")  # ac43-11-96-a
_TIE = Figure(12.0, "in", "AC 43.13-1B 11-158b, read")  # ac43-11-158-b
_SAG = Figure(0.5, "in", "AC 43.13-1B 11-118, read")  # ac43-11-118
_TERMINATIONS = Figure(2, "terminations", "AC 43.13-1B 11-118, read")  # ac43-11-118
_BEND = Figure(10.0, "diameters", "AC 43.13-1B 11-96, from memory")  # ac43-11-96-bend
_FLUID = Figure(6.0, "in", "AC 43.13-1B 11-96w, read: preferred")  # ac43-11-96-w
_FLUID_HELD = Figure(2.0, "in", "AC 43.13-1B 11-96w, read: where clamps and ties hold it off")  # ac43-11-96-w
_HOLE = Figure(0.375, "in", "AC 43.13-1B 11-115, read")  # ac43-11-115
_CONTROL = Figure(0.5, "in", "AC 43.13-1B 11-125, from memory")  # ac43-11-125


@rule(
    "electrical/support-spacing",
    title="Support of bundles",
    asks="Are the clamps of every bundle no more than 24 in apart?",
    references=("ac43-11-96-a",),
    due=Stage.SYSTEMS,
    remedy="Fit a clamp between.",
)
def bundles_are_supported(electrical: Electrical) -> Iterator[Finding]:
    """The longest way between two clamps, but in troughs, ducts and conduit."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        apart = inches(installed.support_spacing)
        message = f"clamps up to {apart:g} in apart"
        spot = installed.at("support_spacing")
        yield within(bundle.id, apart, _SUPPORT, message, spot, remedy="Fit a clamp between.")

    return each_bundle(electrical, judge, "support_spacing")


@rule(
    "electrical/tie-spacing",
    title="Ties between distant clamps",
    asks="Is a bundle tied every 12 in where its clamps are further apart than that?",
    references=("ac43-11-158-b",),
    due=Stage.SYSTEMS,
    remedy="Tie the bundle between the clamps.",
)
def bundles_are_tied(electrical: Electrical) -> Iterator[Finding]:
    """Where clamps are more than 12 in apart the bundle is tied between; the ties are held against the same 12 in."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        apart = inches(installed.support_spacing)
        if apart <= _TIE.value:
            yield not_applicable(bundle.id, f"its clamps are {apart:g} in apart, no more than {_TIE}", installed.at())
        elif installed.tie_spacing is None:
            yield no_data(bundle.id, "tie_spacing as installed is not recorded", installed.at())
        else:
            ties = inches(installed.tie_spacing)
            message = f"ties up to {ties:g} in apart, clamps {apart:g} in"
            spot = installed.at("tie_spacing")
            yield within(bundle.id, ties, _TIE, message, spot, remedy=f"Tie it every {_TIE} or closer.")

    return each_bundle(electrical, judge, "support_spacing")


@rule(
    "electrical/bend-radius",
    title="Bend radius",
    asks="Is every bend at least ten diameters wide?",
    references=("ac43-11-96-bend",),
    due=Stage.SYSTEMS,
    remedy="Lead the bundle in a wider bend.",
    at_worst=Verdict.WARN,
)
def bends_are_wide(electrical: Electrical) -> Iterator[Finding]:
    """The tightest bend against ten times the diameter recorded, that of the bundle or of its thickest wire. The figure is from
    memory, so this rule warns at most. Bends at terminal strips, where three diameters do, are not meant.
    """

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        radius, diameter = inches(installed.bend_radius), inches(installed.diameter)
        least = _BEND._replace(value=_BEND.value * diameter, unit="in")
        yield within(
            bundle.id,
            radius,
            least,
            f"tightest bend {radius:g} in, diameter {diameter:g} in",
            installed.at("bend_radius"),
            least=True,
            remedy=f"Lead it in bends of {least} or more.",
            derived=f"{_BEND} x {diameter:g} in = {least}",
        )

    return each_bundle(electrical, judge, "bend_radius", "diameter")


@rule(
    "electrical/fluid-separation",
    title="Distance from fuel and oxygen",
    asks="Does every bundle keep 6 in from fuel and oxygen lines and tank walls, or 2 in where it is held off them?",
    references=("ac43-11-96-w",),
    due=Stage.SYSTEMS,
    remedy="Move the bundle, or clamp and tie it so that a broken wire cannot reach.",
)
def fluids_stay_apart(electrical: Electrical) -> Iterator[Finding]:
    """6 in are preferred. Below that, down to 2 in, clamps and ties must keep one broken wire off even with one clamp missing."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        apart, held = inches(installed.fluid_distance), installed.held_off_fluids
        spot = installed.at("fluid_distance")
        if apart < _FLUID.value and held is None:
            message = f"{apart:g} in from fluids; whether clamps and ties hold it off is not recorded"
            yield no_data(bundle.id, message, spot, remedy="Record 'held_off_fluids'.")
            return
        figure = _FLUID_HELD if held else _FLUID
        message = f"{apart:g} in from fuel and oxygen, {'' if held else 'not '}held off by clamps and ties"
        yield within(bundle.id, apart, figure, message, spot, least=True, remedy=f"Move it to {figure} or more.")

    return each_bundle(electrical, judge, "fluid_distance")


@rule(
    "electrical/grommet",
    title="Holes with grommets",
    asks="Has every hole a grommet where the bundle may come within 3/8 in of its edge?",
    references=("ac43-11-115",),
    due=Stage.SYSTEMS,
    remedy="Fit a grommet.",
)
def holes_have_grommets(electrical: Electrical) -> Iterator[Finding]:
    """Where clamps keep 3/8 in or more from the edge of every hole none is asked for."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        clear = inches(installed.hole_clearance)
        spot = installed.at("hole_clearance")
        if installed.grommets:
            yield passes(
                bundle.id,
                "grommets in all its holes",
                installed.at("grommets"),
                working=lambda: [
                    f"recorded: grommets, and {clear:g} in from the nearest edge",
                    f"wanted: a grommet below {_HOLE} ({_HOLE.source})",
                ],
            )
        elif clear < _HOLE.value and installed.grommets is None:
            yield no_data(bundle.id, f"{clear:g} in from a hole's edge; grommets are not recorded", spot)
        else:
            message = f"{clear:g} in from the edge of a hole without a grommet"
            yield within(bundle.id, clear, _HOLE, message, spot, least=True, remedy="Fit a grommet.")

    return each_bundle(electrical, judge, "hole_clearance")


@rule(
    "electrical/slack",
    title="Sag between clamps",
    asks="Does every bundle sag no more than 1/2 in between its clamps?",
    references=("ac43-11-118",),
    due=Stage.SYSTEMS,
    remedy="Take up the sag, or fit a clamp.",
    at_worst=Verdict.WARN,
)
def sag_is_small(electrical: Electrical) -> Iterator[Finding]:
    """Normally at most 1/2 in between supports; more is allowed where it touches nothing, so this rule warns at most."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        sag = inches(installed.sag)
        message = f"sags {sag:g} in between clamps"
        spot = installed.at("sag")
        yield within(bundle.id, sag, _SAG, message, spot, remedy="Take up the sag, or fit a clamp.")

    return each_bundle(electrical, judge, "sag")


@rule(
    "electrical/spare-length",
    title="Slack for new terminations",
    asks="Can the wires of every bundle be cut off and terminated anew twice?",
    references=("ac43-11-118",),
    due=Stage.SYSTEMS,
    remedy="Leave longer ends when the wires are next replaced.",
    at_worst=Verdict.WARN,
)
def ends_can_be_renewed(electrical: Electrical) -> Iterator[Finding]:
    """Slack for two more terminations is wanted beside the drip loop. A wire that lacks it works today, so this warns at most."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        spare = installed.spare_terminations or 0
        message = f"slack for {spare} more terminations"
        spot = installed.at("spare_terminations")
        remedy = "Leave longer ends when the wires are next replaced."
        yield within(bundle.id, spare, _TERMINATIONS, message, spot, least=True, remedy=remedy)

    return each_bundle(electrical, judge, "spare_terminations")


@rule(
    "electrical/control-clearance",
    title="Distance from controls",
    asks="Does every bundle, pushed by hand, keep 1/2 in from movable controls?",
    references=("ac43-11-125",),
    due=Stage.SYSTEMS,
    remedy="Clamp the bundle further off, with steel clamps.",
    at_worst=Verdict.WARN,
)
def controls_stay_clear(electrical: Electrical) -> Iterator[Finding]:
    """Measured with the bundle pushed lightly towards them. The figure is from memory, so this rule warns at most."""

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        clear = inches(installed.control_distance)
        message = f"{clear:g} in from movable controls when pushed"
        spot = installed.at("control_distance")
        yield within(bundle.id, clear, _CONTROL, message, spot, least=True, remedy="Clamp it further off.")

    return each_bundle(electrical, judge, "control_distance")
