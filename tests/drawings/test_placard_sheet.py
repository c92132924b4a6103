"""Placards at true size: what a ruler would measure on the print, worked from the SVG's millimetres."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise
from typing import TYPE_CHECKING

import pytest

from jurystrut.cli import main
from jurystrut.drawings.placard_sheet import SHEET_HEIGHT_MM, SHEET_WIDTH_MM, Words, placard_sheets
from jurystrut.reports.placards import write_sheets
from jurystrut.testing import project_of

if TYPE_CHECKING:
    from pathlib import Path

SVG = "{http://www.w3.org/2000/svg}"


def sheets(*placards: Words) -> list[ET.Element]:
    return [ET.fromstring(sheet) for sheet in placard_sheets("T", placards)]  # noqa: S314 - our own text


def placard_texts(sheet: ET.Element) -> list[ET.Element]:
    return [text for text in sheet.iter(f"{SVG}text") if "textLength" in text.attrib]


def test_a_unit_is_a_millimetre_and_fits_both_papers() -> None:
    """A4 is 210 by 297 mm, Letter 8.5 by 11 in: 215.9 by 279.4 mm."""
    (sheet,) = sheets(Words("NO STEP", 12.7, "P"))
    assert sheet.attrib["viewBox"] == f"0 0 {SHEET_WIDTH_MM:g} {SHEET_HEIGHT_MM:g}"
    assert (sheet.attrib["width"], sheet.attrib["height"]) == ("190mm", "255mm")
    assert min(210, 215.9) - 20 >= SHEET_WIDTH_MM
    assert min(297, 279.4) - 20 >= SHEET_HEIGHT_MM


def test_capitals_have_their_height() -> None:
    """Capitals of Helvetica are 0.718 of the font size high (its Adobe font metrics): within 1 % of what is asked."""
    (sheet,) = sheets(Words("NO STEP", 12.7, "P"))
    (text,) = placard_texts(sheet)
    assert float(text.attrib["font-size"]) * 0.718 == pytest.approx(12.7, rel=0.01)


def test_the_ruler_is_two_inches() -> None:
    (sheet,) = sheets(Words("X", 3, "P"))
    path = next(sheet.iter(f"{SVG}path")).attrib["d"]
    assert float(path.rpartition("H")[2].partition("v")[0]) - 2 == pytest.approx(2 * 25.4)


def test_long_words_break_and_stay_on_the_sheet() -> None:
    words = "PASSENGER WARNING: THIS AIRCRAFT IS EXPERIMENTAL AND DOES NOT COMPLY WITH THE FEDERAL SAFETY REGULATIONS"
    (sheet,) = sheets(Words(words, 6, "P"))
    lines = placard_texts(sheet)
    assert len(lines) > 1
    assert " ".join(line.text or "" for line in lines) == words
    assert all(float(line.attrib["textLength"]) <= SHEET_WIDTH_MM - 6 for line in lines)


def test_many_placards_take_several_sheets_and_none_overlaps() -> None:
    found = sheets(*(Words(f"PLACARD {n}", 10, f"P{n}") for n in range(40)))
    assert len(found) > 1
    assert sum(len(placard_texts(sheet)) for sheet in found) == 40
    for sheet in found:
        boxes = [(float(r.attrib["y"]), float(r.attrib["height"])) for r in sheet.iter(f"{SVG}rect")]
        assert all(a[0] + a[1] < b[0] for a, b in pairwise(boxes))
        assert boxes[-1][0] + boxes[-1][1] <= SHEET_HEIGHT_MM
        assert max(float(text.attrib["y"]) for text in sheet.iter(f"{SVG}text")) <= SHEET_HEIGHT_MM - 0.5


def test_letters_that_fit_on_no_sheet_are_refused() -> None:
    with pytest.raises(ValueError, match="does not fit"):
        placard_sheets("T", [Words("EXPERIMENTAL", 60, "P")])
    _, left_out = write_sheets(project_of(RECORDS.format("").replace("0.25 in", "9 in")))
    assert left_out == ["P: panel"]


def test_hostile_words_stay_words() -> None:
    (sheet,) = sheets(Words("<script>alert(1)</script>", 3, "<b>"))
    assert [text.text for text in placard_texts(sheet)] == ["<script>alert(1)</script>"]
    assert not list(sheet.iter(f"{SVG}script"))


RECORDS = """
aircraft: {{name: T, authority: US, stage: systems, operating_limitations: [{}]}}
markings:
  placards:
    - {{id: P, purpose: passenger-warning, text: OLD WORDS, letter_height: 0.25 in, place: panel}}
"""
ISSUED = "{id: OL, text: NEW WORDS, on: [passenger-warning], says: asks}"


@pytest.mark.parametrize(("limitation", "words"), [("", "OLD WORDS"), (ISSUED, "NEW WORDS")])
def test_words_are_the_limitations_where_they_give_them(limitation: str, words: str) -> None:
    (sheet,), left_out = write_sheets(project_of(RECORDS.format(limitation)))
    assert left_out == []
    (text,) = placard_texts(ET.fromstring(sheet))  # noqa: S314 - our own text
    assert text.text == words
    assert float(text.attrib["font-size"]) == pytest.approx(6.35 / 0.72, abs=0.001)


def test_the_command_writes_the_sheets(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "a.yaml").write_text(RECORDS.format(""), "utf-8")
    assert main(["placards", str(tmp_path), "-o", str(tmp_path / "out")]) == 0
    assert (tmp_path / "out/placards-1.svg").is_file()
    assert "placards-1.svg" in capsys.readouterr().out
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: systems}\n", "utf-8")
    assert main(["placards", str(tmp_path), "-o", str(tmp_path / "out")]) == 2
    assert main(["placards", str(tmp_path), "-o", str(tmp_path / "a.yaml")]) == 2
