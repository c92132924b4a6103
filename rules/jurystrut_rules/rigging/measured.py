"""Is the aircraft straight: distances, angles, diagonals and wheels against their limits?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.calculations.squareness import off_square, off_square_angle, toe_angle
from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_most,
    between,
    no_data,
    not_applicable,
    rule,
)
from jurystrut_rules.lacking import lacking, none_recorded

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.quantities import Angle, Length, Tolerance
    from jurystrut.records.rigging import AngleCheck, LengthCheck, Pair, Rigging, Toe, Triangle, Washout

__all__ = [
    "angles_within_limits",
    "diagonals_alike",
    "lengths_within_limits",
    "line_is_square",
    "sides_alike",
    "wheels_are_parallel",
    "wing_is_twisted_right",
]

_EIGHTH = 0.125  # army-1917: inch
_INCIDENCE = 0.2  # practice-incidence: deg
_TOE = 0.5  # practice-toe: deg


def _unjudged(check: LengthCheck | AngleCheck) -> Finding | None:
    """No data, where there is no limit, no page that gives it, or no measurement: no limit is ever made up."""
    if check.limit is None:
        return lacking(check, "limit", "; it stands in the type's manual")
    if check.manual is None:
        return lacking(check, "manual", ", which gives its limit")
    return lacking(check, "measured") if check.measured is None else None


@rule(
    "rigging/lengths",
    title="Distances",
    asks="Is every measured distance within the limits of the manual?",
    references=("amt-symmetry",),
    due=Stage.SYSTEMS,
    remedy="Set the rigging again, or ask the designer.",
)
def lengths_within_limits(rigging: Rigging) -> Iterator[Finding]:
    """Limits come from the builder's own manual, which names its page. Outside them the aircraft is not airworthy until that is
    resolved (FAA-H-8083-31).
    """
    if not rigging.lengths:
        raise MissingRecord("no distance is recorded", rigging.at())
    for check in rigging.lengths:
        unjudged = _unjudged(check)
        if unjudged:
            yield unjudged
            continue
        assert check.limit is not None
        assert check.measured is not None
        low, high = check.limit.low.to("in"), check.limit.high.to("in")
        message = f"{check.what}: {check.measured}, limit {check.limit} ({check.manual})"
        yield between(
            check.id, check.measured.to("in"), low, high, "in", message, check.at("measured"), check.at("limit")
        )


@rule(
    "rigging/angles",
    title="Angles and control travels",
    asks="Is every measured angle and control travel within the limits of the manual?",
    references=("amt-symmetry",),
    due=Stage.SYSTEMS,
    remedy="Set the rigging or the stop again, or ask the designer.",
)
def angles_within_limits(rigging: Rigging) -> Iterator[Finding]:
    """Limits come from the builder's own manual, which names its page."""
    if not rigging.angles:
        raise MissingRecord("no angle is recorded", rigging.at())
    for check in rigging.angles:
        unjudged = _unjudged(check)
        if unjudged:
            yield unjudged
            continue
        assert check.limit is not None
        assert check.measured is not None
        low, high = check.limit.low.to("deg"), check.limit.high.to("deg")
        message = f"{check.what}: {check.measured}, limit {check.limit} ({check.manual})"
        yield between(
            check.id, check.measured.to("deg"), low, high, "deg", message, check.at("measured"), check.at("limit")
        )


@rule(
    "rigging/sides-alike",
    title="Left and right alike",
    asks="Are left and right alike, as closely as the manual or custom asks?",
    references=("amt-symmetry", "army-1917", "practice-incidence"),
    due=Stage.SYSTEMS,
    remedy="Bring both sides to the same value within their limits.",
)
def sides_alike(rigging: Rigging) -> Iterator[Finding]:
    """Both sides can be within their limits and still twist the aircraft. Where the manual says how far they may differ, that
    decides; otherwise 1/8 in (1917) or 0.2 deg (common practice) serves as a warning.
    """
    yield from none_recorded(rigging.pairs, "pair of measurements", rigging)
    lengths = {check.id: check for check in rigging.lengths}
    angles = {check.id: check for check in rigging.angles}
    for pair in rigging.pairs:
        if pair.left in lengths and pair.right in lengths:
            yield _pair(pair, lengths[pair.left], lengths[pair.right], "in", pair.length, _EIGHTH)
        elif pair.left in angles and pair.right in angles:
            yield _pair(pair, angles[pair.left], angles[pair.right], "deg", pair.angle, _INCIDENCE)
        else:
            yield no_data(
                pair.id, "one side is a distance, the other an angle", pair.at("left"), remedy="Name two of a kind."
            )


def _pair(
    pair: Pair,
    left: LengthCheck | AngleCheck,
    right: LengthCheck | AngleCheck,
    unit: str,
    declared: Length | Angle | None,
    custom: float,
) -> Finding:
    if left.measured is None or right.measured is None:
        return lacking(left if left.measured is None else right, "measured")
    if declared is not None and pair.manual is None:
        return lacking(pair, "manual", ", which says how far they may differ")
    one, other = left.measured.to(unit), right.measured.to(unit)
    limit = declared.to(unit) if declared else custom
    by = f"{pair.manual}" if declared else "custom"
    message = f"{left.id} and {right.id} differ by {abs(one - other):.3g} {unit}; {limit:g} {unit} by {by}"
    verdict = Verdict.FAIL if declared else Verdict.WARN
    # Taken apart in thousandths, as decimal fractions have no exact difference in binary.
    difference = round(abs(one - other), 9)
    return at_most(
        pair.id, difference, limit, unit, message, left.at("measured"), right.at("measured"), otherwise=verdict
    )


def _unmeasured(triangle: Triangle) -> Finding | None:
    """No data, where a side is not recorded or the three do not close."""
    for field in ("left", "right", "base"):
        if getattr(triangle, field) is None:
            return lacking(triangle, field)
    try:
        off_square(*_sides(triangle))
    except ValueError as error:
        return no_data(triangle.id, str(error), triangle.at(), remedy="Measure again.")
    return None


def _sides(triangle: Triangle) -> tuple[float, float, float]:
    """Left and right diagonal and base, in inches."""
    assert triangle.left is not None
    assert triangle.right is not None
    assert triangle.base is not None
    return triangle.left.to("in"), triangle.right.to("in"), triangle.base.to("in")


@rule(
    "rigging/washout",
    title="Washout",
    asks="Has each wing the washout that the manual asks for?",
    references=("amt-symmetry",),
    due=Stage.SYSTEMS,
    remedy="Set the wing again; where struts allow it, by the rear one.",
)
def wing_is_twisted_right(rigging: Rigging) -> Iterator[Finding]:
    """The angle at the root less the angle at the tip. Root and tip can each be within their limits, and the twist between them
    still be off. The limit comes from the manual; none is made up.
    """
    yield from none_recorded(rigging.washouts, "washout", rigging)
    angles = {check.id: check for check in rigging.angles}
    for washout in rigging.washouts:
        yield _washout(washout, angles[washout.root], angles[washout.tip])


def _washout(washout: Washout, root: AngleCheck, tip: AngleCheck) -> Finding:
    if washout.limit is None or washout.manual is None:
        return lacking(washout, "limit" if washout.limit is None else "manual")
    if root.measured is None or tip.measured is None:
        return no_data(
            washout.id, f"{root.id} and {tip.id} are not both measured", washout.at(), remedy="Measure both."
        )
    twist = round(root.measured.to("deg") - tip.measured.to("deg"), 9)
    low, high = washout.limit.low.to("deg"), washout.limit.high.to("deg")
    message = (
        f"{root.measured} at the root, {tip.measured} at the tip: {twist:g} deg; {washout.manual} gives {washout.limit}"
    )
    return between(
        washout.id, twist, low, high, "deg", message, tip.at("measured"), root.at("measured"), washout.at("limit")
    )


@rule(
    "rigging/diagonals",
    title="Diagonals alike",
    asks="Do the two diagonals differ by no more than the manual or custom allows?",
    references=("amt-symmetry", "army-1917"),
    due=Stage.STRUCTURE,
    remedy="Move the point towards the longer diagonal's side by the distance shown.",
)
def diagonals_alike(rigging: Rigging) -> Iterator[Finding]:
    """Two diagonals from the ends of a base to one point, such as wing tips to tail post, or wheels to tail post. From their
    difference follows how far the point lies off the middle line: (L^2 - R^2) / 2b. Where the manual gives no limit, 1/8 in
    between the diagonals serves as a warning; it comes from a training text of 1917.
    """
    yield from none_recorded(rigging.triangles, "pair of diagonals", rigging)
    for triangle in rigging.triangles:
        unmeasured = _unmeasured(triangle)
        if unmeasured:
            yield unmeasured
        elif triangle.difference is not None and triangle.manual is None:
            yield lacking(triangle, "manual", ", which gives its limit")
        else:
            yield _diagonals(triangle, *_sides(triangle))


def _diagonals(triangle: Triangle, left: float, right: float, base: float) -> Finding:
    declared = triangle.difference
    limit = declared.to("in") if declared else _EIGHTH
    offset = off_square(left, right, base)
    side = "right" if offset > 0 else "left"
    difference = round(abs(left - right), 9)
    message = (
        f"{triangle.what}: the diagonals differ by {difference:.3f} in, so it lies {abs(offset):.3f} in to the {side}"
    )
    return at_most(
        triangle.id,
        difference,
        limit,
        "in",
        message,
        triangle.at("left"),
        triangle.at("right"),
        working=lambda: [
            f"({left:g}^2 - {right:g}^2) / (2 x {base:g}) = {offset:+.3f} in to the right",
            f"limit by {triangle.manual if declared else 'a training text of 1917'}: {limit:g} in between the diagonals",
        ],
        otherwise=Verdict.FAIL if declared else Verdict.WARN,
    )


@rule(
    "rigging/square",
    title="Square to the fuselage",
    asks="Is the line to the point as square to its base as the manual asks?",
    references=("amt-symmetry",),
    due=Stage.STRUCTURE,
    remedy="Set the rigging again.",
)
def line_is_square(rigging: Rigging) -> Iterator[Finding]:
    """The angle by which the line from the middle of the base to the point is off square. Only a limit from the manual is judged;
    there is no published one for all aircraft.
    """
    yield from none_recorded(rigging.triangles, "pair of diagonals", rigging)
    for triangle in rigging.triangles:
        unmeasured = _unmeasured(triangle)
        if unmeasured:
            yield unmeasured
        elif triangle.angle is None:
            yield not_applicable(triangle.id, "no limit of this angle is recorded", triangle.at())
        elif triangle.manual is None:
            yield lacking(triangle, "manual", ", which gives its limit")
        else:
            angle = math.degrees(abs(off_square_angle(*_sides(triangle))))
            message = f"{triangle.what}: {angle:.3f} deg off square"
            yield at_most(
                triangle.id, angle, triangle.angle.to("deg"), "deg", message, triangle.at("left"), triangle.at("angle")
            )


@rule(
    "rigging/toe",
    title="Toe of the main wheels",
    asks="Are the main wheels as parallel as the gear's drawing asks?",
    references=("practice-toe", "amt-symmetry"),
    due=Stage.SYSTEMS,
    remedy="Shim the axle, and roll the aircraft before measuring again.",
)
def wheels_are_parallel(rigging: Rigging) -> Iterator[Finding]:
    """A straightedge along the wheel, and the distances of its ends to the centre line, give the angle: asin((front - rear) / L).
    Where no drawing gives a limit, half a degree serves as a warning, common practice, no source.
    """
    yield from none_recorded(rigging.toes, "toe", rigging)
    for toe in rigging.toes:
        yield _toe(toe)


def _toe(toe: Toe) -> Finding:
    for field in ("straightedge", "front", "rear"):
        if getattr(toe, field) is None:
            return lacking(toe, field)
    if toe.limit is not None and toe.manual is None:
        return lacking(toe, "manual", ", which gives its limit")
    assert toe.straightedge is not None
    assert toe.front is not None
    assert toe.rear is not None
    front, rear, length = (distance.to("in") for distance in (toe.front, toe.rear, toe.straightedge))
    try:
        angle = math.degrees(toe_angle(front, rear, length))
    except ValueError as error:
        return no_data(toe.id, str(error), toe.at(), remedy="Measure again.")
    low, high = _toe_limits(toe.limit)
    message = f"{abs(angle):.3f} deg toed {'out' if angle > 0 else 'in'}"
    steps = [f"asin(({front:g} - {rear:g}) / {length:g}) = {angle:+.3f} deg"]
    verdict = Verdict.FAIL if toe.limit else Verdict.WARN
    return between(
        toe.id, angle, low, high, "deg", message, toe.at("front"), toe.at(), working=lambda: steps, otherwise=verdict
    )


def _toe_limits(limit: Tolerance[Angle] | None) -> tuple[float, float]:
    return (limit.low.to("deg"), limit.high.to("deg")) if limit else (-_TOE, _TOE)
