"""Windows and macOS: paths in findings have / between their parts, whatever the system; and what a record may not name."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from jurystrut.cli import main
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile, decoded, record_files

EXAMPLE = Path(__file__).parents[2] / "project_example"
AIRCRAFT = "aircraft: {name: Test, authority: US, stage: design}\n"


def problems_with(path: str) -> list[str]:
    text = f"{AIRCRAFT}documents: [{{id: D, kind: x, evidence: '{path}'}}]\n"
    return [problem.message for problem in read_files([RecordFile("one.yaml", text)]).problems]


@pytest.mark.parametrize(
    "path",
    [
        PureWindowsPath("C:/scans/d.pdf"),
        PureWindowsPath("scans/d.pdf"),
        PureWindowsPath("//server/share/d.pdf"),
        PureWindowsPath("C:d.pdf"),
        PurePosixPath("/Volumes/Build/d.pdf"),
        PurePosixPath("~/d.pdf"),
    ],
    ids=str,
)
def test_a_path_of_one_system_alone_is_no_path_in_a_record(path: PureWindowsPath | PurePosixPath) -> None:
    assert len(problems_with(str(path))) == 1


def test_the_same_path_with_slashes_is_one_on_every_system() -> None:
    assert problems_with(PureWindowsPath("scans/d.pdf").as_posix()) == []


def test_paths_in_problems_have_slashes_and_begin_at_the_root(tmp_path: Path) -> None:
    (tmp_path / "electrical" / "wing").mkdir(parents=True)
    (tmp_path / "electrical" / "wing" / "lights.yaml").write_text("electrcal: {}\n", encoding="utf-8")
    assert [file.path for file in record_files(tmp_path)] == ["electrical/wing/lights.yaml"]
    assert str(read(tmp_path).problems[0].position) == "electrical/wing/lights.yaml:1:1"


@pytest.mark.parametrize("end", [b"\n", b"\r\n"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
def test_windows_line_ends_and_a_byte_order_mark(mark: bytes, end: bytes) -> None:
    data = mark + (AIRCRAFT + "electrical:\n  buses:\n    - {id: MAIN, ratng: 80 A}\n").encode().replace(b"\n", end)
    assert [str(problem.position) for problem in read_files([decoded("a.yaml", data)]).problems] == ["a.yaml:4:18"]


def test_a_file_in_utf_16_is_told_with_advice() -> None:
    found = read_files([decoded("a.yaml", AIRCRAFT.encode("utf-16"))]).problems
    assert any("save the file as UTF-8" in problem.message for problem in found)


def test_names_decomposed_as_macos_does_and_with_blanks(tmp_path: Path) -> None:
    folder = tmp_path / "Mu\u0308we 1"
    folder.mkdir()
    (folder / "a.yaml").write_text(AIRCRAFT, encoding="utf-8")
    (folder / ".DS_Store").write_bytes(b"\x00")
    (folder / "._a.yaml").write_bytes(b"\x00\x05\x16\x07")  # beside a file on a foreign volume
    assert main(["check", str(folder)]) == 0
    assert read(folder).files == ("a.yaml",)


# Names that Windows keeps for devices, whatever their ending, and signs that its names cannot hold ("Naming Files, Paths, and
# Namespaces" in the documentation of its programming interface; from memory).
DEVICES = ["con.yaml", "Aux.yaml", "wing/NUL.yaml", "prn.left.yaml", "com1.yaml", "LPT9.yml", "nul/a.yaml"]
SIGNS = [
    "2026-05-03 10:30.yaml",
    "what?.yaml",
    "a<b.yaml",
    "a|b.yaml",
    "a*.yaml",
    '"a".yaml',
    "wing\\a.yaml",
    "a./b.yaml",
    "a /b.yaml",
]


@pytest.mark.parametrize("name", [*DEVICES, *SIGNS])
def test_a_name_that_windows_cannot_have_is_told(name: str) -> None:
    (problem,) = read_files([RecordFile("a0.yaml", AIRCRAFT), RecordFile(name, "fuel: {}\n")]).problems
    assert (problem.position.file, problem.message) == (name, "Windows can have no file of this name; rename it")


@pytest.mark.parametrize(
    "name",
    [
        "console.yaml",
        "a/auxiliary.yaml",
        "com10.yaml",
        "com.yaml",
        "my con.yaml",
        "a b/c-d_e.yaml",
        "\u00e9.yaml",
        "x.con.yaml",
    ],
)
def test_other_names_are_let_be(name: str) -> None:
    assert read_files([RecordFile("a0.yaml", AIRCRAFT), RecordFile(name, "fuel: {}\n")]).problems == ()


def allowed_on_windows(name: str) -> bool:
    stem = name.partition(".")[0].strip().lower()
    device = stem in {"con", "prn", "aux", "nul"} or re.fullmatch("(com|lpt)[0-9]", stem)
    return not device and not set(name) & set('<>:"/\\|?*') and name.isprintable() and name[-1] not in ". "


def test_what_is_written_has_names_that_every_system_can_have(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    """Ids and names of records are no part of them, however they are called."""
    lists = {
        "wires": "Wire,From,To\nNUL,CON,AUX\n",
        "panel": "Item,Kind\nCOM1,switch\n",
        "weights": "Item,Weight (lb)\ncon,1\n",
    }
    options = []
    for word, text in lists.items():
        (tmp_path / f"{word}.csv").write_text(text, encoding="utf-8")
        options += [f"--{word}", str(tmp_path / f"{word}.csv")]
    folder = tmp_path / "new"
    assert main(["new", str(folder), "--name", "con: <aux>?", *options]) == 0
    placards = "{id: CON, text: 'NUL: <LPT1>', purpose: other}, {id: NUL, text: x, purpose: other}"
    (folder / "markings.yaml").write_text(f"markings: {{placards: [{placards}]}}\n", encoding="utf-8")
    assert read(folder).problems == ()
    assert main(["placards", str(folder), "-o", str(tmp_path / "sheets")]) == 0
    assert main(["check", str(folder), "--output", str(tmp_path / "report.txt")]) == 0
    written = [path for path in tmp_path.rglob("*") if path.suffix != ".csv"]
    assert len(written) > 15
    assert any("sheets" in path.parts and path.is_file() for path in written)
    assert [
        str(path) for path in written for part in path.relative_to(tmp_path).parts if not allowed_on_windows(part)
    ] == []


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_a_spreadsheet_of_any_system_is_read(
    tmp_path: Path, mark: str, end: str, capfd: pytest.CaptureFixture[str]
) -> None:
    text = 'Item,"Weight\n(lb)"\nBattery,12.6\n"Seat\nleft",9\n'
    (tmp_path / "w.csv").write_bytes((mark + text.replace("\n", end)).encode())
    assert main(["new", "weights", "--from-csv", str(tmp_path / "w.csv")]) == 0
    lines = capfd.readouterr().out.splitlines()
    assert lines[-2:] == [
        '    - {id: BATTERY, what: "Battery", weight: 12.6 lb}',
        '    - {id: SEAT-LEFT, what: "Seat left", weight: 9 lb}',
    ]


def test_a_spreadsheet_in_the_letters_of_one_country_is_told_what_to_do(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "w.csv").write_bytes("Item,Weight (lb)\ncaf\u00e9,1\n".encode("cp1252"))
    assert main(["new", "weights", "--from-csv", str(tmp_path / "w.csv")]) == 2
    assert 'is no UTF-8 text; save the spreadsheet anew, as "CSV UTF-8"' in capsys.readouterr().err


def test_other_line_ends_than_in_the_commit_are_no_change(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    """As where git turns line ends into those of Windows on checking out."""
    folder = Path(shutil.copytree(EXAMPLE, tmp_path / "build"))
    who = ("-c", "user.name=A Builder", "-c", "user.email=builder@example.invalid", "-c", "commit.gpgsign=false")
    for arguments in (
        ("init", "-q"),
        ("-c", "core.autocrlf=false", "add", "."),
        (*who, "commit", "-q", "-m", "records"),
    ):
        subprocess.run(["git", *arguments], cwd=folder, check=True)
    said = []
    for end in ("\n", "\r\n"):
        for path in folder.rglob("*.yaml"):
            lines = path.read_text("utf-8").replace(
                "{id: W19, from: SW-ENG, to: ENG, size: 14", "{id: W19, from: SW-ENG, to: ENG, size: 16"
            )
            path.write_text(lines, encoding="utf-8", newline=end)
        assert main(["compare", "HEAD", "--in", str(folder), "--on", "2026-11-25"]) == 1
        said.append(capfd.readouterr().out)
    assert said[0] == said[1]
    assert "caused by electrical/engine.yaml:48" in said[0]


@pytest.mark.parametrize("there", ["photo.JPG", "Photo.jpg", "PHOTO.JPG"])
def test_evidence_that_differs_in_capitals_is_told_by_its_name(tmp_path: Path, there: str) -> None:
    (tmp_path / "scans").mkdir()
    (tmp_path / "scans" / there).write_text("x")
    if (tmp_path / "scans" / "photo.jpg").exists():  # a system that takes both for one
        return
    (tmp_path / "a.yaml").write_text(AIRCRAFT + "documents: [{id: D, kind: x, evidence: scans/photo.jpg}]\n", "utf-8")
    evidence = read(tmp_path).evidence or {}
    assert evidence["scans/photo.jpg"].trouble == (
        f"there is no such file; '{there}' is there: write the name with the same capitals"
    )
