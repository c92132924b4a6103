"""What the rules on installed wiring share: a published figure, what was measured against it, and how that is told."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from jurystrut.rulebook import Finding, Verdict, at_least, at_most, no_data

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from jurystrut.positions import Spot
    from jurystrut.quantities import Length
    from jurystrut.records.electrical import Bundle, Electrical
    from jurystrut.records.installed import Installed

__all__ = ["Figure", "each_bundle", "inches", "said", "within"]


class Figure(NamedTuple):
    """A published limit: its value, its unit, and where it stands, with how that is known."""

    value: float
    unit: str
    source: str

    def __str__(self) -> str:
        return f"{self.value:g} {self.unit}"


def inches(length: Length | None) -> float:
    """A length in inches; the caller has made sure that it is recorded."""
    assert length is not None
    return length.to("in")


def within(
    subject: str,
    measured: float,
    figure: Figure,
    message: str,
    *where: Spot,
    least: bool = False,
    remedy: str,
    derived: str = "",
) -> Finding:
    """Hold what was measured against a published figure, at most or `least`; the message is begun by the caller and ends with
    the limit, and the working shows recorded value, limit, source and margin. `derived` says how the limit came about.
    """
    margin = measured - figure.value if least else figure.value - measured
    bound = "least" if least else "most"
    judge = at_least if least else at_most
    return judge(
        subject,
        measured,
        figure.value,
        figure.unit,
        f"{message}; {figure} is the {bound}",
        *where,
        remedy=remedy,
        working=lambda: [
            f"recorded: {measured:g} {figure.unit}",
            *([derived] if derived else []),
            f"the {bound}: {figure} ({figure.source})",
            f"margin: {margin:g} {figure.unit}",
        ],
    )


def each_bundle(
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


def said(
    subject: str, message: str, spot: Spot, *, good: bool, source: str, recorded: str, wanted: str, remedy: str
) -> Finding:
    """What the builder saw and recorded in words or as true or false, against what a source wants.

    A pass or a failure; the working shows the record, what is wanted, and where that stands.
    """
    verdict = Verdict.PASS if good else Verdict.FAIL
    return Finding(
        verdict,
        subject,
        message,
        (spot,),
        remedy="" if good else remedy,
        working=lambda: [f"recorded: {recorded}", f"wanted: {wanted} ({source})"],
    )
