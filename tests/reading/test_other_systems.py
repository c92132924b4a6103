"""Windows and macOS: paths in findings have / between their parts, whatever the system; and what a record may not name."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath

import pytest

from jurystrut.cli import main
from jurystrut.reading import read, read_files
from jurystrut.reading.files import RecordFile, decoded, record_files

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
