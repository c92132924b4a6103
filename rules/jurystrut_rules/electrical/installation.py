"""Is the wiring installed as AC 43.13-1B describes it? Judged on what the builder measured."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    Stage,
    Verdict,
    at_least,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
)
from jurystrut_rules.electrical.tables import allowed_strands

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut.quantities import Length
    from jurystrut.records.electrical import Bundle, Electrical
    from jurystrut.records.installed import Installed

__all__ = [
    "bends_are_wide",
    "bundles_are_supported",
    "bundles_are_tied",
    "controls_stay_clear",
    "drips_fall_off",
    "fluids_stay_apart",
    "holes_have_grommets",
    "markings_are_close",
    "sag_is_small",
    "splices_are_few",
    "strands_are_whole",
]

_SUPPORT_IN = 24.0  # AC 43.13-1B 11-96a
_TIE_IN = 12.0  # 11-158b
_SAG_IN = 0.5  # 11-118
_TERMINATIONS = 2  # 11-118
_BEND_X_DIAMETER = 10.0  # 11-96, from memory
_FLUID_IN, _FLUID_LEAST_IN = 6.0, 2.0  # 11-96w
_HOLE_IN = 0.375  # 11-115
_CONTROL_IN = 0.5  # 11-125, from memory
_MARKING_IN, _UNMARKED_BELOW_IN = 15.0, 3.0  # 11-208
_SPLICES = 1  # 11-167, from memory


def _each(
    electrical: Electrical, judge: Callable[[Bundle, Installed], Iterator[Finding]], *fields: str
) -> Iterator[Finding]:
    """One look at every bundle; no-data where it says nothing of how it lies, or lacks one of the fields."""
    if not electrical.bundles:
        yield no_data("aircraft", "no bundle is recorded", electrical.at(), remedy="Record 'bundles'.")
    for bundle in electrical.bundles:
        missing = [f for f in fields if bundle.installed is None or getattr(bundle.installed, f) is None]
        if missing or bundle.installed is None:
            message = f"{' and '.join(missing)} as installed is not recorded"
            yield no_data(bundle.id, message, bundle.at(), remedy=f"Measure it and record '{missing[0]}'.")
        else:
            yield from judge(bundle, bundle.installed)


def _inches(length: Length | None) -> float:
    assert length is not None
    return length.to("in")


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
        inches = _inches(installed.support_spacing)
        message = f"clamps up to {inches:g} in apart; {_SUPPORT_IN:g} in is the most"
        spot = installed.at("support_spacing")
        yield at_most(bundle.id, inches, _SUPPORT_IN, "in", message, spot, remedy="Fit a clamp between.")

    return _each(electrical, judge, "support_spacing")


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
        apart = _inches(installed.support_spacing)
        if apart <= _TIE_IN:
            yield not_applicable(bundle.id, f"its clamps are {apart:g} in apart, no more than 12 in", installed.at())
        elif installed.tie_spacing is None:
            yield no_data(bundle.id, "tie_spacing as installed is not recorded", installed.at())
        else:
            inches = _inches(installed.tie_spacing)
            message = f"ties up to {inches:g} in apart, clamps {apart:g} in; {_TIE_IN:g} in is the most"
            spot = installed.at("tie_spacing")
            yield at_most(bundle.id, inches, _TIE_IN, "in", message, spot, remedy="Tie it every 12 in or closer.")

    return _each(electrical, judge, "support_spacing")


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
        radius, least = _inches(installed.bend_radius), _BEND_X_DIAMETER * _inches(installed.diameter)
        yield at_least(
            bundle.id,
            radius,
            least,
            "in",
            f"tightest bend {radius:g} in; ten diameters are {least:g} in",
            installed.at("bend_radius"),
            remedy=f"Lead it in bends of {least:g} in or more.",
            working=lambda: [f"10 x {_inches(installed.diameter):g} in = {least:g} in"],
        )

    return _each(electrical, judge, "bend_radius", "diameter")


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
        inches = _inches(installed.fluid_distance)
        least = _FLUID_LEAST_IN if installed.held_off_fluids else _FLUID_IN
        how = "held off by clamps and ties" if installed.held_off_fluids else "not held off by clamps and ties"
        if inches < _FLUID_IN and installed.held_off_fluids is None:
            message = f"{inches:g} in from fluids; whether clamps and ties hold it off is not recorded"
            yield no_data(bundle.id, message, installed.at("fluid_distance"), remedy="Record 'held_off_fluids'.")
            return
        yield at_least(
            bundle.id,
            inches,
            least,
            "in",
            f"{inches:g} in from fuel and oxygen, {how}; {least:g} in is the least",
            installed.at("fluid_distance"),
            remedy=f"Move it to {least:g} in or more.",
        )

    return _each(electrical, judge, "fluid_distance")


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
        inches = _inches(installed.hole_clearance)
        spot = installed.at("hole_clearance")
        if installed.grommets:
            yield passes(bundle.id, "grommets in all its holes", installed.at("grommets"))
        elif inches < _HOLE_IN and installed.grommets is None:
            yield no_data(bundle.id, f"{inches:g} in from a hole's edge; grommets are not recorded", spot)
        else:
            message = f"{inches:g} in from the edge of a hole without a grommet; {_HOLE_IN:g} in is the least"
            yield at_least(bundle.id, inches, _HOLE_IN, "in", message, spot, remedy="Fit a grommet.")

    return _each(electrical, judge, "hole_clearance")


@rule(
    "electrical/slack",
    title="Sag and slack",
    asks="Does every bundle sag no more than 1/2 in, and leave slack for two more terminations?",
    references=("ac43-11-118",),
    due=Stage.SYSTEMS,
    remedy="Take up the sag, or leave longer ends.",
    at_worst=Verdict.WARN,
)
def sag_is_small(electrical: Electrical) -> Iterator[Finding]:
    """Normally at most 1/2 in between supports; more is allowed where it touches nothing, so this rule warns at most. Slack for
    two more terminations is wanted beside the drip loop.
    """

    def judge(bundle: Bundle, installed: Installed) -> Iterator[Finding]:
        inches, spare = _inches(installed.sag), installed.spare_terminations
        assert spare is not None
        if spare < _TERMINATIONS:
            message = f"slack for {spare} more terminations; {_TERMINATIONS} are wanted"
            spot = installed.at("spare_terminations")
            remedy = "Leave longer ends when the wires are next replaced."
            yield at_least(bundle.id, spare, _TERMINATIONS, "terminations", message, spot, remedy=remedy)
        else:
            message = f"sags {inches:g} in between clamps; {_SAG_IN:g} in is the most normally"
            spot = installed.at("sag")
            yield at_most(bundle.id, inches, _SAG_IN, "in", message, spot, remedy="Take up the sag, or fit a clamp.")

    return _each(electrical, judge, "sag", "spare_terminations")


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
        inches = _inches(installed.control_distance)
        message = f"{inches:g} in from movable controls when pushed; {_CONTROL_IN:g} in is the least"
        spot = installed.at("control_distance")
        yield at_least(bundle.id, inches, _CONTROL_IN, "in", message, spot, remedy="Clamp it further off.")

    return _each(electrical, judge, "control_distance")


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
        spot = installed.at("drip_loop")
        if installed.drip_loop:
            yield passes(bundle.id, "a drip loop where it runs down", spot)
        else:
            remedy = "Lead it below the connector and up into it."
            yield fails(bundle.id, "it runs down into a connector or box without a drip loop", spot, remedy=remedy)

    return _each(electrical, judge, "drip_loop")


@rule(
    "electrical/strands",
    title="Nicked and broken strands",
    asks="Has every termination no more nicked and broken strands than Table 11-13 allows?",
    references=("ac43-table-11-13",),
    due=Stage.SYSTEMS,
    remedy="Cut the wire back and terminate it anew.",
)
def strands_are_whole(electrical: Electrical) -> Iterator[Finding]:
    """A wire counts where somebody looked and recorded a number. Nicked and broken strands have a figure each; the one that is
    worse against its own is shown. Aluminium may have none.
    """
    looked = [wire for wire in electrical.wires if wire.nicked is not None or wire.broken is not None]
    if not looked:
        message = "nicked and broken strands are recorded for no wire"
        yield no_data(
            "aircraft", message, electrical.at("wires"), remedy="Record 'nicked' and 'broken', 0 where none is."
        )
    for wire in looked:
        allowed = allowed_strands(wire.size.name) if wire.size else None
        if allowed is None:
            yield no_data(wire.id, "its size is not recorded, or not in Table 11-13", wire.at())
            continue
        if wire.material == "aluminium":
            allowed = (0, 0)
        cells = (("nicked", wire.nicked or 0, allowed[0]), ("broken", wire.broken or 0, allowed[1]))
        field, count, most = max(cells, key=lambda cell: (max(0, cell[1] - cell[2]), cell[1]))
        yield at_most(
            wire.id,
            count,
            most,
            "strands",
            f"{count} {field} strands at a termination of {wire.size}; Table 11-13 allows {most}",
            wire.at(field),
            remedy="Cut the wire back and terminate it anew.",
        )


@rule(
    "electrical/splices",
    title="Splices in a wire",
    asks="Has every wire no more than one splice between its ends?",
    references=("ac43-11-167",),
    due=Stage.SYSTEMS,
    remedy="Replace the wire.",
    at_worst=Verdict.WARN,
)
def splices_are_few(electrical: Electrical) -> Iterator[Finding]:
    """Wires whose splices are counted are judged; a splice that is a junction of its own ends a wire. From memory."""
    counted = [wire for wire in electrical.wires if wire.splices is not None]
    if not counted:
        message = "splices are recorded for no wire"
        yield no_data("aircraft", message, electrical.at("wires"), remedy="Record 'splices', 0 where none is.")
    for wire in counted:
        message = f"{wire.splices} splices between its ends; {_SPLICES} is the most"
        spot = wire.at("splices")
        yield at_most(wire.id, wire.splices or 0, _SPLICES, "splices", message, spot, remedy="Replace the wire.")


@rule(
    "electrical/marking-interval",
    title="Markings along a wire",
    asks="Is every wire marked at least every 15 in?",
    references=("ac43-11-208",),
    due=Stage.SYSTEMS,
    remedy="Mark the wire between.",
)
def markings_are_close(electrical: Electrical) -> Iterator[Finding]:
    """Wires whose `marking_interval` is recorded are judged. A wire of less than 3 in needs none. A printed sleeve at each end
    and every 6 ft, which the paragraph allows as well, is recorded as an interval of 15 in.
    """
    marked = [wire for wire in electrical.wires if wire.marking_interval is not None]
    if not marked:
        message = "how far apart markings stand is recorded for no wire"
        yield no_data("aircraft", message, electrical.at("wires"), remedy="Record 'marking_interval'.")
    for wire in marked:
        if wire.length and wire.length.to("in") < _UNMARKED_BELOW_IN:
            yield not_applicable(wire.id, f"{wire.length} long; below 3 in no marking is asked for", wire.at())
            continue
        inches = _inches(wire.marking_interval)
        message = f"marked every {inches:g} in; {_MARKING_IN:g} in is the most"
        spot = wire.at("marking_interval")
        yield at_most(wire.id, inches, _MARKING_IN, "in", message, spot, remedy="Mark it between.")
