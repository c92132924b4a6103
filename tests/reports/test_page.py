"""The readiness report as a file: whole, self-contained, escaped, and saying what the judgement says."""

from __future__ import annotations

import datetime
import hashlib
import html.parser
import io
import re
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from jurystrut.cli import main
from jurystrut.delivery import deliver
from jurystrut.readiness import Wish, build
from jurystrut.reading.evidence import pictures
from jurystrut.records.aircraft import Stage
from jurystrut.records.evidence import EvidenceFile
from jurystrut.reports.page.verdicts import visible

EXAMPLE = Path(__file__).parents[2] / "project_example"
DAY = datetime.date(2026, 11, 25)
HOSTILE = "<script>alert(1)</script><img src=x onerror=alert(2)>\"' {{ 7*7 }} {% raw %} &lt;b&gt;"

SAVE_AGAIN = """
import pathlib, sys, time
while True:
    pathlib.Path(sys.argv[1]).write_text(sys.argv[2])
    time.sleep(0.5)
"""

SECTIONS = (
    "readiness findings weights loads one-line quits panel lights covering placards papers inspections settled sources"
)


class Reader(html.parser.HTMLParser):
    """Tags, attributes and words of a page, as a browser's parser would part them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.ids: list[str] = []
        self.words: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]
        self.ids += [value or "" for name, value in attrs if name == "id"]

    def handle_data(self, data: str) -> None:
        self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


@pytest.fixture(scope="module")
def page() -> Reader:
    text, status = build(Wish(EXAMPLE, on=DAY), lambda _: None)
    assert status == 0
    return Reader(text)


def page_of(folder: Path, **files: str) -> tuple[Reader, int]:
    for name, text in files.items():
        (folder / f"{name}.yaml").write_text(text)
    text, status = build(Wish(folder, on=DAY), lambda _: None)
    return Reader(text), status


def test_the_example_has_every_section_and_drawing(page: Reader) -> None:
    assert set(SECTIONS.split()) <= set(page.ids)
    assert page.tags.count("svg") >= 5 + 4  # four figures, and a one-line sheet for each source and bus
    assert len(page.ids) == len(set(page.ids))


def test_every_link_in_the_page_leads_somewhere(page: Reader) -> None:
    links = [value for name, value in page.attributes if name == "href"]
    assert links
    assert {link[1:] for link in links} <= set(page.ids)
    assert all(link.startswith("#") for link in links)


def test_the_page_needs_nothing_from_outside(page: Reader) -> None:
    assert not {"script", "link", "iframe", "object", "embed", "base", "form"} & set(page.tags)
    assert all(value.startswith("data:image/") for name, value in page.attributes if name == "src")
    assert not any(name.startswith("on") for name, _ in page.attributes)
    assert ("content", "default-src 'none'; style-src 'unsafe-inline'; img-src data:") in page.attributes


def test_caution_authority_and_verdict_stand_at_the_top(page: Reader) -> None:
    top = page.text[: page.text.index("Open findings by domain")]
    for words in ("it certifies nothing", "Marsh Warbler", "US", "systems", "2026-11-25", "warn"):
        assert words in top


def test_figures_of_the_page_are_those_of_the_judgement(page: Reader) -> None:
    from jurystrut.judge import installed_packs, judge, load
    from jurystrut.reading import read

    judgement = judge(read(EXAMPLE), load(installed_packs()), on=DAY)
    for result in judgement.results:
        for finding in result.findings:
            if finding.verdict.value in {"fail", "warn", "no-data"}:
                assert " ".join(finding.message.split()) in page.text
                assert str(finding.where[0].position) in page.text
    for finding in (f for r in judgement.results if r.rule.id == "weights/cg-envelope" for f in r.findings):
        assert (
            finding.message.rpartition("allowed: ")[2] in page.text
        )  # the range at that weight, in the table of loadings


def test_hostile_words_stay_words(tmp_path: Path) -> None:
    quoted = HOSTILE.replace("'", "''")
    (tmp_path / "photo.svg").write_text(f"<svg xmlns='http://www.w3.org/2000/svg'>{HOSTILE[:24]}</svg>")
    reader, _ = page_of(
        tmp_path,
        records=f"""
aircraft: {{name: '{quoted}', registration: '{quoted}', authority: '{quoted}', stage: inspection, datum: '{quoted}'}}
documents: [{{id: D1, kind: '{quoted}', number: '{quoted}', text: '{quoted}', evidence: photo.svg}}]
inspections: [{{id: I1, what: '{quoted}', who: '{quoted}', day: 2026-01-01, result: '{quoted}'}}]
deviations: [{{rule: '{quoted}', reason: '{quoted}', agreed_by: '{quoted}', day: 2026-01-01}}]
markings: {{placards: [{{id: P1, purpose: other, text: '{quoted}', place: '{quoted}'}}]}}
electrical:
  sources: [{{id: BAT, kind: battery, what: '{quoted}'}}]
  loads: [{{id: L1, current: 1 A, nature: lamp, what: '{quoted}', duty: {{'{quoted}': 100 %}}}}]
  wires: [{{id: W1, from: BAT, to: L1}}, {{id: W2, from: L1.return, to: BAT.return}}]
""",
    )
    assert not {"script", "b"} & set(reader.tags)
    assert [value for name, value in reader.attributes if name == "src"] != []
    assert all(value.startswith("data:image/svg+xml;base64,") for name, value in reader.attributes if name == "src")
    assert not any(name.startswith("on") for name, _ in reader.attributes)
    assert reader.text.count("<script>alert(1)</script>") >= 8
    assert "{{ 7*7 }}" in reader.text


@pytest.mark.parametrize("unseen", ["\u202e", "\x00", "\u2066", "\ufeff", "\x9b"])
def test_unseen_characters_show(unseen: str) -> None:
    assert visible(f"T{unseen}elif") == "T\ufffdelif"


def test_records_that_cannot_be_read_are_in_the_page_and_in_the_status(tmp_path: Path) -> None:
    reader, status = page_of(tmp_path, a="aircraft: {name: T, authority: US, stage: design, wings: 2}\n")
    assert status == 2
    assert "a.yaml:1:" in reader.text
    assert "Records that cannot be read" in reader.text


def test_nothing_recorded_is_said_for_every_part(tmp_path: Path) -> None:
    reader, _ = page_of(tmp_path, a="aircraft: {name: T, authority: US, stage: design}\n")
    for what in ("weights", "loads", "wiring", "protective devices", "panel", "lights", "covering", "placards"):
        assert re.search(rf"No {what} (is|are) recorded", reader.text), what


def test_each_coming_stage_tells_what_is_new_in_it(tmp_path: Path) -> None:
    reader, _ = page_of(tmp_path, a="aircraft: {name: T, authority: US, stage: covering}\n")
    text = reader.text
    stages = [stage.value for stage in Stage if not stage < Stage.COVERING]
    steps = [text.find(f"Then, for stage {stage}") for stage in stages[1:]]
    found = {stage for stage, at in zip(stages[1:], steps, strict=True) if at > 0}
    assert {"systems", "inspection", "first-flight"} <= found
    assert "covering" not in found
    assert text.count("Get the operating limitations") == 1


def test_a_step_is_told_once_for_all_its_subjects(tmp_path: Path) -> None:
    lines = ", ".join(f"{{id: D{i}, kind: log, evidence: scan{i}.pdf}}" for i in range(8))
    reader, status = page_of(tmp_path, a=f"aircraft: {{name: T, authority: US, stage: design}}\ndocuments: [{lines}]\n")
    assert status == 1
    assert "Add the file, or correct its path. D0, D1, D2, D3, D4, D5 and 2 more" in reader.text


def test_what_is_only_estimated_is_told(tmp_path: Path) -> None:
    reader, _ = page_of(
        tmp_path,
        a="aircraft: {name: T, authority: US, stage: design}\nweights:\n  components:\n"
        "    - {id: SEAT, weight: 10 lb, arm: 20 in, basis: weighed}\n"
        "    - {id: PAINT, weight: 9.5 lb, arm: 30 in, basis: estimated}\n"
        "    - {id: CLOTH, weight: 6 lb, arm: 30 in, basis: estimated}\n",
    )
    assert "weights of 2 components, 15.5 lb together, estimated: PAINT, CLOTH" in reader.text
    assert "catalogue" not in reader.text[reader.text.index("Only estimated") :][:300]


def test_evidence_is_shown_as_it_was_found(tmp_path: Path) -> None:
    dot = b"\x89PNG\r\n\x1a\n" + b"x" * 50
    (tmp_path / "dot.png").write_bytes(dot)
    digest = hashlib.sha256(dot).hexdigest()
    reader, _ = page_of(
        tmp_path,
        a="aircraft: {name: T, authority: US, stage: design}\n"
        f"evidence: [{{id: E1, file: dot.png, sha256: {digest}}}, {{id: E2, file: gone.png}}]\n",
    )
    assert ("alt", "Thumbnail of dot.png") in reader.attributes
    assert "58 bytes" in reader.text
    assert "there is no such file" in reader.text


def test_the_log_sums_up_by_year(tmp_path: Path) -> None:
    reader, _ = page_of(
        tmp_path,
        a="aircraft: {name: T, authority: US, stage: design}\nbuilders_log:\n"
        "  - {day: 2024-05-01, hours: 8 h, task: ribs, who: builder}\n"
        "  - {day: 2024-05-02, hours: 30 min, task: ribs, who: builder}\n"
        "  - {day: 2025-05-02, hours: 2 h, task: welding, who: shop, by: paid}\n",
    )
    assert "2024 2 8.5 0.0" in reader.text
    assert "2025 1 0.0 2.0" in reader.text


def test_the_command_writes_the_file_whole(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "report.html"
    assert main(["report", str(EXAMPLE), "-o", str(output), "--on", "2026-11-25"]) == 0
    assert capsys.readouterr().out == ""
    assert [path.name for path in tmp_path.iterdir()] == ["report.html"]
    written = output.read_text("utf-8")
    assert main(["report", str(EXAMPLE), "--on", "2026-11-25"]) == 0
    assert capsys.readouterr().out == written


def test_a_report_that_cannot_be_written_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "report.html").mkdir()
    assert main(["report", str(EXAMPLE), "-o", str(tmp_path / "report.html")]) == 2
    assert "cannot be written" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["report.html"]


def test_watching_needs_a_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(EXAMPLE), "--watch"]) == 2
    assert "name it with -o" in capsys.readouterr().err


def test_watching_writes_anew_when_a_record_is_saved(tmp_path: Path) -> None:
    """The page of a running command follows the record, and the page itself wakes nobody."""
    record, output = tmp_path / "a.yaml", tmp_path / "report.html"
    record.write_text("aircraft: {name: Before, authority: US, stage: design}\n")
    command = [sys.executable, "-m", "jurystrut", "report", str(tmp_path), "-o", str(output), "--watch"]
    with subprocess.Popen(command, stderr=subprocess.PIPE, encoding="utf-8") as process:
        assert process.stderr
        try:
            assert "written in" in process.stderr.readline()
            assert "Before" in output.read_text("utf-8")
            # The watching begins just after the line; the record is saved until it is seen.
            saving = subprocess.Popen(
                [
                    sys.executable,
                    "-c",
                    SAVE_AGAIN,
                    str(record),
                    "aircraft: {name: After, authority: US, stage: design}\n",
                ]
            )
            try:
                assert "written in" in process.stderr.readline()
            finally:
                saving.kill()
                saving.wait()
            assert "After" in output.read_text("utf-8")
        finally:
            process.kill()


def test_saving_keeps_the_old_page_when_it_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "report.html"
    path.write_text("old")

    def refuse(*_: object) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(Exception, match="No space left"):
        deliver("new", str(path))
    assert path.read_text() == "old"
    assert len(list(tmp_path.iterdir())) == 1


def test_a_large_photo_gets_a_small_upright_thumbnail(tmp_path: Path) -> None:
    """A photo lying on its side by its own orientation mark stands upright in the page."""
    noise = Image.effect_noise((1600, 1200), 90).convert("RGB")
    marks = Image.Exif()
    marks[0x0112] = 6  # to be turned by a quarter: TIFF 6.0, orientation
    noise.save(tmp_path / "photo.jpg", quality=95, exif=marks)
    (tmp_path / "broken.jpg").write_bytes(b"\xff\xd8\xff" + b"x" * 100_000)
    paths = ("photo.jpg", "broken.jpg")
    evidence = {path: EvidenceFile(path, (tmp_path / path).stat().st_size) for path in paths}
    assert evidence["photo.jpg"].size > 60_000
    found = pictures(tmp_path, evidence)
    assert set(found) == {"photo.jpg"}
    media, data = found["photo.jpg"]
    with Image.open(io.BytesIO(data)) as thumbnail:
        assert (media, thumbnail.format) == ("image/jpeg", "JPEG")
        assert max(thumbnail.size) <= 640
        assert thumbnail.height > thumbnail.width


QUITS = """
aircraft: {name: T, authority: NZ, stage: systems}
electrical:
  sources: [{id: BAT, kind: battery}]
  buses: [{id: MAIN}]
  protection:
    - {id: F1, kind: breaker, rating: 5 A, fed_from: MAIN}
    - {id: F2, kind: breaker, rating: 5 A, fed_from: MAIN}
  loads:
    - {id: RADIO, current: 1 A, nature: lamp, essential: true}
    - {id: LAMP, current: 1 A, nature: lamp}
  wires:
    - {id: W1, from: BAT, to: MAIN}
    - {id: W2, from: F1, to: RADIO}
    - {id: W3, from: F2, to: LAMP}
    - {id: W4, from: RADIO.return, to: BAT.return}
    - {id: W5, from: LAMP.return, to: BAT.return}
"""


def test_what_quits_is_told_worst_first_open_and_shorted(tmp_path: Path) -> None:
    reader, _ = page_of(tmp_path, a=QUITS)
    text = reader.text[reader.text.index("Any one of these") :]
    everything = text.index("battery BAT, bus MAIN, W1 RADIO , LAMP the same")
    assert everything < text.index("F1 5 A, W2 RADIO the same") < text.index("W4 RADIO nothing")
    assert "LAMP by F2 5 A, W3, W5" in text


DRAWING = """
aircraft: {name: T, authority: NZ, stage: systems}
electrical:
  sources:
    - {id: ALT, kind: alternator, rating: 40 A}
    - {id: BAT, kind: battery, charging: 8 A}
  buses: [{id: MAIN}]
  switches: [{id: K1, kind: contactor, coil: 0.8 A}]
  loads:
    - {id: RADIO, current: 4 A, nature: electronic, duty: {taxi: 100 %, cruise: 50 %}}
    - {id: FLAP, current: 10 A, nature: motor, intermittent: true, duty: {cruise: 5 %}}
  wires: [{id: W1, from: ALT, to: MAIN}]
"""


def test_the_load_analysis_shows_its_three_intervals_with_the_coils(tmp_path: Path) -> None:
    """Worked by hand after MIL-E-7016F's averaging, from memory: in cruise 4 + 10 + 0.8, 4 + 2/5 x 10 + 0.8 and
    4 x 50 % + 0.8 A; in taxi the battery's 8 A come on top, and the flap is not among the loads.
    """
    reader, _ = page_of(tmp_path, a=DRAWING)
    assert "Phase Over 5 s Over 5 min Continuously" in reader.text
    assert "taxi 12.8 12.8 12.8 cruise 14.8 8.8 2.8 The sources give" in reader.text
    assert "K1 coil, held throughout 0.80 0.80 Continuous, together 4.8 2.8" in reader.text


def test_a_yardstick_keeps_the_remedy_of_its_rule(tmp_path: Path) -> None:
    reader, _ = page_of(tmp_path, a="aircraft: {name: T, authority: NZ, stage: operating}\n")
    assert "a yardstick here" in reader.text
    assert "To mend: This is the law of" not in reader.text
