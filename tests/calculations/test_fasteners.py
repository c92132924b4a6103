"""Part numbers, stacks, torque and rivets against published lists and text."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jurystrut.calculations.fasteners import (
    BoltSteps,
    Stack,
    decoded,
    grip_and_length,
    rivet_length,
    threads_per_inch,
    torque_window,
    wrench_reading,
)


@pytest.mark.parametrize(
    ("part", "diameter", "eighths", "material", "head", "shank"),
    [
        ("AN3-7", 0.190, 7, "steel", False, True),
        ("AN4-15A", 0.25, 13, "steel", False, False),
        ("AN5H-27A", 0.3125, 23, "steel", True, False),
        ("AN6DD-10", 0.375, 8, "aluminium", False, True),
        ("an8c-20a", 0.5, 16, "stainless", False, False),
        ("AN20-40", 1.25, 32, "steel", False, True),
    ],
)  # designation of AN3 to AN20 as suppliers' copies of the drawing explain it
def test_part_numbers(part: str, diameter: float, eighths: int, material: str, head: bool, shank: bool) -> None:
    bolt = decoded(part)
    assert (bolt.diameter, bolt.eighths, bolt.material) == (diameter, eighths, material)
    assert (bolt.drilled_head, bolt.drilled_shank) == (head, shank)


@pytest.mark.parametrize("dash", [8, 9, 18, 19, 28, 39])
def test_dash_numbers_end_in_0_to_7(dash: int) -> None:
    with pytest.raises(ValueError, match=f"no dash number {dash}"):
        decoded(f"AN4-{dash}A")


@pytest.mark.parametrize(
    "part", ["AN2-5", "AN11-5", "AN21-5", "AN4", "AN4-", "AN4-100", "AN4-5B", "AN04-05", "NAS1304-5", ""]
)
def test_what_is_no_part_number_is_refused(part: str) -> None:
    with pytest.raises(ValueError, match=r"no series|not the part number|no dash"):
        decoded(part)


@given(st.text(max_size=12))
def test_any_text_is_a_bolt_or_refused(text: str) -> None:
    try:
        bolt = decoded(text)
    except ValueError:
        return
    assert 3 <= bolt.series <= 20


def test_dimensions_beyond_the_tables_are_refused() -> None:
    steps = {4: BoltSteps(0.4375, 0.031)}
    assert grip_and_length(decoded("AN4-27"), {}, steps) == (2.4375, 2.906)
    for part, why in (
        ("AN4-30", "end at dash 27"),
        ("AN7-10", "not in the tables"),
        ("AN4-2", "no AN4-2"),
        ("AN4-7", "no AN4-7"),
    ):
        with pytest.raises(ValueError, match=why):
            grip_and_length(decoded(part), {}, steps)


def test_a_stack_by_hand() -> None:
    # NAVEDTRA 14014: the shank ends in the last part or in the washer. 0.063 + 0.5 + 0.032 = 0.595 in.
    stack = Stack(0.063, 0.5, 0.032)
    assert stack.thickness == pytest.approx(0.595)
    assert stack.spare_grip(0.625) == pytest.approx(0.030)
    # 0.563 - 0.5005 in = 1/16 in at 32 threads to the inch
    assert stack.threads_in_hole(0.5005, "10-32") == pytest.approx(2.0)
    assert stack.threads_in_hole(0.563, "10-32") == 0


@pytest.mark.parametrize(("thread", "pitch"), [("10-32", 32), ("1/4-28", 28), ("1-1/8-12", 12), ("1-14", 14)])
def test_pitch_stands_in_the_name(thread: str, pitch: int) -> None:
    assert threads_per_inch(thread) == pitch


def test_drag_is_added_to_both_ends() -> None:
    # AC 43.13-1B paragraph 7-40 on table 7-1, 1/4-28: 50 to 70 with 7 of drag; AN320 without drag 30 to 40
    assert torque_window(50, 70, 7) == (57, 77)
    assert torque_window(30, 40, 0) == (30, 40)


def test_an_adapter_lets_the_wrench_show_less() -> None:
    # AC 43.13-1B figure 7-2, from memory: 100 in-lb, 10 in of wrench and 2 in of adapter, which may also point backwards
    assert wrench_reading(100, 10, 2) == pytest.approx(83.33, abs=0.005)
    assert wrench_reading(100, 10, 0) == 100
    assert wrench_reading(100, 10, -2) == 125
    with pytest.raises(ValueError, match="no lever"):
        wrench_reading(100, 10, -10)


def test_rivet_length_is_grip_and_a_half_diameters() -> None:
    # NAVEDTRA 14018: two sheets of 0.040 in and a rivet of 1/8 in
    assert rivet_length(0.080, 0.125) == pytest.approx(0.2675)


@pytest.mark.parametrize(
    ("series", "thread"),
    [
        *((3, "10-32"), (4, "1/4-28"), (5, "5/16-24"), (6, "3/8-24"), (7, "7/16-20"), (8, "1/2-20")),
        *(
            (9, "9/16-18"),
            (10, "5/8-18"),
            (12, "3/4-16"),
            (14, "7/8-14"),
            (16, "1-14"),
            (18, "1-1/8-12"),
            (20, "1-1/4-12"),
        ),
    ],
)
def test_the_thread_of_every_series(series: int, thread: str) -> None:
    """AC 43.13-1B table 7-1 names them; a series is its diameter in sixteenths of an inch, but for AN3."""
    assert decoded(f"AN{series}-20").thread == thread
    if series > 3:
        size = thread.rpartition("-")[0]
        assert sum(Fraction(part) for part in size.split("-")) == Fraction(series, 16)
