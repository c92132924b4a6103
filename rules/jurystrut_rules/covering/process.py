"""Were the steps of covering done in order, and was every pot used in time?"""

from __future__ import annotations

from datetime import timedelta
from typing import TYPE_CHECKING

from jurystrut.rulebook import Finding, Stage, Verdict, at_most, no_data, not_applicable, passes, rule, warns

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from jurystrut.records.covering import Application, Covering, Product

__all__ = ["pot_used_in_time", "steps_in_order"]


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
            lacking = "when the pot was mixed" if entry.mixed is None else "when the application ended"
            yield no_data(entry.id, f"not logged: {lacking}", entry.at(), product.at("pot_life"))
        else:
            hours = (entry.finished - entry.mixed) / timedelta(hours=1)
            message = f"used up {hours:.1f} h after mixing; the pot life of {product.id} is {product.pot_life}"
            where = (entry.at("mixed"), product.at("pot_life"))
            yield at_most(entry.id, hours, product.pot_life.to("h"), "h", message, *where)


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
