"""Spreadsheets of weights: units wherever builders put them, nothing guessed, nothing lost."""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
from typing import TYPE_CHECKING, Any

import pytest

from jurystrut.errors import UsageError
from jurystrut.reading import read_files
from jurystrut.reading.files import RecordFile
from jurystrut.reading.spreadsheet import records_of

if TYPE_CHECKING:
    from pathlib import Path

    from jurystrut.records.weights import Component

AIRCRAFT = "aircraft: {name: T, authority: US, stage: design}\n"


def components(text: str, **chosen: str) -> tuple[Component, ...]:
    """The records read back from the text that the import wrote."""
    project = read_files([RecordFile("a.yaml", AIRCRAFT), RecordFile("w.yaml", records_of(text, "w.csv", chosen).text)])
    assert project.problems == ()
    found: tuple[Component, ...] = project.sections["weights"].components
    return found


def figures(component: Component) -> tuple[float | None, float | None]:
    weight = round(component.weight.to("lb"), 6) if component.weight else None
    return weight, round(component.arm.to("in"), 6) if component.arm else None


@pytest.mark.parametrize(
    "text",
    [
        "Item,Weight (lb),Arm [in]\nBattery,12.6,-21.5\n",
        "Item,Weight,Arm\n,lb,in\nBattery,12.6,-21.5\n",
        "Item,Weight,Arm\n,(lb),(in)\nBattery,12.6,-21.5\n",
        "Item,Weight,Arm\nBattery,12.6 lb,-21.5 in\n",
        "Item;Weight (lb);Arm (in)\nBattery;12,6;-21,5\n",
        "Our aeroplane\nItem;Weight (lb);Arm (in)\nBattery;12,6;-21,5\n",
        "Item\tWeight (lb)\tArm (in)\nBattery\t12.6\t-21.5\n",
        '\ufeffMy aeroplane,,\n\nItem,"Weight, lb","Arm, in"\nBattery,12.6,-21.5\n',
        "DESCRIPTION,WT (lb),STATION (in)\nBattery,12.6,-21.5\n",
    ],
)
def test_units_and_names_wherever_they_stand(text: str) -> None:
    (battery,) = components(text)
    assert (battery.id, battery.what, figures(battery)) == ("BATTERY", "Battery", (12.6, -21.5))


def test_kilograms_and_millimetres_stay_what_they_are() -> None:
    (battery,) = components("Item,Mass (kg),Arm (mm)\nBattery,5.5,-546.1\n")
    assert figures(battery) == (round(5.5 / 0.45359237, 6), -21.5)  # exact by definition of the pound and the inch


def test_nothing_is_lost() -> None:
    """Every cell of the spreadsheet stands somewhere in the result: as a field, or in a comment."""
    text = (
        "Serial 7,,,,\nItem,Weight (lb),Arm (in),Moment,Remark\nBattery,12.6,-21.5,-270.9,type 18\n"
        "Seat,about nine,24,,\nTotal,21.6,,,all\n,4,2,,\n"
    )
    result = records_of(text, "w.csv").text
    for row in csv.reader(io.StringIO(text)):
        for cell in row:
            assert cell in result or cell in {"Item", "Weight (lb)", "Arm (in)", "Moment", "Remark"}
    assert "Moment: -270.9; Remark: type 18" in result


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("Seat,about nine,24", "row 2: weight 'about nine'"),
        ("Seat,9,back", "row 2: arm 'back'"),
        ("Seat,9 in,24", "row 2: weight '9 in'"),
        ("Total,21.6,", "row 2: 'Total' is no part"),
        (",4,2", "row 2: no name and no id"),
        ('"Seat","1,200",24', "row 2: weight '1,200'"),
    ],
)
def test_what_cannot_be_read_is_said_and_kept(row: str, words: str) -> None:
    imported = records_of(f"Item,Weight (lb),Arm (in)\n{row}\n", "w.csv")
    assert len(imported.unread) == 1
    assert words in imported.unread[0]
    assert "    # row 2 not read: " in imported.text
    assert components(f"Item,Weight (lb),Arm (in)\n{row}\n") == ()


def test_a_number_without_any_unit_is_not_guessed() -> None:
    imported = records_of("Item,Weight,Arm (in)\nSeat,9,24\n", "w.csv")
    assert imported.unread == ("w.csv, row 2: weight 9 has no unit, in its cell, its column's name or below that",)


def test_a_thousand_and_a_decimal_comma_are_not_confused() -> None:
    imported = records_of("Item;Weight (lb)\nSeat;1,234\n", "w.csv")
    assert len(imported.unread) == 1


@pytest.mark.parametrize(
    ("word", "basis"),
    [("Actual", "weighed"), ("data sheet", "catalogue"), ("CALC", "calculated"), ("guess", "estimated"), ("", None)],
)
def test_how_a_weight_is_known(word: str, basis: str | None) -> None:
    (seat,) = components(f"Item,Weight (lb),Basis\nSeat,9,{word}\n")
    assert seat.basis == basis


def test_a_word_for_the_basis_that_is_not_known_is_kept_as_a_comment() -> None:
    text = "Item,Weight (lb),Basis\nSeat,9,my uncle said so\n"
    assert components(text)[0].basis is None
    assert "# Basis: my uncle said so" in records_of(text, "w.csv").text


def test_ids_are_made_once_each() -> None:
    found = components('Item,Weight (lb)\n"Seat, left",9\nSeat left,9\nSeat-left,8\n"---",1\n')
    assert [component.id for component in found] == ["SEAT-LEFT", "SEAT-LEFT-2", "SEAT-LEFT-3", "PART"]


def test_columns_by_other_names() -> None:
    (seat,) = components(
        "Thing,As built (lb),Where (in)\nSeat,9,24\n", what="Thing", weight="As built (lb)", arm="Where (in)"
    )
    assert figures(seat) == (9, 24)
    with pytest.raises(UsageError, match="no column 'Wo' for 'arm'"):
        records_of("Item,Weight (lb)\nSeat,9\n", "w.csv", {"arm": "Wo"})


@pytest.mark.parametrize("text", ["", "Item,Arm\nSeat,24\n", "12,13\n"])
def test_a_file_without_a_weight_is_refused(text: str) -> None:
    with pytest.raises(UsageError, match=r"no row that names the columns of .* components \(what or id, weight\)"):
        records_of(text, "w.csv")


def test_hostile_cells_stay_words() -> None:
    (part,) = components('Item,Weight (lb),Note\n"a: {b}\n- c # \u202ed",9,"x\n    - {id: EVIL}"\n')
    assert part.what == "a: {b} - c # d"
    assert part.id == "A-B-C-D"


def test_the_command(tmp_path: Path) -> None:
    path = tmp_path / "weights.csv"
    path.write_text("Item,Weight (lb),Arm (in)\nBattery,12.6,-21.5\nSeat,nine,24\n", encoding="utf-8")
    command = [sys.executable, "-m", "jurystrut", "new", "weights", "--from-csv", str(path)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert done.returncode == 2
    assert done.stdout.splitlines()[:4] == [
        "# From weights.csv.",
        "weights:",
        "  components:",
        '    - {id: BATTERY, what: "Battery", weight: 12.6 lb, arm: -21.5 in}',
    ]
    assert done.stderr.startswith("weights.csv, row 3: weight 'nine'")


SHEET = """\
Marsh Warbler,,,,,
Item,Weight (lb),Arm (in),,,
Battery,12.6,-21.5,,,
,,,,,
Place,Kind,Arm,Min,Max,
,,in,lb,lb,
Left seat,pilot,22,120,240,
Shelf behind the seats,baggage,44,,40,door locks
Right seat,,22,0,240,
,,,,,
Wheel,Scale reading (kg),Tare (kg),Arm (mm),Zero (kg),Date
Nose,75.2,0.9,-970,,2026-10-24
Left wheel,145.8,1.4,571.5,0.2,2026-10-24
RH,143.2,1.4,571.5,,2026-10-24
"""


def weights_of(text: str, day: str = "") -> Any:
    """The section read back from the text that the import wrote."""
    imported = records_of(text, "w.csv", {}, day)
    project = read_files([RecordFile("a.yaml", AIRCRAFT), RecordFile("w.yaml", imported.text)])
    assert project.problems == ()
    return project.sections["weights"]


def test_a_sheet_may_hold_components_places_and_a_weighing() -> None:
    weights = weights_of(SHEET)
    assert [component.id for component in weights.components] == ["BATTERY"]
    places = [(s.id, s.kind, s.minimum and s.minimum.to("lb"), round(s.maximum.to("lb"), 6)) for s in weights.stations]
    assert places == [
        ("LEFT-SEAT", "seat", 120, 240),
        ("SHELF-BEHIND-THE-SEATS", "baggage", None, 40),
        ("RIGHT-SEAT", "seat", 0, 240),
    ]
    (weighing,) = weights.weighings
    assert (str(weighing.day), [scale.wheel for scale in weighing.scales]) == (
        "2026-10-24",
        ["nose", "left-main", "right-main"],
    )
    assert [round(scale.reading.si, 6) for scale in weighing.scales] == [75.2, 145.8, 143.2]
    assert [round(scale.arm.si, 6) for scale in weighing.scales] == [-0.97, 0.5715, 0.5715]
    assert [scale.zero.si if scale.zero else None for scale in weighing.scales] == [None, 0.2, None]
    imported = records_of(SHEET, "w.csv")
    assert imported.unread == ()
    assert "# column 6: door locks" in imported.text


def test_two_days_are_two_weighings() -> None:
    weights = weights_of("Wheel,Reading (lb),Day\nNose,160,2026-07-11\nNose,166,2026-10-24\nTail,30,2026-10-24\n")
    assert [(w.id, len(w.scales)) for w in weights.weighings] == [("WEIGHING-1", 1), ("WEIGHING-2", 2)]


def test_the_day_of_a_weighing_is_asked_for_and_never_guessed() -> None:
    text = "Wheel,Reading (lb)\nNose,160\n"
    imported = records_of(text, "w.csv")
    assert imported.unread == ("w.csv, row 2: the day of the weighing is not there; add --day",)
    assert '# row 2 not read: "Nose", "160"' in imported.text
    assert weights_of(text).weighings == ()
    assert str(weights_of(text, "2026-10-24").weighings[0].day) == "2026-10-24"
    assert records_of(text, "w.csv", {}, "24.10.2026").unread == (
        "w.csv, row 2: '24.10.2026' is no day such as 2026-10-24",
    )


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("Wheel,Reading (lb)\nBlock,160\n", "wheel 'Block' is none of nose, tail, left-main"),
        ("Wheel,Reading (lb)\nNose,\n", "no reading"),
        ("Wheel,Reading (lb)\nNose,160 in\n", "reading '160 in'"),
        ("Place,Kind,Arm (in),Max (lb)\nShelf,,44,40\n", "kind '' is none of seat, baggage, other"),
        ("Place,Kind,Arm (in),Max (lb)\nShelf,baggage,,40\n", "no arm"),
        ("Place,Kind,Arm (in),Max (lb)\nShelf,baggage,44,lots\n", "maximum 'lots'"),
        ("Place,Kind,Arm (in),Max (lb)\nTotal,,,520\n", "'Total' is no part"),
    ],
)
def test_what_cannot_be_read_of_places_and_wheels_is_said_and_kept(text: str, words: str) -> None:
    imported = records_of(text, "w.csv", {}, "2026-10-24")
    assert len(imported.unread) == 1
    assert words in imported.unread[0]
    assert "# row 2 not read: " in imported.text
    weights = weights_of(text, "2026-10-24")
    assert (weights.stations, weights.weighings) == ((), ())
