"""Words to be engraved: exactly those that a general CAD library edited are told."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from ezdxf.filemanagement import readfile

from jurystrut.cli import main
from jurystrut.panel_drawing import comparing
from jurystrut.panel_drawing.commands import compared, drawn, report
from jurystrut.panel_drawing.comparing import Comparison, compare
from jurystrut.panel_drawing.contours import Contour
from jurystrut.panel_drawing.engraving import Words, compare_words
from jurystrut.testing import project_of

if TYPE_CHECKING:
    from collections.abc import Callable

RECORDS = project_of("""
panel:
  outline: [[0 in, 0 in], [12 in, 0 in], [12 in, 7 in], [0 in, 7 in]]
  legends:
    - {id: L-MASTER, text: MASTER, centre: [2 in, 1 in], letter_height: 0.14 in}
    - {id: L-PUMP, text: FUEL PUMP, centre: [6 in, 1 in], letter_height: 0.14 in}
    - {id: L-ON-A, text: "ON", centre: [2 in, 2 in], letter_height: 0.14 in}
    - {id: L-ON-B, text: "ON", centre: [6 in, 2 in], letter_height: 0.14 in}
""")


def edited(folder: Path, edit: Callable[[Any, dict[str, Any]], object]) -> Comparison:
    """The written drawing after an edit of its words, held against the records."""
    path = folder / "panel.dxf"
    path.write_text(drawn(RECORDS, None), encoding="utf-8")
    document = readfile(path)
    space: Any = document.modelspace()
    edit(space, {text.dxf.text: text for text in space.query("TEXT")})
    document.saveas(path)
    return compared(RECORDS, path, sheet=None, tolerance=0.005, unit=None, layer=None)


def told(comparison: Comparison) -> dict[str, str]:
    return {difference.name: difference.words for difference in comparison.differences}


def test_what_is_written_agrees(tmp_path: Path) -> None:
    assert edited(tmp_path, lambda space, texts: None) == Comparison((), 1, (0.0, 0.0), 4)


def test_a_word_spelt_differently(tmp_path: Path) -> None:
    comparison = edited(tmp_path, lambda space, texts: texts["MASTER"].dxf.set("text", "MATSER"))
    assert told(comparison) == {"L-MASTER": "the drawing reads MATSER, recorded MASTER"}
    assert comparison.words == 3


def test_a_word_left_out(tmp_path: Path) -> None:
    comparison = edited(tmp_path, lambda space, texts: texts["FUEL PUMP"].destroy())
    assert told(comparison) == {"L-PUMP": "its words are not in the drawing: FUEL PUMP"}


@pytest.mark.parametrize(("by", "differs"), [(0.031, False), (0.032, True), (3.5, True)])
def test_a_word_moved(tmp_path: Path, by: float, differs: bool) -> None:
    """A thirty-second of an inch, 0.03125, is granted to words."""
    comparison = edited(tmp_path, lambda space, texts: texts["MASTER"].translate(by, 0, 0))
    message = f"its words stand at [{2 + by:.3f} in, 1.000 in], recorded [2.000 in, 1.000 in]"
    assert told(comparison) == ({"L-MASTER": message} if differs else {})


def test_letters_made_smaller(tmp_path: Path) -> None:
    comparison = edited(tmp_path, lambda space, texts: texts["MASTER"].dxf.set("height", 0.1))
    assert told(comparison) == {"L-MASTER": "its letters are 0.100 in high, recorded 0.140 in"}


def test_a_word_that_no_record_has(tmp_path: Path) -> None:
    def add(space: Any, _: object) -> None:
        space.add_text("STARTER", height=0.14, dxfattribs={"layer": "ENGRAVE", "insert": (9, 5)})

    (difference,) = edited(tmp_path, add).differences
    assert difference.name == "not recorded"
    assert difference.words.startswith("the drawing reads STARTER at [9.")


def test_words_placed_by_their_corner_or_on_several_lines_are_found(tmp_path: Path) -> None:
    """MASTER from its lower left corner, as most programs place it; FUEL PUMP as a paragraph about its middle."""

    def redraw(space: Any, texts: dict[str, Any]) -> None:
        for text in ("MASTER", "FUEL PUMP"):
            texts[text].destroy()
        space.add_text("MASTER", height=0.14, dxfattribs={"layer": "ENGRAVE", "insert": (1.66, 0.93)})
        paragraph = {"layer": "ENGRAVE", "insert": (6, 1), "char_height": 0.14, "attachment_point": 5}
        space.add_mtext("FUEL\\PPUMP", dxfattribs=paragraph)

    assert edited(tmp_path, redraw).differences == ()


def test_a_drawing_moved_as_a_whole_takes_its_words_along() -> None:
    recorded = [Words("L", "ON", (2.0, 1.0), 0.14)]
    drawn_words = [Words("", "on", (12.0, 21.0), 0.14)]
    assert compare_words(recorded, drawn_words, (-10.0, -20.0), 0.005) == ([], 1)


def test_without_a_layer_to_engrave_the_words_are_not_compared(tmp_path: Path) -> None:
    path = tmp_path / "cut.svg"
    path.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" width="12in" height="7in" viewBox="0 0 12 7">'
        '<path d="M0 0H12V7H0Z"/></svg>'
    )
    comparison = compared(RECORDS, path, sheet=None, tolerance=0.005, unit=None, layer=None)
    assert comparison.words is None
    assert "its words were not compared" in report(comparison, path.name, 0.005)


def test_the_command_tells_a_misspelt_legend(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    example, path = Path(__file__).parents[2] / "project_example", tmp_path / "panel.dxf"
    assert main(["export-drawing", str(path), "--in", str(example)]) == 0
    path.write_text(path.read_text(encoding="utf-8").replace("PITOT HEAT", "PIOT HEAT"), encoding="utf-8")
    assert main(["compare-drawing", str(path), "--in", str(example)]) == 1
    assert "L-SW-PITOT: the drawing reads PIOT HEAT, recorded PITOT HEAT" in capsys.readouterr().out


def test_four_times_the_holes_make_four_times_the_comparisons(monkeypatch: pytest.MonkeyPatch) -> None:
    """Counted, so no clock decides: whether all holes agree, or all were moved."""

    def count(side: int, moved: float) -> int:
        done = 0
        apart = comparing._apart

        def counted(one: Contour, other: Contour) -> float:
            nonlocal done
            done += 1
            return apart(one, other)

        holes = [Contour(f"H{x}-{y}", (1.5 * x, 1.5 * y, 0.25)) for x in range(side) for y in range(side)]
        outline = Contour("outline", corners=((-1, -1, 0), (1.5 * side, -1, 0), (1.5 * side, 1.5 * side, 0)))
        with monkeypatch.context() as patch:
            patch.setattr(comparing, "_apart", counted)
            found = compare([outline, *holes], [outline, *(hole.moved(moved, 0) for hole in holes)], 0.001)
        assert len(found.differences) == (side**2 if moved else 0)
        return done

    for moved in (0.0, 0.2):
        assert count(20, moved) < 5 * count(10, moved)
