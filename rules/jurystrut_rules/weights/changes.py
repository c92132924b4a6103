"""How sure is the weighing, and what has changed since?"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jurystrut.calculations.balance import Body, level_error, total, uncertainty
from jurystrut.rulebook import Finding, MissingRecord, Stage, Verdict, at_least, at_most, no_data, passes, rule, warns
from jurystrut_rules.weights.balance import Loaded, envelope_of, limits_of
from jurystrut_rules.weights.ledger import changes_since, inches, latest, nets_of, pounds, result_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.calculations.envelope import Envelope
    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.weights import Component, Weighing, Weights

__all__ = ["band_of", "changes_are_negligible", "scales_are_calibrated", "weighing_is_sure_enough"]


def _latest_result(weights: Weights) -> tuple[Weighing, Body]:
    weighing = latest(weights)
    body = result_of(weighing) if weighing else None
    if weighing is None or body is None:
        raise MissingRecord("there is no weighing with all its readings", weights.at("weighings"))
    return weighing, body


def band_of(weighing: Weighing, level_height: float | None) -> tuple[float, float, tuple[str, ...]] | None:
    """Standard uncertainties of empty weight and arm, with their arithmetic; None where a part of them is not recorded."""
    scale, arm, level = weighing.scale_uncertainty, weighing.arm_uncertainty, weighing.level_uncertainty
    if scale is None or arm is None or level is None or level_height is None:
        return None
    nets = nets_of(weighing)
    of_scales = uncertainty([net.body for net in nets], scale.si, arm.si)
    of_level = abs(level_error(level_height, level.si))
    whole = math.hypot(of_scales.arm, of_level)
    lines = (
        f"weight: {scale} a scale, {len(nets)} scales: {pounds(of_scales.weight):.2f} lb",
        f"arm, from the scales: {inches(of_scales.arm_from_scales):.3f} in",
        f"arm, from measured arms of {arm}: {inches(of_scales.arm_from_measuring):.3f} in",
        f"arm, from {level} out of level: {inches(of_level):.3f} in",
        f"arm, all together: {inches(whole):.3f} in",
    )
    return of_scales.weight, whole, lines


@rule(
    "weights/weighing-band",
    title="Weighing sure enough",
    asks="Do the declared loadings stay inside the envelope however wrong scales, arms and levelling may have been?",
    references=("own-weighing-band", "jcgm-100"),
    due=Stage.SYSTEMS,
    remedy="Weigh again with better scales, measured arms and levelling, or load farther from the limit.",
    at_worst=Verdict.WARN,
)
def weighing_is_sure_enough(aircraft: Aircraft, weights: Weights, loadings: list[Loaded]) -> Iterator[Finding]:
    """What the scales, the measured arms and the level may be wrong by is carried to the empty centre of gravity; twice the
    standard uncertainty is the band. Loaded, the empty aircraft's error counts by its share of the weight.

    Every declared loading that is inside the limits should be so by more than the band. The error of a tape measure usually
    matters more than that of the scales, and that of the level more than both: h tan(tilt).
    """
    weighing, body = _latest_result(weights)
    band = band_of(weighing, weights.level_height.si if weights.level_height else None)
    if band is None:
        yield no_data(
            weighing.id,
            "what scales, arms and level may be wrong by, or the height of the centre of gravity, is not recorded",
            weighing.at(),
            weights.at("level_height"),
            remedy="Record scale_uncertainty, arm_uncertainty and level_uncertainty, and level_height.",
        )
        return
    weight, arm, lines = band
    words = (
        f"{pounds(body.weight):.1f} ± {2 * pounds(weight):.1f} lb at {inches(body.arm):.2f} ± {2 * inches(arm):.2f} in"
    )
    nearest = _nearest(envelope_of(limits_of(aircraft)), loadings)
    if nearest is None:
        yield no_data(weighing.id, f"{words}; no declared loading is inside the envelope", weighing.at())
        return
    loaded, room = nearest
    share = body.weight / (loaded.body.weight if loaded.body else body.weight)
    yield at_least(
        weighing.id,
        inches(room),
        inches(2 * arm * share),
        "in",
        f"{words}; {loaded.loading.id} {loaded.state} is {inches(room):.2f} in from a limit",
        weighing.at(),
        loaded.loading.at(),
        working=lambda: [*lines, f"of the loaded weight {100 * share:.1f} %, twice: {inches(2 * arm * share):.3f} in"],
    )


def _nearest(envelope: Envelope, loadings: list[Loaded]) -> tuple[Loaded, float] | None:
    """The declared loading inside the envelope that comes nearest to a limit, and the distance."""
    rooms = [
        (loaded, margin.to_limit)
        for loaded in loadings
        if loaded.body is not None
        for margin in [envelope.margin(loaded.body.weight, loaded.body.arm)]
        if margin.to_limit is not None and margin.inside
    ]
    return min(rooms, key=lambda pair: pair[1], default=None)


_NEGLIGIBLE_LB = 1.0  # ac43-10-2-c: empty weight below 5,000 lb
_NEGLIGIBLE_SHARE = 0.0005  # ac43-10-2-c: of the mean chord
_NEGLIGIBLE_BELOW_LB = 5000.0  # ac43-10-2-c


@rule(
    "weights/changes-since-weighing",
    title="Changes since the weighing",
    asks="Is what has been fitted and taken out since the latest weighing too little to matter?",
    references=("ac43-10-2-c",),
    due=Stage.SYSTEMS,
    remedy="Work the report out anew, and weigh again before the inspection.",
    at_worst=Verdict.WARN,
)
def changes_are_negligible(aircraft: Aircraft, weights: Weights) -> Iterator[Finding]:
    """What went in and what came out after the weighing is added without its sign, so that two changes cannot hide each other.

    AC 43.13-1B calls 1 lb negligible below 5,000 lb empty, and a change of the centre of gravity below 0.05 % of the mean chord.
    Above that the loadings judged here still count every change, but they rest on arithmetic and no longer on scales.
    """
    weighing, body = _latest_result(weights)
    changes = changes_since(weights, weighing)
    if not changes:
        yield passes(weighing.id, "nothing was fitted or taken out since", weighing.at("day"))
        return
    if pounds(body.weight) >= _NEGLIGIBLE_BELOW_LB:
        yield no_data(weighing.id, "the figures used here hold below 5,000 lb empty", weighing.at())
        return
    yield _weight_changed(weighing, changes)
    yield _arm_moved(aircraft, weighing, body, changes)


def _weight_changed(weighing: Weighing, changes: list[tuple[Component, Body]]) -> Finding:
    changed = math.fsum(abs(pounds(change.weight)) for _, change in changes)
    return at_most(
        weighing.id,
        changed,
        _NEGLIGIBLE_LB,
        "lb",
        f"{changed:.1f} lb went in or came out since {weighing.day}: {', '.join(c.id for c, _ in changes)}",
        _largest(changes).at("weight"),
        weighing.at("day"),
        working=lambda: [f"{c.id}: {pounds(b.weight):+.2f} lb at {inches(b.arm):.2f} in" for c, b in changes],
    )


def _largest(changes: list[tuple[Component, Body]]) -> Component:
    return max(changes, key=lambda change: abs(change[1].weight))[0]


def _arm_moved(aircraft: Aircraft, weighing: Weighing, body: Body, changes: list[tuple[Component, Body]]) -> Finding:
    chord = aircraft.limits.mean_chord if aircraft.limits else None
    where = _largest(changes).at("arm")
    if chord is None:
        return no_data(weighing.id, "the mean chord is not recorded", aircraft.at("limits"), where)
    after = total([body, *(change for _, change in changes)])
    moved, limit = abs(inches(after.arm - body.arm)), _NEGLIGIBLE_SHARE * chord.to("in")
    return at_most(
        weighing.id,
        moved,
        limit,
        "in",
        f"the empty centre of gravity has moved {inches(after.arm - body.arm):+.3f} in since {weighing.day}",
        where,
        weighing.at("day"),
        working=lambda: [
            f"weighed {pounds(body.weight):.1f} lb at {inches(body.arm):.3f} in",
            f"now {pounds(after.weight):.1f} lb at {inches(after.arm):.3f} in",
            f"0.05 % of {chord} is {limit:.4f} in",
        ],
    )


_CALIBRATION_DAYS = 366  # practice-scales-year


@rule(
    "weights/scales-calibrated",
    title="Scales in calibration",
    asks="Were the scales calibrated within the year before the latest weighing?",
    references=("ac43-10-15-e", "practice-scales-year"),
    due=Stage.SYSTEMS,
    remedy="Have the scales calibrated, and weigh again.",
    at_worst=Verdict.WARN,
)
def scales_are_calibrated(weights: Weights) -> Iterator[Finding]:
    """AC 43.13-1B asks for a current calibration and does not say how old it may be: a year is common practice, no source."""
    weighing = latest(weights)
    if weighing is None:
        raise MissingRecord("no weighing is recorded", weights.at("weighings"))
    if weighing.calibrated is None:
        yield no_data(weighing.id, "the day of the scales' calibration is not recorded", weighing.at())
        return
    age = (weighing.day - weighing.calibrated).days
    if age < 0:
        yield warns(
            weighing.id,
            f"weighed on {weighing.day}, before the scales were calibrated on {weighing.calibrated}",
            weighing.at("calibrated"),
            remedy="Record the calibration that held on the day of the weighing.",
        )
        return
    yield at_most(
        weighing.id,
        age,
        _CALIBRATION_DAYS,
        "d",
        f"the scales were calibrated {age} days before the weighing",
        weighing.at("calibrated"),
        weighing.at("day"),
    )
