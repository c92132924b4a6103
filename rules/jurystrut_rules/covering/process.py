"""Were the steps of covering done in order, and was every pot mixed right, used in time and tried on a strip?"""

from __future__ import annotations

from datetime import timedelta
from itertools import repeat
from typing import TYPE_CHECKING

from jurystrut.rulebook import (
    Finding,
    MissingRecord,
    Stage,
    Verdict,
    at_least,
    at_most,
    fails,
    no_data,
    not_applicable,
    passes,
    rule,
    warns,
)
from jurystrut_rules.lacking import lacking

if TYPE_CHECKING:
    import datetime
    from collections.abc import Iterator, Mapping

    from jurystrut.records.covering import Application, Covering, Product
    from jurystrut.records.fabric import TestStrip

__all__ = ["log_runs_forward", "pot_mixed_right", "pot_used_in_time", "steps_in_order", "strips_hold"]


@rule(
    "covering/pot-life",
    title="Pot used in time",
    asks="Was every mixed pot used up within its product's declared pot life?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Test the bond and the hardness; redo the coat where the manual says so.",
)
def pot_used_in_time(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """From mixing to the end of the application must pass no more than the pot life that the product's manual gives.

    Products without a declared pot life are taken as ready for use: they are not mixed.
    """
    mixed = [entry for entry in covering.applications if products[entry.product].pot_life or entry.mixed]
    if not mixed:
        yield not_applicable("aircraft", "no product is one that is mixed", covering.at("products"))
    for entry in mixed:
        product = products[entry.product]
        if product.pot_life is None:
            yield no_data(entry.id, f"the pot life of {product.id} is not declared", product.at(), entry.at())
        elif entry.mixed is None or entry.finished is None:
            unknown = "when the pot was mixed" if entry.mixed is None else "when the application ended"
            yield no_data(entry.id, f"not logged: {unknown}", entry.at(), product.at("pot_life"))
        else:
            hours = (entry.finished - entry.mixed) / timedelta(hours=1)
            message = f"used up {hours:.1f} h after mixing; the pot life of {product.id} is {product.pot_life}"
            where = (entry.at("mixed"), product.at("pot_life"))
            yield at_most(entry.id, hours, product.pot_life.to("h"), "h", message, *where)


@rule(
    "covering/log-times",
    title="Times of the log",
    asks="Was every pot mixed before it was used, every step begun before it ended, and neither after today?",
    references=("own-consistency",),
    due=Stage.COVERING,
    remedy="Correct the time or the day that is wrong.",
)
def log_runs_forward(covering: Covering, day: datetime.date) -> Iterator[Finding]:
    """Times that run backwards would make pot life and recoat windows look kept. A batch cannot be used before it was made."""
    if not covering.applications:
        raise MissingRecord("no application is recorded", covering.at("applications"))
    made = {batch.id: batch.made for batch in covering.batches}
    for entry in covering.applications:
        yield _forward(entry, made.get(entry.batch or ""), day)


def _forward(entry: Application, made: datetime.date | None, today: datetime.date) -> Finding:
    if entry.mixed and entry.mixed > entry.started:
        return fails(
            entry.id, f"mixed {entry.mixed:%Y-%m-%d %H:%M}, after it was begun", entry.at("mixed"), entry.at("started")
        )
    if entry.finished and entry.finished < entry.started:
        return fails(
            entry.id,
            f"ended {entry.finished:%Y-%m-%d %H:%M}, before it was begun",
            entry.at("finished"),
            entry.at("started"),
        )
    if entry.started.date() > today:
        return fails(entry.id, f"begun {entry.started:%Y-%m-%d %H:%M}, a day yet to come", entry.at("started"))
    if entry.finished and entry.finished.date() > today:
        return fails(entry.id, f"ended {entry.finished:%Y-%m-%d %H:%M}, a day yet to come", entry.at("finished"))
    if made and made > entry.started.date():
        return fails(entry.id, f"its batch was made {made}, after it was used", entry.at("batch"), entry.at("started"))
    return passes(entry.id, f"begun {entry.started:%Y-%m-%d %H:%M}", entry.at("started"))


@rule(
    "covering/mix",
    title="Mixed as the manual says",
    asks="Was every pot mixed in the parts that its product's manual gives?",
    references=("declared-manual",),
    due=Stage.COVERING,
    remedy="Test the hardness; redo the coat where it stayed soft or is brittle.",
)
def pot_mixed_right(covering: Covering, products: Mapping[str, Product]) -> Iterator[Finding]:
    """The parts measured out, by the measure that the manual uses, are held against its parts: each in proportion to the first.
    How far one may be off is declared too; where it is not, any difference is warned of.
    """
    mixed = [entry for entry in covering.applications if products[entry.product].mix or entry.mix]
    if not mixed:
        yield not_applicable("aircraft", "no product is one that is mixed from parts", covering.at("products"))
    for entry in mixed:
        yield _mixed(entry, products[entry.product])


def _mixed(entry: Application, product: Product) -> Finding:
    if not product.mix:
        return no_data(
            entry.id,
            f"the parts of {product.id} are not declared",
            product.at(),
            entry.at("mix"),
            remedy="Declare 'mix' from its manual.",
        )
    if not entry.mix:
        return lacking(entry, "mix", f", and {product.id} is mixed")
    declared, measured = (":".join(f"{part:g}" for part in parts) for parts in (product.mix, entry.mix))
    if len(product.mix) != len(entry.mix) or min(*product.mix, *entry.mix) <= 0:
        words = f"{measured} measured out and {declared} declared: not the same parts, or one is nothing"
        return fails(entry.id, words, entry.at("mix"), product.at("mix"), remedy="Correct the parts that are wrong.")
    off = round(100 * max(map(_off, entry.mix, product.mix, repeat(entry.mix[0] / product.mix[0]))), 6)
    most = product.mix_tolerance.to("%") if product.mix_tolerance else 0.0
    words = f"{measured} measured out; the manual of {product.id} gives {declared}, so one part is {off:.1f} % off"
    otherwise = Verdict.FAIL if product.mix_tolerance else Verdict.WARN
    return at_most(entry.id, off, most, "%", words, entry.at("mix"), product.at("mix"), otherwise=otherwise)


def _off(measured: float, declared: float, scale: float) -> float:
    return abs(measured / (declared * scale) - 1)


@rule(
    "covering/test-strip",
    title="Test strip of every batch",
    asks="Has a strip of every batch of cement held what its manual asks for?",
    references=("declared-manual", "own-consistency"),
    due=Stage.COVERING,
    remedy="Cement a strip from the batch, and pull it apart when it has cured; where it is weak, do not fly on that batch.",
)
def strips_hold(covering: Covering) -> Iterator[Finding]:
    """Asked of every batch that was used of a product whose manual declares what a strip must hold. Where several strips of a
    batch were pulled, each counts.
    """
    least = {product.id: product for product in covering.products if product.least_peel}
    used = {entry.batch for entry in covering.applications}
    batches = [batch for batch in covering.batches if batch.product in least and batch.id in used]
    if not batches:
        yield not_applicable("aircraft", "no product declares what a test strip must hold", covering.at("products"))
    strips: dict[str, list[TestStrip]] = {}
    for strip in covering.strips:
        strips.setdefault(strip.batch, []).append(strip)
    for batch in batches:
        if batch.id not in strips:
            words = f"no test strip of batch {batch.id} is recorded"
            yield no_data(batch.id, words, batch.at(), remedy="Make one, and record it under 'strips'.")
        for strip in strips.get(batch.id, ()):
            yield _pulled(strip, batch.id, least[batch.product])


def _pulled(strip: TestStrip, batch: str, product: Product) -> Finding:
    if strip.peel is None or strip.tested is None:
        return lacking(strip, "peel" if strip.peel is None else "tested")._replace(subject=batch)
    assert product.least_peel is not None
    words = f"{strip.id} held {strip.peel} on {strip.tested}; the manual of {product.id} asks for {product.least_peel}"
    have, wanted = strip.peel.to("lb/in"), product.least_peel.to("lb/in")
    return at_least(batch, have, wanted, "lb/in", words, strip.at("peel"), product.at("least_peel"))


_ORDER = ("prime", "cement", "shrink", "first-coat", "lacing", "tapes", "fill", "build", "colour", "clear")


@rule(
    "covering/step-order",
    title="Steps in order",
    asks="Were the steps on every surface done in the usual order?",
    references=("practice-covering-order", "declared-manual"),
    due=Stage.COVERING,
    remedy="Compare with the covering manual; where it orders the steps so, record a deviation with its page.",
    at_worst=Verdict.WARN,
)
def steps_in_order(covering: Covering) -> Iterator[Finding]:
    """Cement, shrinking, first coat, lacing, tapes, fill, build, colour, clear: common practice, no source, so it only warns.

    A repair stands outside the order. A later step that was already begun when an earlier one follows is told.
    """
    furthest: dict[str, Application] = {}
    for entry in sorted(covering.applications, key=lambda entry: (entry.started, entry.id)):
        if entry.step is None:
            yield no_data(entry.id, "which step it was is not logged", entry.at(), remedy="Record 'step'.")
        elif entry.step == "repair":
            yield not_applicable(entry.id, "a repair stands outside the order", entry.at("step"))
        else:
            before = furthest.get(entry.surface)
            if before and before.step and _ORDER.index(before.step) > _ORDER.index(entry.step):
                yield warns(
                    entry.id, f"{entry.step} after {before.step} ({before.id})", entry.at("step"), before.at("step")
                )
                continue
            furthest[entry.surface] = entry
            yield passes(entry.id, f"{entry.step} on {entry.surface}", entry.at("step"))
