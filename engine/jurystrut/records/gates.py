"""The builder's own choice of what stops a commit, in the file `.jurystrut.yaml` beside the records."""

from typing import Annotated, Literal

from pydantic import Field

from jurystrut.quantities import Ratio
from jurystrut.records.aircraft import Stage
from jurystrut.records.base import Record
from jurystrut.records.fields import Count, Day, Text

__all__ = ["GATES_FILE", "Gate", "Gates", "KeptMargin", "Known"]

GATES_FILE = ".jurystrut.yaml"
"""Where a builder sets up gates, in the folder of the records."""


class Gate(Record):
    """Verdicts that stop a commit."""

    stops: tuple[Literal["warn", "no-data", "fail"], ...]
    """The verdicts, for example [fail]."""
    domains: tuple[Text, ...] = ()
    """The domains in which it holds, all where left out, for example [electrical]."""
    from_: Annotated[Stage | None, Field(alias="from")] = None
    """The first stage at which it holds, for example systems."""
    before: Stage | None = None
    """The stage at which it holds no more, for example operating."""


class KeptMargin(Record):
    """A margin that must be kept where a rule compares figures."""

    rule: Text
    """A rule or a whole domain, such as weights, for example electrical/voltage-drop."""
    keep: Ratio
    """How much of the limit must be left, for example 10 %."""
    from_: Annotated[Stage | None, Field(alias="from")] = None
    """The first stage at which it holds, for example systems."""


class Known(Record):
    """A finding that is known and must not stop a commit for a while; what is more or worse than this does."""

    rule: Text
    """The rule, for example electrical/load-circuit."""
    subject: Text
    """The subject, for example FUELQ."""
    verdict: Literal["warn", "no-data", "fail"]
    """The verdict that is known, for example warn."""
    findings: Count = 1
    """How many findings of this rule and subject are known, for example 1."""
    reason: Text
    """Why it may wait, for example the switch is on order."""
    until: Day
    """The last day on which it counts, at most a year ahead, for example 2027-03-01."""


class Gates(Record):
    """The whole file."""

    gates: tuple[Gate, ...] = ()
    """What stops a commit; [fail] alone where left out."""
    margins: tuple[KeptMargin, ...] = ()
    """Margins that must be kept."""
    baseline: tuple[Known, ...] = ()
    """Findings that are known; this list may not grow by itself."""
