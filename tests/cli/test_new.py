"""The first command of a build: what it writes reads clean, and the first check says what comes next."""

from __future__ import annotations

import csv
import json
import re
from typing import TYPE_CHECKING, Any

import jsonschema
import pytest
import yaml

from jurystrut.cli import main
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile
from jurystrut.scaffold import Answers, scaffold

if TYPE_CHECKING:
    from pathlib import Path

STAGES = "design structure covering systems engine-run inspection first-flight flight-test operating".split()
ANSWERS = Answers("Tern", "US", "design", ("day-vfr",), "2")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    assert main(["new", str(tmp_path / "tern"), "--name", "Tern: the second # one", "--seats", "2"]) == 0
    return tmp_path / "tern"


def test_the_new_records_read_clean(folder: Path) -> None:
    project = read(folder)
    assert project.problems == ()
    assert project.aircraft is not None
    assert (project.aircraft.name, project.aircraft.seats) == ("Tern: the second # one", 2)


@pytest.mark.parametrize("stage", STAGES)
def test_a_check_of_them_fails_by_missing_data_alone(
    folder: Path, stage: str, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    capsysbinary.readouterr()
    status = main(["check", str(folder), "--format", "json", "--at", stage])
    data = json.loads(capsysbinary.readouterr().out)
    assert status == int(STAGES.index(stage) >= STAGES.index("inspection"))
    assert data["errors"] == []
    assert not [rule["id"] for rule in data["rules"] if rule["verdict"] == "fail"]


def test_the_first_check_says_what_to_fill_in_next(folder: Path, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    capsysbinary.readouterr()
    main(["check", str(folder)])
    said = capsysbinary.readouterr().out.decode()
    begin = said[said.index("TO FILL IN NEXT") :]
    assert re.search("now, asked for since design: .*weights", begin)
    assert re.search("before covering: .*covering", begin)
    assert re.search("before systems: .*electrical", begin)


def test_every_file_names_the_schema_beside_it(folder: Path) -> None:
    for path in folder.glob("*.yaml"):
        schema = ".jurystrut.schema.json" if path.name == ".jurystrut.yaml" else "records.schema.json"
        first = path.read_text("utf-8").partition("\n")[0]
        assert first == f"# yaml-language-server: $schema={schema}", path.name
        assert (folder / schema).is_file()


def test_the_gates_of_a_new_folder_stop_what_fails_as_if_there_were_none(
    folder: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    assert main(["gate", str(folder)]) == 0
    with_file = capfd.readouterr().out
    gates = folder / ".jurystrut.yaml"
    text = gates.read_text("utf-8")
    gates.unlink()
    assert main(["gate", str(folder)]) == 0
    assert capfd.readouterr().out == with_file
    gates.write_text(re.sub("^# (?=gates:| *- stops)", "", text, flags=re.MULTILINE), encoding="utf-8")
    assert main(["gate", str(folder)]) == 0


def uncommented(text: str) -> Any:
    """The examples of a file taken for records: every comment line that looks like a field loses its mark."""
    lines = [re.sub(r"^( *)# ( *(?:- )?[a-z_0-9]+:)", r"\1\2", line) for line in text.splitlines()]
    return yaml.load("\n".join(lines), yaml.BaseLoader)  # noqa: S506 - it makes nothing but text, lists and mappings


def test_what_stands_in_comments_has_the_records_shape() -> None:
    """Only places where the builder must write something himself, `...`, may be of the wrong kind."""
    files = scaffold(ANSWERS, {})
    for name, text in files.items():
        if name.endswith(".yaml"):
            schema = ".jurystrut.schema.json" if name == ".jurystrut.yaml" else "records.schema.json"
            validator = jsonschema.Draft7Validator(json.loads(files[schema]))
            tree = uncommented(text)
            assert tree, name
            unknown = [error.message for error in deep(validator.iter_errors(tree)) if "unexpected" in error.message]
            assert unknown == [], name


def test_a_section_whose_examples_are_all_taken_in_holds_no_mistake_but_names_of_what_is_not_there() -> None:
    sound = RecordFile("aircraft.yaml", "aircraft: {name: T, authority: US, stage: design}\n")
    for name, text in scaffold(ANSWERS, {}).items():
        if name.endswith(".yaml") and not name.startswith((".", "aircraft")):
            taken = re.sub(r"^# (?=[a-z_]+:|  )", "", text, flags=re.MULTILINE)
            mistakes = [p.message for p in read_files([sound, RecordFile(name, taken)]).problems]
            odd = [said for said in mistakes if not re.search("there is no '|still stands here", said)]
            assert odd == [], name


def deep(errors: Any) -> Any:
    for error in errors:
        yield error
        yield from deep(error.context)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--stage", "design", "--operations", "day-vrf"], "did you mean 'day-vfr'?"),
        (["--seats", "two"], "wanted a whole number, for example 2"),
        (["--authority", "usa"], "wanted a country's code of two letters, for example US or GB"),
        (["--authority", "UK"], "for example US or GB"),
    ],
)
def test_a_wrong_answer_is_told_and_nothing_is_written(
    tmp_path: Path, arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["new", str(tmp_path / "a"), *arguments]) == 2
    assert said in capsys.readouterr().err
    assert not (tmp_path / "a").exists()


def test_a_folder_with_something_in_it_is_let_be(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (folder / "aircraft.yaml").read_bytes()
    assert main(["new", str(folder)]) == 2
    assert "not empty" in capsys.readouterr().err
    assert (folder / "aircraft.yaml").read_bytes() == before


WIRES = "Wire,From,To,AWG,Length (in),Note\nW1,MAIN,A,18,42,behind\nW2,MAIN,A B,18,30,\nW1,MAIN,A,,,\n"


def test_a_wire_list_becomes_records_and_what_cannot_is_told(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "w.csv").write_text("\ufeff" + WIRES, encoding="utf-8", newline="\r\n")
    assert main(["new", "wires", "--from-csv", str(tmp_path / "w.csv")]) == 2
    out, err = capfd.readouterr()
    wires = yaml.safe_load(out)["electrical"]["wires"]
    assert wires == [{"id": "W1", "from": "MAIN", "to": "A", "size": "18 AWG", "length": "42 in"}]
    assert "  # Note: behind\n" in out
    assert [line.partition(":")[0] for line in err.splitlines()] == ["w.csv, row 3", "w.csv, row 4"]
    assert '# row 3 not read: "W2"' in out


def test_a_panel_list_with_columns_by_other_names(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "p.csv").write_text("Tag;Name;Sort;Depth (mm)\nASI;airspeed;instrument;90\n", encoding="utf-8")
    assert main(["new", "panel", "--from-csv", str(tmp_path / "p.csv"), "--columns", "id=Tag, kind=Sort"]) == 0
    out, _ = capfd.readouterr()
    assert yaml.safe_load(out)["panel"]["items"] == [
        {"id": "ASI", "what": "airspeed", "kind": "instrument", "depth": "90 mm"}
    ]


def test_a_list_without_the_needed_columns_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "w.csv").write_text("Wire,Length\nW1,42 in\n", encoding="utf-8")
    assert main(["new", "wires", "--from-csv", str(tmp_path / "w.csv")]) == 2
    assert "names no column for from, to" in capsys.readouterr().err


LISTS = {
    "wires": "My wires,,,,,\nWire,From,To,AWG,Length (in),Bundle\n"
    "W1,BAT,F1.in,16,8,\nW2,F1.out,LAND,18,144,WING\nW3,F1 pin 2,A,,,\n",
    "panel": "Item;Description;Kind;Hole;Behind panel (mm);Price\n;airspeed, 3 in;Instrument;H-ASI;90,5;210\n;clock;gauge;;;\n",
    "weights": "Item,Weight (lb),Arm (in)\nEngine,128,-32\nSeat,nine,24\n",
}


@pytest.fixture
def listed(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> tuple[Path, str, str]:
    """A new folder with all three lists, and what was said of it."""
    for word, text in LISTS.items():
        (tmp_path / f"{word}.csv").write_text(text, encoding="utf-8")
    options = [part for word in LISTS for part in (f"--{word}", str(tmp_path / f"{word}.csv"))]
    assert main(["new", str(tmp_path / "tern"), *options]) == 2
    return tmp_path / "tern", *capfd.readouterr()


def test_lists_come_into_a_new_folder_and_it_reads_clean(listed: tuple[Path, str, str]) -> None:
    folder, out, err = listed
    project = read(folder)
    assert project.problems == ()
    assert [item.id for item in project.sections["panel"].items] == ["AIRSPEED-3-IN"]
    assert [component.id for component in project.sections["weights"].components] == ["ENGINE"]
    assert "electrical" not in project.sections
    assert "wires-list.yaml for the 4 names" in out
    assert [line.partition(":")[0] for line in err.splitlines()] == [
        "wires.csv, row 5",
        "panel.csv, row 3",
        "weights.csv, row 3",
    ]


def test_every_cell_of_every_list_is_kept(listed: tuple[Path, str, str]) -> None:
    """As a field or in a comment; the names of columns that became fields need not be there."""
    folder, _, _ = listed
    for word, text in LISTS.items():
        written = (folder / f"{word}-list.yaml").read_text("utf-8").lower().replace("90.5", "90,5")
        rows = list(csv.reader(text.lower().splitlines(), delimiter=";" if word == "panel" else ","))
        names = next(number for number, row in enumerate(rows) if len([cell for cell in row if cell]) > 2)
        assert [cell for row in (*rows[:names], *rows[names + 1 :]) for cell in row if cell not in written] == [], word


def test_the_check_of_a_folder_with_lists_says_what_comes_next(
    listed: tuple[Path, str, str], capfd: pytest.CaptureFixture[str]
) -> None:
    folder, _, _ = listed
    assert main(["check", str(folder)]) == 0
    said = capfd.readouterr().out
    assert re.search("before structure: fuel, hardware, rigging\n", said)
    assert re.search("before systems: .*electrical", said)


def test_wires_that_wait_can_be_taken_in_as_their_head_says(listed: tuple[Path, str, str]) -> None:
    folder, _, _ = listed
    path = folder / "wires-list.yaml"
    head, begin, block = path.read_text("utf-8").partition("# electrical:\n")
    assert "BAT, F1, LAND, WING" in " ".join(head.replace("#", "").split())
    path.write_text(head + re.sub("^# ", "", begin + block, flags=re.MULTILINE), encoding="utf-8")
    (folder / "devices.yaml").write_text(
        "electrical:\n  sources: [{id: BAT, kind: battery}]\n  protection: [{id: F1, kind: breaker, rating: 5 A}]\n"
        "  loads: [{id: LAND, current: 4 A, nature: led}]\n  bundles: [{id: WING}]\n",
        encoding="utf-8",
    )
    project = read(folder)
    assert project.problems == ()
    assert [wire.id for wire in project.sections["electrical"].wires] == ["W1", "W2"]


def test_columns_of_one_list_among_several(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "w.csv").write_text("Tag,From,To\nW1,A,B\n", encoding="utf-8")
    (tmp_path / "p.csv").write_text("Tag,Kind\nASI,instrument\n", encoding="utf-8")
    lists = ["--wires", str(tmp_path / "w.csv"), "--panel", str(tmp_path / "p.csv")]
    for columns, said in {
        "id=Tag": "say which list has 'id', for example wires.id=Tag",
        "wire.id=Tag": "there is no list 'wire' here",
        "wires.id": "wanted a field and its column",
        "wires.idd=Tag": "names no field 'idd'",
    }.items():
        assert main(["new", str(tmp_path / "a"), *lists, "--columns", columns]) == 2
        assert said in capfd.readouterr().err
        assert not (tmp_path / "a").exists()
    assert main(["new", str(tmp_path / "a"), *lists, "--columns", "wires.id=Tag, panel.id=tag"]) == 0
    assert [item.id for item in read(tmp_path / "a").sections["panel"].items] == ["ASI"]


def test_a_spreadsheet_for_a_folder_is_told_how(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["new", str(tmp_path / "tern"), "--from-csv", "w.csv"]) == 2
    assert "a new folder takes its lists with --wires, --panel and --weights" in capsys.readouterr().err


def test_a_list_with_units_below_a_second_table_and_commas_for_points(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "w.csv").write_text(
        "Wire;From;To;Length\n;;;mm\nW1;A;B;90,5\n\nTo;From;Wire\nC;B;W2\n", encoding="utf-8"
    )
    assert main(["new", "wires", "--from-csv", str(tmp_path / "w.csv")]) == 0
    assert yaml.safe_load(capfd.readouterr().out)["electrical"]["wires"] == [
        {"id": "W1", "from": "A", "to": "B", "length": "90.5 mm"},
        {"id": "W2", "from": "B", "to": "C"},
    ]
