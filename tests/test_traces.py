"""From rules to their tests: gaps are planted, and each must be found."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

from jurystrut.rulebook import Finding, Rulebook, Verdict, at_most, fails, no_data, not_applicable, passes
from jurystrut.testing import findings, installed, watchers
from jurystrut.traces import Observed, Traces, gaps, observe, shown

if TYPE_CHECKING:
    from pathlib import Path

RULE = "electrical/wire-protection"
"""A rule that compares figures; the calculation behind it is compared with networkx in its own tests."""
MODULE = "tests/rules/test_it.py"


def book(**changes: object) -> Rulebook:
    """A book of the one rule, and of the sources that it cites."""
    (rule,) = (rule for rule in installed().rules if rule.id == RULE)
    rule = rule._replace(**changes)  # type: ignore[arg-type]
    references = {name: installed().references[name] for name in rule.references}
    return Rulebook((rule,), {}, references, ())


def amperes(measured: float) -> Finding:
    return at_most("W1", measured, 10, "A", "so much")


CASES = {
    "test_sound": amperes(5),
    "test_far_over": amperes(20),
    "test_over[1]": amperes(10.1),
    "test_exactly": amperes(10),
    "test_unknown": no_data("W1", "not recorded"),
}
PLAIN = {
    "test_sound": passes("W1", "so it is"),
    "test_unsound": fails("W1", "so it is not"),
    "test_unknown": no_data("W1", "not recorded"),
}
LIBRARIES = {"networkx": {"jurystrut.calculations.circuit"}, "psychrolib": {"jurystrut.calculations.atmosphere"}}


def traces(cases: dict[str, Finding], oracle: str = "ac43-table-11-9") -> Traces:
    observed = [
        Observed(f"{MODULE}::{test}", (finding,), number) for number, (test, finding) in enumerate(cases.items())
    ]
    return Traces({RULE: observed}, {MODULE: {oracle: RULE}}, {}, {RULE: ["thinner"]}, LIBRARIES)


def found(planted: Traces, one: Rulebook | None = None, used: set[str] = frozenset()) -> list[str]:  # type: ignore[assignment]
    return list(gaps(one or book(), planted, used))


def test_a_rule_with_all_its_tests_has_no_gap() -> None:
    assert found(traces(CASES)) == []
    assert shown(RULE, traces(CASES)) == {
        "passes": f"{MODULE}::test_sound",
        "just over": f"{MODULE}::test_over",
        "exactly at": f"{MODULE}::test_exactly",
        "no data": f"{MODULE}::test_unknown",
    }


@pytest.mark.parametrize(
    ("left_out", "kind"),
    [
        ("test_exactly", "exactly at"),
        ("test_unknown", "no data"),
    ],
)
def test_a_missing_kind_of_test_is_a_gap(left_out: str, kind: str) -> None:
    cases = {test: finding for test, finding in CASES.items() if test != left_out}
    assert found(traces(cases)) == [f"{RULE}: no test shows: {kind}"]


def test_nothing_unsound_is_a_gap_and_nothing_sound_two() -> None:
    sound = {test: finding for test, finding in CASES.items() if finding.verdict is not Verdict.FAIL}
    assert found(traces(sound)) == [f"{RULE}: no test shows: just over"]
    unsound = {test: finding for test, finding in CASES.items() if finding.verdict is not Verdict.PASS}
    assert found(traces(unsound)) == [f"{RULE}: no test shows: {kind}" for kind in ("passes", "exactly at")]


@pytest.mark.parametrize("third", [passes("W1", "so it is"), not_applicable("W1", "it need not be")])
def test_without_figures_a_second_sound_case_is_the_third(third: Finding) -> None:
    assert found(traces(PLAIN, "nothing computed")) == [f"{RULE}: no test shows: exactly at"]
    assert found(traces({**PLAIN, "test_also_sound": third}, "nothing computed")) == []


def test_the_same_records_asked_twice_are_no_second_case() -> None:
    twice = traces({**PLAIN, "test_again": PLAIN["test_sound"]}, "nothing computed")
    same = {RULE: [case._replace(judged=0) for case in twice.observed[RULE]]}
    assert found(twice._replace(observed=same)) == [f"{RULE}: no test shows: exactly at"]


def test_what_another_module_happens_to_judge_shows_nothing() -> None:
    elsewhere = traces(CASES)._replace(oracles={"tests/rules/test_other.py": {"ac43-table-11-9": RULE}})
    assert f"{RULE}: no test shows: passes" in found(elsewhere)
    assert f"{RULE}: tests/rules/test_other.py names it, and no test there judges it" in found(elsewhere)


def test_a_rule_without_a_late_change_is_a_gap() -> None:
    assert found(traces(CASES)._replace(late={})) == [f"{RULE}: no test shows: late change"]


def test_an_excuse_closes_a_gap_and_is_one_itself_once_the_case_is_there() -> None:
    cases = {test: finding for test, finding in CASES.items() if test != "test_unknown"}
    excused = {MODULE: {RULE: {"no data": "nothing can be missing"}}}
    assert found(traces(cases)._replace(no_such_case=excused)) == []
    assert found(traces(CASES)._replace(no_such_case=excused)) == [
        f"{RULE}: it is said to have no such case as: no data, and has one"
    ]
    misspelt = {MODULE: {RULE: {"nodata": "nothing can be missing"}}}
    assert found(traces(CASES)._replace(no_such_case=misspelt)) == [f"{RULE}: there is no kind of case: nodata"]


@pytest.mark.parametrize(
    ("oracle", "gap"),
    [
        ("networkx", None),
        ("own arithmetic", None),
        (
            "psychrolib",
            "the oracle psychrolib is no source, and no library that a calculation behind it is tested against",
        ),
        (
            "ac43-table-119",
            "the oracle ac43-table-119 is no source, and no library that a calculation behind it is tested against",
        ),
        ("nothing computed", "its tests compare figures, and say: nothing computed"),
    ],
)
def test_an_oracle_is_a_source_or_a_library_that_the_calculation_is_compared_with(oracle: str, gap: str | None) -> None:
    assert found(traces(CASES, oracle)) == ([f"{RULE}: {gap}"] if gap else [])


@pytest.mark.parametrize(
    ("oracle", "others", "is_gap"),
    [
        ("ac43-table-2-1", "covering/fabric-grade", False),  # of the circular, as what the rule cites
        ("tso-c30c", "", False),  # nothing rests on it: an independent second source
        (
            "tso-c30c",
            "lighting/night-approval",
            True,
        ),  # another rule's source, of a document that this one does not know
    ],
)
def test_an_oracle_is_of_a_document_that_the_rule_rests_on_or_stands_alone(
    oracle: str, others: str, is_gap: bool
) -> None:
    rules = (*book().rules, *(rule for rule in installed().rules if rule.id == others))
    gap = f"{RULE}: its oracle {oracle} is of a document that it does not rest on"
    assert (gap in found(traces(CASES, oracle), Rulebook(rules, {}, installed().references, ()))) is is_gap


def test_no_oracle_and_an_unknown_rule_are_gaps() -> None:
    silent = traces(CASES)._replace(oracles={MODULE: {}})
    assert f"{RULE}: its tests name no oracle" in found(silent)
    strange = traces(CASES)._replace(oracles={MODULE: {"ac43-table-11-9": f"{RULE} electrical/wire-protect"}})
    assert found(strange) == [f"{MODULE}: there is no rule electrical/wire-protect"]
    late = traces(CASES)._replace(late={RULE: ["thinner"], "electrical/wires": ["thicker"]})
    assert found(late) == ["late change thicker: there is no rule electrical/wires"]


def test_a_source_that_nothing_rests_on_is_a_gap() -> None:
    lonely = book()
    more = Rulebook(
        lonely.rules, {}, {**lonely.references, "planckian-locus": installed().references["planckian-locus"]}, ()
    )
    assert found(traces(CASES), more) == ["planckian-locus: no rule, table, figure or test rests on it"]
    assert found(traces(CASES), more, {"planckian-locus"}) == []


def test_tests_that_fail_show_nothing(tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    (tmp_path / "rules/test_it.py").write_text("def test_it():\n    assert False\n")
    with pytest.raises(Exception, match="do not pass"):
        observe(tmp_path)


def test_those_who_watch_are_told_of_every_rule_that_a_test_asks_about() -> None:
    told: list[str] = []
    watchers.append(lambda rule, judgement: told.append(f"{rule} {judgement.stage.value}"))
    try:
        findings(RULE, "electrical: {nominal_voltage: 14 V}")
    finally:
        watchers.pop()
    assert told == [f"{RULE} operating"]
