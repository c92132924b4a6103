"""JUnit-style XML, valid against the strict schema (junit-10.xsd); in GitLab's flavour each case names its file as well."""

from __future__ import annotations

import re
from collections import Counter
from typing import TYPE_CHECKING
from xml.etree import ElementTree as Xml  # writes only; nothing is parsed

import jurystrut
from jurystrut.judge import CAUTION
from jurystrut.reports.noted import UNREADABLE, level_of, sentence
from jurystrut.reports.plain import WORDS, safe
from jurystrut.rulebook import Verdict

if TYPE_CHECKING:
    from collections.abc import Iterable

    from jurystrut.errors import Problem
    from jurystrut.judge import Judgement, RuleResult
    from jurystrut.rulebook import Finding

__all__ = ["MOST_BYTES", "write", "write_gitlab"]

MOST_BYTES = 25 * 1024 * 1024
"""GitLab reads no report above 30 MB ("Unit test reports")."""

# Everything outside the production Char of XML 1.0 (section 2.2).
_NO_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def write(judgement: Judgement) -> str:
    """The judgement as test suites: one a domain, a case for every finding."""
    return _Suites(judgement, files=False).text()


def write_gitlab(judgement: Judgement) -> str:
    """The same with the attribute `file`, which GitLab reads and the strict schema does not know."""
    return _Suites(judgement, files=True).text()


class _Suites:
    """Builds one document."""

    def __init__(self, judgement: Judgement, *, files: bool) -> None:
        self.judgement = judgement
        self.files = files
        self.root = Xml.Element("testsuites", name="jurystrut")
        self.met: Counter[tuple[str, str]] = Counter()

    def text(self) -> str:
        if self.judgement.problems:
            self._problems(self.judgement.problems)
        domains: dict[str, list[RuleResult]] = {}
        for result in self.judgement.results:
            domains.setdefault(result.rule.domain, []).append(result)
        for domain, results in domains.items():
            self._domain(domain, results)
        text = self._written()
        if len(text.encode("utf-8")) > MOST_BYTES:
            self._fit()
            text = self._written()
        return text

    def _written(self) -> str:
        for suite in self.root:
            _count(suite)
        Xml.indent(self.root, " ")
        return '<?xml version="1.0" encoding="UTF-8"?>\n' + Xml.tostring(self.root, encoding="unicode") + "\n"

    def _fit(self) -> None:
        """Keep as many cases as there is room for, the worst first; that some were left out is a case of its own."""
        room = MOST_BYTES - 100_000  # for the suites themselves
        cases = sorted((case for suite in self.root for case in suite.findall("testcase")), key=_rank)
        kept: set[Xml.Element] = set()
        for case in cases:
            room -= len(Xml.tostring(case, encoding="utf-8"))
            if room < 0:
                break
            kept.add(case)
        for suite in self.root:
            suite[:] = [part for part in suite if part.tag != "testcase" or part in kept]
        left = cases[len(kept) :]
        failing = sum(_rank(case) == 0 for case in left)
        suite = self._suite("left out")
        case = self._case(suite, "jurystrut/left-out", f"{len(left)} cases", "")
        words = f"{len(left)} cases, {failing} of them failing, found no room in this format; the others list all"
        Xml.SubElement(case, "failure" if failing else "skipped", message=words).text = words

    def _suite(self, name: str) -> Xml.Element:
        suite = Xml.SubElement(self.root, "testsuite", name=name)
        properties = Xml.SubElement(suite, "properties")
        judgement = self.judgement
        for key, value in (
            ("jurystrut", jurystrut.__version__),
            ("stage", judgement.stage.value),
            ("revision", judgement.revision or "none"),
            ("caution", CAUTION),
        ):
            Xml.SubElement(properties, "property", name=key, value=value)
        return suite

    def _case(self, suite: Xml.Element, rule: str, subject: str, file: str) -> Xml.Element:
        """A name stands once: of two cases with one name, readers keep the first alone."""
        self.met[rule, subject] += 1
        again = f" ({self.met[rule, subject]})" if self.met[rule, subject] > 1 else ""
        case = Xml.SubElement(suite, "testcase", name=_clean(f"{rule} {subject}{again}"), classname=rule)
        if self.files and file:
            case.set("file", _clean(self.judgement.folder + file))
        return case

    def _problems(self, problems: Iterable[Problem]) -> None:
        suite = self._suite("records")
        for problem in problems:
            case = self._case(suite, UNREADABLE, str(problem.position), problem.position.file)
            words = _clean(f"{problem.position}: {problem.message}")
            Xml.SubElement(case, "error", type="unreadable", message=words).text = words

    def _domain(self, domain: str, results: Iterable[RuleResult]) -> None:
        suite = self._suite(domain)
        for result in results:
            for finding in result.findings:
                self._finding(suite, result.rule.id, finding)

    def _finding(self, suite: Xml.Element, rule: str, finding: Finding) -> None:
        place = finding.where[0].position if finding.where else None
        case = self._case(suite, rule, finding.subject, place.file if place else "")
        lines = [*sentence(finding), *(f"at {spot.position}" for spot in finding.where)]
        words = _clean("\n".join(" ".join(line.split()) for line in lines))
        level = level_of(self.judgement, finding)
        if level == "error":
            # Readers differ in whether they show the attribute or the element's text: the words stand in both.
            first = _clean(" ".join(finding.message.split()))
            Xml.SubElement(case, "failure", type=finding.verdict.value, message=first).text = words
        elif level == "warning":
            Xml.SubElement(case, "system-out").text = f"{WORDS[finding.verdict]} {words}"
        elif finding.verdict is not Verdict.PASS:
            Xml.SubElement(case, "skipped", message=_clean(f"{WORDS[finding.verdict]}: {finding.message}"))


def _rank(case: Xml.Element) -> int:
    """0 for what failed or could not be read, 1 for what is told besides, 2 for what passes."""
    if not len(case):
        return 2
    return 0 if case[0].tag in {"failure", "error"} else 1


def _count(suite: Xml.Element) -> None:
    suite.set("tests", str(len(suite.findall("testcase"))))
    for kind, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
        suite.set(kind, str(len(suite.findall(f"testcase/{tag}"))))


def _clean(text: str) -> str:
    """Text that XML can hold and that no log viewer obeys."""
    return _NO_XML.sub("\ufffd", safe(text))
