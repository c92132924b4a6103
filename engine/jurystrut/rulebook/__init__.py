"""All that a rule pack needs: how a rule is declared, what a finding is, which published sources exist."""

from __future__ import annotations

from jurystrut.errors import MissingRecord, PackError
from jurystrut.positions import Spot
from jurystrut.records.aircraft import Stage
from jurystrut.rulebook.book import Rulebook, installed_packs, load
from jurystrut.rulebook.findings import (
    Amount,
    Finding,
    Limit,
    Sound,
    at_least,
    at_most,
    between,
    fails,
    later_if,
    no_data,
    not_applicable,
    passes,
    told,
    warns,
)
from jurystrut.rulebook.references import Reference, Registry
from jurystrut.rulebook.rules import Fact, Pack, Parameter, Rule, declared_in, fact, plain_fact, rule
from jurystrut.rulebook.tables import Table, read_table
from jurystrut.rulebook.verdicts import Verdict, counted, worst

__all__ = [
    "Amount",
    "Fact",
    "Finding",
    "Limit",
    "MissingRecord",
    "Pack",
    "PackError",
    "Parameter",
    "Reference",
    "Registry",
    "Rule",
    "Rulebook",
    "Sound",
    "Spot",
    "Stage",
    "Table",
    "Verdict",
    "at_least",
    "at_most",
    "between",
    "counted",
    "declared_in",
    "fact",
    "fails",
    "installed_packs",
    "later_if",
    "load",
    "no_data",
    "not_applicable",
    "passes",
    "plain_fact",
    "read_table",
    "rule",
    "told",
    "warns",
    "worst",
]
