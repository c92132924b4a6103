"""From files to checked records: every mistake at its place, nothing lost, nothing outside the folder opened."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import pytest

from jurystrut.errors import UsageError
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile

if TYPE_CHECKING:
    from pathlib import Path

AIRCRAFT = "aircraft: {name: Test, authority: US, stage: systems}\n"


def messages(*texts: str) -> list[str]:
    """All problems of records in files one.yaml, two.yaml and so on, each with its place."""
    names = ("one.yaml", "two.yaml", "three.yaml")
    files = [RecordFile(name, text) for name, text in zip(names, texts, strict=False)]
    return [f"{p.position}: {p.message}" for p in read_files(files).problems]


def test_every_mistake_of_every_file_is_told_in_one_run() -> None:
    found = messages(
        AIRCRAFT + "electrical:\n  buses:\n    - {id: MAIN, ratng: 80 A}\n    - {id: ENG, rating: 80 lb}\n",
        "electrical:\n  wires:\n    - {id: W1, from: MAIN, to: EGN}\n    - {id: W1, from: MAIN, to: ENG}\n  wire: []\n",
    )
    assert found == [
        "one.yaml:4:18: unknown field 'ratng'; did you mean 'rating'?",
        "one.yaml:5:25: rating: found '80 lb'; 80 lb is a mass; a current is wanted, for example 6.5 A",
        "two.yaml:3:32: to: there is no 'EGN' in electrical; did you mean 'ENG'?",
        "two.yaml:4:12: the id 'W1' stands twice in 'electrical', first at two.yaml:3:12; give one another",
        "two.yaml:5:3: unknown field 'wire'; did you mean 'wires'?",
    ]


def test_an_item_of_a_list_in_two_files_is_told_in_its_own() -> None:
    one = AIRCRAFT + "electrical:\n  buses:\n    - {id: MAIN}\n"
    assert messages(one, "electrical:\n  buses:\n    - ENG\n") == [
        "two.yaml:3:7: found 'ENG'; wanted fields in braces or below each other, each its name, a colon and a blank"
    ]


def test_good_records_beside_bad_ones_are_read() -> None:
    text = AIRCRAFT + "electrical:\n  nominal_voltage: 14 lb\n  buses:\n    - {id: MAIN}\n    - {id: '?'}\n"
    project = read_files([RecordFile("one.yaml", text)])
    assert [bus.id for bus in project.sections["electrical"].buses] == ["MAIN"]
    assert len(project.problems) == 2


def test_sections_join_over_files_and_lists_grow() -> None:
    one = AIRCRAFT + "electrical:\n  nominal_voltage: 14 V\n  buses: [{id: MAIN}]\n"
    two = "electrical:\n  buses: [{id: ENG}]\n  wires: [{id: W1, from: MAIN, to: ENG}]\n"
    project = read_files([RecordFile("one.yaml", one), RecordFile("two.yaml", two)])
    assert not project.problems
    electrical = project.sections["electrical"]
    assert [bus.id for bus in electrical.buses] == ["MAIN", "ENG"]
    assert str(electrical.where.of("wires")) == "two.yaml:3:10"


@pytest.mark.parametrize("empty_first", [True, False])
def test_a_list_whose_last_record_moved_to_another_file_may_stay_empty(*, empty_first: bool) -> None:
    empty, whole = AIRCRAFT + "electrical:\n  buses:\n", AIRCRAFT + "electrical:\n  buses: [{id: MAIN}]\n"
    one, two = (empty, whole) if empty_first else (whole, empty)
    project = read_files([RecordFile("one.yaml", one), RecordFile("two.yaml", two.removeprefix(AIRCRAFT))])
    assert not project.problems
    assert [bus.id for bus in project.sections["electrical"].buses] == ["MAIN"]


@pytest.mark.parametrize(
    ("texts", "found"),
    [
        (
            ("electrical: {nominal_voltage: 14 V}\n", "electrical: {nominal_voltage: 28 V}\n"),
            "two.yaml:1:14: 'nominal_voltage' is given twice in this section, first at one.yaml:1:14; keep one of them",
        ),
        (("electrcal: {}\n",), "one.yaml:1:1: unknown section 'electrcal'; did you mean 'electrical'?"),
        (("- a\n",), "one.yaml:1:3: wanted sections, such as 'electrical:' or 'weights:', at the left margin"),
        (
            ("electrical: {buses: {id: A}}\n",),
            "one.yaml:1:21: buses: wanted a list of records, each beginning with '- '",
        ),
        (
            ("electrical: {buses: [MAIN]}\n",),
            "one.yaml:1:22: found 'MAIN'; wanted fields in braces or below each other, each its name, a colon and a blank",
        ),
        (("electrical: {buses: [{what: main}]}\n",), "one.yaml:1:22: 'id' is missing; this record needs it"),
        (
            ("electrical: {buses: [{id: A B}]}\n",),
            "one.yaml:1:27: id: found 'A B'; wanted an id of plain letters, digits, - and _, a letter or digit first, as W12",
        ),
        (
            ("electrical: {grounds: [{id: G, kind: singel-point}]}\n",),
            "one.yaml:1:38: kind: found 'singel-point'; wanted one of single-point, airframe, engine, avionics; did",
        ),
        (
            ("electrical: {buses: [{id: A}], wires: [{id: W, from: A.out, to: A}]}\n",),
            "one.yaml:1:54: from: 'A' has no terminal 'out'",
        ),
        (
            ("documents: [{id: D, kind: x, evidence: ../secret}]\n",),
            "one.yaml:1:40: evidence: found '../secret'; wanted a path inside this repository, for example evidence/w12.jpg",
        ),
        (
            ("documents: [{id: D, kind: x, day: 2026-02-30}]\n",),
            "one.yaml:1:35: day: 2026-02-30 is no day of the calendar",
        ),
        (
            ("weights: {loadings: [{id: L, stations: {SEAT: 80 lb}}]}\n",),
            "one.yaml:1:40: stations: there is no 'SEAT' in weights.stations",
        ),
    ],
)
def test_each_kind_of_mistake_has_its_message(texts: tuple[str, ...], found: str) -> None:
    got = [message for message in messages(*texts) if "aircraft" not in message]
    assert any(message.startswith(found) for message in got), got


def test_an_id_of_a_broken_record_is_no_second_problem() -> None:
    found = messages(
        AIRCRAFT + "electrical:\n  buses: [{id: MAIN, rating: x}]\n  wires: [{id: W1, from: MAIN, to: MAIN}]\n"
    )
    assert len(found) == 1


def test_a_plain_gallon_is_american_only_in_america() -> None:
    fuel = "fuel: {tanks: [{id: T, capacity: 12 gal}]}\n"
    assert messages(AIRCRAFT + fuel) == []
    elsewhere = messages(AIRCRAFT.replace("US", "GB") + fuel)
    assert len(elsewhere) == 1
    assert "imp gal" in elsewhere[0]


def test_no_aircraft_is_a_problem() -> None:
    assert messages("electrical: {}\n") == ["one.yaml:1:1: the records have no section 'aircraft'; begin with it"]


def write(folder: Path, name: str, text: str) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_reads_a_folder_in_a_fixed_order_and_passes_over_hidden_names(tmp_path: Path) -> None:
    write(tmp_path, "b.yaml", "electrical: {}\n")
    write(tmp_path, "a/c.yml", AIRCRAFT)
    write(tmp_path, ".hidden/d.yaml", "nonsense: {}\n")
    write(tmp_path, "e.txt", "nonsense: {}\n")
    project = read(tmp_path)
    assert project.files == ("a/c.yml", "b.yaml")
    assert not project.problems


def test_links_out_of_the_folder_are_not_followed(tmp_path: Path) -> None:
    outside = write(tmp_path, "outside.yaml", "electrical: {nominal_voltage: 99 V}\n")
    root = tmp_path / "root"
    write(root, "a.yaml", AIRCRAFT)
    (root / "link.yaml").symlink_to(outside)
    (root / "folder").symlink_to(tmp_path)
    (root / "loop.yaml").symlink_to(root / "loop.yaml")
    project = read(root)
    assert "electrical" not in project.sections
    assert [p.position.file for p in project.problems] == ["link.yaml", "loop.yaml"]
    assert "leads out of the repository" in project.problems[0].message


def test_a_pipe_does_not_hang_and_latin_1_is_told_by_line(tmp_path: Path) -> None:
    write(tmp_path, "a.yaml", AIRCRAFT)
    os.mkfifo(tmp_path / "pipe.yaml")
    (tmp_path / "latin.yaml").write_bytes(b"lighting:\n  # gr\xfc\xdf\n")
    found = {p.position.file: (p.position.line, p.message) for p in read(tmp_path).problems}
    assert found["pipe.yaml"] == (1, "cannot be read: it is no ordinary file")
    assert found["latin.yaml"] == (2, "byte 0xFC is not UTF-8 text; save the file as UTF-8")


def test_an_empty_folder_and_no_folder(tmp_path: Path) -> None:
    assert "no record files here" in read(tmp_path).problems[0].message
    with pytest.raises(UsageError, match="is not a folder"):
        read(tmp_path / "missing")


def test_records_of_a_sound_section_take_no_memory_for_which_fields_were_given() -> None:
    text = AIRCRAFT + "electrical:\n  buses: [{id: MAIN, what: main bus}, {id: ENG, what: engine bus}]\n"
    one, other = read_files([RecordFile("a.yaml", text)]).sections["electrical"].buses
    assert one.model_fields_set is other.model_fields_set
    changed = one.model_copy(update={"what": "another"})
    assert (changed.what, one.what, other.model_fields_set) == ("another", "main bus", set())
