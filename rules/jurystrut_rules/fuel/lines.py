"""Are fuel lines clear of wires and exhaust, held, slack enough, and not too old; and does the firewall keep fire out?"""

from __future__ import annotations

import datetime
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Table,
    Verdict,
    at_least,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    read_table,
    rule,
    warns,
)
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    from collections.abc import Iterator

    from jurystrut.records.aircraft import Aircraft
    from jurystrut.records.fuel import Firewall, Fuel, Line

__all__ = [
    "firewall_holds_fire",
    "firewall_is_closed",
    "firewall_thickness",
    "hose_has_slack",
    "hose_is_not_too_old",
    "line_is_below_wiring",
    "line_is_held",
    "line_off_exhaust",
    "line_off_wiring",
    "tube_support",
]

_FOLDER = Path(__file__).parents[1] / "tables" / "fuel"
_TO_WIRING = 6.0  # ac43-11-96-w: inches
_CLAMPED_TO_WIRING = 2.0  # ac43-11-96-w: inches, with close clamping
_EXHAUST_SHIELDED, _EXHAUST_BARE = 1.0, 3.0  # practice-exhaust: inches
_CUSTOMARY_LIFE = 5  # practice-hose-life: years; 5 to 8 are customary, and the shorter errs to safety
_HOSE_SPAN = 24.0  # navy-14105: inches
_SLACK = (5.0, 8.0)  # navy-14105: %


@cache
def _table(name: str) -> Table:
    return read_table(_FOLDER / f"{name}.yaml")


def tube_support(diameter: float, material: str) -> float | None:
    """The longest span of a tube in inches, by its diameter in inches; None for a tube that the table does not hold."""
    for row in _table("tube_support").rows:
        if abs(float(Fraction(str(row["diameter"]))) - diameter) < 0.0011:  # own-reading-precision
            return float(str(row[material]))
    return None


def firewall_thickness(material: str) -> float | None:
    """The thinnest sheet in inches that needs no flame test; None for a material that is not listed."""
    return next((float(str(row["thickness"])) for row in _table("firewall").rows if row["material"] == material), None)


def _lines(fuel: Fuel) -> tuple[Line, ...]:
    if not fuel.lines:
        raise MissingRecord("no fuel line is recorded", fuel.at())
    return fuel.lines


def _no_wiring(line: Line, aircraft: Aircraft) -> Finding | None:
    """Says that no wiring is aboard, where the aircraft is recorded as one without; None where there may be some."""
    if "electrical" in aircraft.without:
        return not_applicable(line.id, "this aircraft is recorded as one without electrical wiring", line.at())
    return None


@rule(
    "fuel/line-to-wiring",
    title="Fuel line and wiring",
    asks="Does every fuel line keep 6 in from power wiring, or 2 in where both are clamped?",
    references=("ac43-11-96-w",),
    due=Stage.SYSTEMS,
    remedy="Move the wiring, or clamp both so that they cannot touch.",
)
def line_off_wiring(fuel: Fuel, aircraft: Aircraft) -> Iterator[Finding]:
    """AC 43.13-1B paragraph 11-96w: 6 in, at the very least 2 in with close clamping. A spark beside a leak is a fire.

    An aircraft without an electrical system has no power wiring to keep off; what is recorded of other wires is judged.
    """
    for line in _lines(fuel):
        if line.to_wiring is None:
            yield _no_wiring(line, aircraft) or lacking(line, "to_wiring")
            continue
        have, least = line.to_wiring.to("in"), _CLAMPED_TO_WIRING if line.wiring_clamped else _TO_WIRING
        message = f"{have:g} in to wiring, {'both clamped' if line.wiring_clamped else 'not recorded as clamped'}"
        yield at_least(line.id, have, least, "in", message, line.at("to_wiring"))


@rule(
    "fuel/line-below-wiring",
    title="Fuel line below wiring",
    asks="Does every fuel line run below the wiring that it passes?",
    references=("ac43-8-31-b",),
    due=Stage.SYSTEMS,
    remedy="Swap them, or part them.",
    at_worst=Verdict.WARN,
)
def line_is_below_wiring(fuel: Fuel, aircraft: Aircraft) -> Iterator[Finding]:
    """A leak drips down. A line farther than 6 in from all wiring passes none. AC 43.13-1B paragraph 8-31b at second hand."""
    for line in _lines(fuel):
        if line.to_wiring is not None and line.to_wiring.to("in") > _TO_WIRING:
            yield not_applicable(line.id, f"{line.to_wiring} from all wiring", line.at("to_wiring"))
        elif line.below_wiring is None:
            yield _no_wiring(line, aircraft) or lacking(line, "below_wiring")
        else:
            say = passes if line.below_wiring else fails
            yield say(line.id, f"{'below' if line.below_wiring else 'not below'} the wiring", line.at("below_wiring"))


@rule(
    "fuel/line-to-exhaust",
    title="Fuel line and exhaust",
    asks="Does every fuel line keep as far from the exhaust as its manual asks, or 3 in, or 1 in behind a shield?",
    references=("practice-exhaust", "declared-drawing", "ac43-8-49"),
    due=Stage.SYSTEMS,
    remedy="Move the line, or fit a shield.",
)
def line_off_exhaust(fuel: Fuel) -> Iterator[Finding]:
    """Exhaust parts run at 1000 degF and more. A distance that a manual asks for decides. AC 43.13-1B gives none; without one,
    3 in and 1 in serve as a warning, common practice, no source, and a line that touches fails, as nothing may chafe there.
    A line without 'to_exhaust' is taken as one that comes nowhere near.
    """
    for line in _lines(fuel):
        if line.to_exhaust is None:
            yield not_applicable(line.id, "it is not recorded as coming near the exhaust", line.at())
        elif line.least_to_exhaust is not None and line.manual is None:
            yield lacking(line, "manual", ", which gives its least distance")
        else:
            yield _off_exhaust(line, line.to_exhaust.to("in"))


def _off_exhaust(line: Line, have: float) -> Finding:
    declared = line.least_to_exhaust
    custom = _EXHAUST_SHIELDED if line.shielded else _EXHAUST_BARE
    least = declared.to("in") if declared else custom
    words = f"{have:g} in to the exhaust, {'shielded' if line.shielded else 'without a shield'}"
    words += f"; {line.manual} asks for {declared}" if declared else ""
    otherwise = Verdict.FAIL if declared or have <= 0 else Verdict.WARN
    where = line.at("to_exhaust"), *([line.at("least_to_exhaust")] if declared else [])
    return at_least(line.id, have, least, "in", words, *where, otherwise=otherwise)


@rule(
    "fuel/hose-age",
    title="Age of hoses",
    asks="Is every hose within the life that its maker or the builder gives it?",
    references=("practice-hose-life",),
    due=Stage.SYSTEMS,
    remedy="Fit a new hose.",
)
def hose_is_not_too_old(fuel: Fuel, day: datetime.date) -> Iterator[Finding]:
    """A declared life decides. Where none is declared, five years serve as a warning: custom is five to eight, no source."""
    for line in _lines(fuel):
        if line.kind != "hose":
            yield (
                lacking(line, "kind")
                if line.kind is None
                else not_applicable(line.id, f"a {line.kind}", line.at("kind"))
            )
        elif line.made is None:
            yield lacking(line, "made")
        elif line.made > day:
            yield fails(line.id, f"made {line.made}, a day yet to come", line.at("made"), remedy="Correct the day.")
        else:
            yield _aged(line, line.made, day)


def _aged(line: Line, made: datetime.date, day: datetime.date) -> Finding:
    declared = line.life is not None
    life = line.life if line.life is not None else _CUSTOMARY_LIFE
    past = day > _after(made, life)
    years = day.year - made.year - ((day.month, day.day) < (made.month, made.day))
    message = f"made {made}, {years} years old; {life} years by {'declaration' if declared else 'custom'}"
    if not past:
        return passes(line.id, message, line.at("made"))
    return (fails if declared else warns)(line.id, message, line.at("made"))


def _after(made: datetime.date, years: int) -> datetime.date:
    """The last day of a life in years; of 29 February, the 28th."""
    last = 28 if (made.month, made.day) == (2, 29) else made.day  # arithmetic
    return datetime.date(min(made.year + years, datetime.MAXYEAR), made.month, last)


@rule(
    "fuel/hose-slack",
    title="Slack of hoses",
    asks="Has every hose 5 to 8 % slack?",
    references=("navy-14105",),
    due=Stage.SYSTEMS,
    remedy="Make the hose anew, 5 to 8 % longer than the way between its fittings.",
)
def hose_has_slack(fuel: Fuel) -> Iterator[Finding]:
    """A hose shortens by up to 4 % under pressure (AC 43.13-1B figure 9-9) and pulls on its fittings. Less than 5 % fails,
    more than 8 % is warned of.
    """
    for line in _lines(fuel):
        if line.kind != "hose":
            yield (
                lacking(line, "kind")
                if line.kind is None
                else not_applicable(line.id, f"a {line.kind}", line.at("kind"))
            )
        elif line.length is None or line.straight is None or line.straight.si <= 0:
            yield lacking(line, "length" if line.length is None else "straight")
        else:
            slack = round(100 * (line.length.si / line.straight.si - 1), 6)
            message = f"{line.length} of hose over {line.straight}: {slack:.1f} % slack"
            if slack > _SLACK[1]:
                yield at_most(line.id, slack, _SLACK[1], "%", message, line.at("length"), otherwise=Verdict.WARN)
            else:
                yield at_least(line.id, slack, _SLACK[0], "%", message, line.at("length"))


@rule(
    "fuel/line-support",
    title="Lines are held",
    asks="Is every line held often enough?",
    references=("navy-14105", "amt-tube-support"),
    due=Stage.SYSTEMS,
    remedy="Fit a clamp in the middle of the longest span.",
)
def line_is_held(fuel: Fuel) -> Iterator[Finding]:
    """A hose at least every 24 in (Navy text, read). A tube by its material and diameter, from a table known from memory, so that
    a long span of tube is warned of at most.
    """
    for line in _lines(fuel):
        yield _held(line)


def _held(line: Line) -> Finding:
    if line.kind is None or line.longest_span is None:
        return lacking(line, "kind" if line.kind is None else "longest_span")
    span = line.longest_span.to("in")
    if line.kind == "hose":
        return at_most(
            line.id, span, _HOSE_SPAN, "in", f"{span:g} in of hose between supports", line.at("longest_span")
        )
    if line.diameter is None:
        return lacking(line, "diameter")
    limit = tube_support(line.diameter.to("in"), line.kind.removesuffix("-tube"))
    if limit is None:
        return no_data(
            line.id, f"the table has no tube of {line.diameter}", line.at("diameter"), remedy="Ask the designer."
        )
    message = f"{span:g} in of {line.kind} of {line.diameter} between supports"
    return at_most(line.id, span, limit, "in", message, line.at("longest_span"), otherwise=Verdict.WARN)


def _firewall(fuel: Fuel) -> Firewall:
    if fuel.firewall is None:
        raise MissingRecord("the firewall is not recorded", fuel.at())
    return fuel.firewall


@rule(
    "fuel/firewall-sheet",
    title="Firewall sheet",
    asks="Is the firewall of a metal and thickness that needs no flame test, or was it tested?",
    references=("23-1191-h",),
    due=Stage.STRUCTURE,
    remedy="Fit a sheet that is listed, or test it for 15 minutes at 2000 degF and keep the evidence.",
)
def firewall_holds_fire(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.1191(h) lists five; whatever else there is needs the test of (f) and (g). A yardstick for an amateur-built
    aircraft.
    """
    wall = _firewall(fuel)
    if wall.material is None or wall.thickness is None:
        field = "material" if wall.material is None else "thickness"
        raise MissingRecord(f"the firewall's {field} is not recorded", wall.at())
    have, least = wall.thickness.to("in"), firewall_thickness(wall.material)
    if wall.flame_test and (least is None or have < least):
        yield passes("firewall", f"{wall.material} of {have:.3f} in, tested: {wall.flame_test}", wall.at("flame_test"))
    elif least is None:
        yield fails("firewall", f"{wall.material} is not among the metals that need no flame test", wall.at("material"))
    else:
        message = f"{wall.material} of {have:.3f} in; from {least:.3f} in it needs no flame test"
        yield at_least("firewall", have, least, "in", message, wall.at("thickness"))


@rule(
    "fuel/firewall-openings",
    title="Firewall is closed",
    asks="Is every hole in the firewall closed with something fireproof?",
    references=("23-1191-b",),
    due=Stage.ENGINE_RUN,
    remedy="Close it with a steel fitting and fireproof sealant, and record that.",
    at_worst=Verdict.WARN,
)
def firewall_is_closed(fuel: Fuel) -> Iterator[Finding]:
    """Old 23.1191(b) to (e) from memory, so this warns at most. Whether the words recorded name something fireproof, you
    judge.
    """
    wall = _firewall(fuel)
    if not wall.openings:
        raise MissingRecord(
            "no opening in the firewall is recorded; cables, wires and hoses go through somewhere", wall.at()
        )
    for opening in wall.openings:
        if opening.sealed_with is None:
            yield lacking(opening, "sealed_with")
        else:
            yield passes(opening.id, f"closed with {opening.sealed_with}", opening.at("sealed_with"))
