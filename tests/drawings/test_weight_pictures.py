"""The pictures of the weights: well-formed, placed where their figures say, safe whatever a record holds."""

from __future__ import annotations

import math
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from shapely import Point, Polygon

from jurystrut.calculations.balance import Body
from jurystrut.calculations.envelope import Envelope
from jurystrut.calculations.loadings import Place, border
from jurystrut.drawings.possible_loadings import Band, Burn, draw_possible_loadings, outline
from jurystrut.drawings.svg import escaped
from jurystrut.drawings.weight_budget import Part, Weighed, draw_weight_budget, draw_weight_history
from jurystrut.drawings.weight_svg import Sheet, ticks

EXAMPLE = Path(__file__).parents[2] / "project_example"
SVG = "{http://www.w3.org/2000/svg}"
BOX = Envelope(((900, 9.0), (1300, 9.0), (1300, 16.0), (900, 16.0)), "arm")
EMPTY, PLACES = Body(900, 10), [Place(100, 200, 20), Place(0, 120, 8), Place(0, 40, 44)]


def picture(**more: object) -> str:
    lines = (border(EMPTY, PLACES, "forward"), border(EMPTY, PLACES, "aft"))
    return draw_possible_loadings(BOX, *lines, 1200, **more)  # type: ignore[arg-type]


def words_of(svg: str) -> list[str]:
    return [element.text or "" for element in ET.fromstring(svg).iter(f"{SVG}text")]  # noqa: S314 - our own text


def path_of(svg: str, style: str) -> list[tuple[float, float]]:
    (element,) = [e for e in ET.fromstring(svg).iter(f"{SVG}path") if style in (e.get("fill"), e.get("stroke-width"))]  # noqa: S314
    numbers = [float(number) for number in re.findall(r"-?[\d.]+", element.get("d") or "")]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


@pytest.mark.parametrize(
    ("low", "high", "expected"), [(0, 8, list(range(9))), (780, 1320, [800, 900, 1000, 1100, 1200, 1300])]
)
def test_ticks_are_round(low: float, high: float, expected: list[float]) -> None:
    assert ticks(low, high) == pytest.approx(expected)


def test_the_hatched_area_is_all_that_can_be_loaded_below_gross() -> None:
    """Points on the sheet go back to arm and weight; a loading is inside the area exactly if it is not above gross weight."""
    svg = picture()
    area = path_of(svg, "url(#hatch)")
    corners = path_of(svg, "2.5")
    # The envelope's corners tell the scales of both axes.
    (x0, y0), (x1, y1) = corners[0], corners[2]
    region = Polygon([(9 + (x - x0) / (x1 - x0) * 7, 900 + (y - y0) / (y1 - y0) * 400) for x, y in area])
    assert region.is_valid
    for loads in ((150, 60, 20), (200, 0, 40), (100, 120, 0), (100, 0, 0), (160, 30, 5)):
        whole = EMPTY.weight + sum(loads)
        arm = (EMPTY.moment + sum(p.arm * load for p, load in zip(PLACES, loads, strict=True))) / whole
        near = Point(arm, whole)
        assert region.buffer(0.05).contains(near) == (whole <= 1200)
    assert max(y for _, y in region.exterior.coords) == pytest.approx(1200, abs=0.5)


def test_an_envelope_joined_in_moment_is_drawn_curved() -> None:
    sloped = ((1500, 35.0), (1950, 35.0), (2300, 38.5), (2300, 47.3), (1500, 47.3))
    assert outline(Envelope(sloped, "arm")) == [(arm, weight) for weight, arm in sloped]
    curved = outline(Envelope(sloped, "moment"))
    # Half way up the slope, at 2,125 lb, the limit stands at (1950 x 35 + 2300 x 38.5) / 2 / 2125 = 36.894 in.
    assert any(math.isclose(weight, 2125) and math.isclose(arm, 36.894, abs_tol=1e-3) for arm, weight in curved)


def test_every_loading_is_told_in_figures_and_marked_by_a_shape() -> None:
    svg = picture(
        burns=[Burn("SOLO", ((1120.0, 11.0), (1000.0, 11.4))), Burn("TWO", ((1200.0, 12.0),))],
        band=Band(900, 10, 8, 0.2),
    )
    words = words_of(svg)
    assert "1  SOLO: 1120.0 at 11.00; 1000.0 at 11.40" in words
    assert "2  TWO: 1200.0 at 12.00" in words
    assert any("900.0 ± 8.0 lb at 10.00 ± 0.20 in" in word for word in words)
    assert "gross 1200" in words
    assert "<circle" in svg
    assert "url(#dots)" in svg


def test_the_pictures_hold_no_colour() -> None:
    for svg in (picture(), draw_weight_budget([Part("empty", 800)], 1320)):
        colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', svg))
        greys = {"none", "black", "white", "#333", "#555", "#777", "#bbb", "#ddd"}
        assert colours <= greys | {"url(#hatch)", "url(#dots)", "url(#cross)"}


def test_what_a_record_holds_cannot_leave_its_text() -> None:
    svg = picture(name='<script>"&', burns=[Burn("</text><x/>", ((1000.0, 11.0),))])
    assert "<script>" not in svg
    assert any("</text><x/>" in word for word in words_of(svg))
    assert escaped("a\x00b\ud800") == "a\ufffdb\ufffd"


def test_the_budget_adds_up() -> None:
    svg = draw_weight_budget([Part("empty", 800), Part("occupants", 350), Part("fuel", 120)], 1320, (1262.0, 1290.0))
    title = ET.fromstring(svg).find(f"{SVG}title")  # noqa: S314
    assert title is not None
    assert title.text == "Weight budget: 50.0 lb left"
    assert "1262.0 to 1290.0 lb within the uncertainty" in words_of(svg)
    over = draw_weight_budget([Part("empty", 1330)], 1320)
    assert "10.0 lb too much" in over


def test_the_history_shows_every_weight_and_refuses_none() -> None:
    words = words_of(
        draw_weight_history(
            [Weighed("2026-02", 780, 700, 900), Weighed("2026-10", 797, 796, 798)], Part("are the most", 830)
        )
    )
    assert {"780.0", "797.0", "2026-02", "2026-10", "830.0", "dash-dotted line: 830.0 lb are the most"} <= set(words)
    with pytest.raises(ValueError, match="no weight"):
        draw_weight_history([])


@pytest.mark.parametrize(("count", "named"), [(1, 1), (9, 9), (10, 5), (400, 9)])
def test_of_many_moments_some_are_named_and_always_the_last(count: int, named: int) -> None:
    svg = draw_weight_history([Weighed(f"day {number}", 800 + number, 799, 1300) for number in range(count)])
    days = [word for word in words_of(svg) if word.startswith("day ")]
    assert (len(days), days[-1]) == (named, f"day {count - 1}")
    described = ET.fromstring(svg).find(f"{SVG}desc")  # noqa: S314 - our own text
    assert described is not None
    assert (described.text or "").count("day ") == count


def git(folder: Path, *words: str) -> None:
    subprocess.run(["git", "-C", str(folder), *words], check=True, capture_output=True)


def commit(folder: Path, components: str, day: str) -> None:
    (folder / "a.yaml").write_text(
        f"aircraft: {{name: T, authority: US, stage: design, limits: {{gross_weight: 1320 lb}}}}\n"
        f"fuel: {{density: 6 lb/US gal}}\nweights:\n  goal: {{occupants: 2, occupant: 170 lb, fuel: 20 US gal}}\n"
        f"  components: {components}\n"
    )
    git(folder, "add", "-A")
    author = ("-c", "user.name=Builder", "-c", "user.email=builder@example.org", "-c", "commit.gpgsign=false")
    git(folder, *author, "commit", "-qm", day, "--date", f"{day}T12:00:00")


def test_the_command_draws_the_weight_over_the_commits(tmp_path: Path) -> None:
    git(tmp_path, "init", "-q")
    commit(tmp_path, "[{id: ALL, weight: 700 lb, arm: 10 in, basis: estimated}]", "2026-01-05")
    commit(tmp_path, "[{id: ALL, weight: many}]", "2026-02-05")  # cannot be read
    commit(tmp_path, "[]", "2026-03-05")  # adds up to nothing
    commit(tmp_path, "[{id: ALL, weight: 790 lb, arm: 10 in, basis: weighed}]", "2026-04-05")
    command = [sys.executable, "-m", "jurystrut", "draw", "weight-history", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    words = words_of(done.stdout)
    # An estimate is expected to grow by 20 %: 840 lb. Gross weight leaves 1320 - 2 * 170 - 20 * 6 = 860 lb.
    assert {"2026-01-05", "840.0", "2026-04-05", "790.0"} <= set(words)
    assert "860.0" in words
    assert "dash-dotted line: 860.0 lb leave the load wanted below gross weight" in words
    assert not {"2026-02-05", "2026-03-05"} & set(words)


def test_the_weight_over_no_commits_is_refused(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "jurystrut", "draw", "weight-history", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert "no git repository" in done.stderr
    git(tmp_path, "init", "-q")
    commit(tmp_path, "[]", "2026-03-05")
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert "no commit holds weights" in done.stderr


def test_a_point_goes_where_the_axes_say() -> None:
    sheet = Sheet((100, 100), (0, 10), (0, 10), "t", "d")
    sheet.left, sheet.right, sheet.top, sheet.bottom = 10, 10, 10, 10
    assert sheet.at((0, 0)) == (10, 90)
    assert sheet.at((10, 5)) == (90, 50)


@pytest.mark.parametrize("name", ["possible-loadings", "weight-budget"])
def test_the_command_draws_the_example(name: str) -> None:
    command = [sys.executable, "-m", "jurystrut", "draw", name, str(EXAMPLE)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert "Marsh Warbler" in " ".join(words_of(done.stdout))


def test_the_command_says_what_is_missing(tmp_path: Path) -> None:
    (tmp_path / "a.yaml").write_text("aircraft: {name: T, authority: US, stage: design}\n")
    command = [sys.executable, "-m", "jurystrut", "draw", "weight-budget", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert "weights" in done.stderr


def test_what_can_be_loaded_is_drawn_before_any_loading_is_declared(tmp_path: Path) -> None:
    limits = "{gross_weight: 1300 lb, cg_envelope_joined_in: arm, cg_envelope: [" + ", ".join(
        f"{{weight: {weight} lb, arm: {arm} in}}" for weight, arm in ((900, 9), (1300, 9), (1300, 16), (900, 16))
    )
    (tmp_path / "a.yaml").write_text(
        f"aircraft: {{name: T, authority: US, stage: design, limits: {limits}]}}}}\nfuel: {{tanks: []}}\n"
        "weights:\n  components: [{id: ALL, weight: 900 lb, arm: 10 in, basis: weighed}]\n"
        "  stations: [{id: SEAT, kind: seat, arm: 20 in, minimum: 120 lb, maximum: 200 lb}]\n"
        "  goal: {occupants: 1, occupant: 170 lb}\n"
    )
    for picture, words in (
        ("possible-loadings", "gross 1300"),
        ("weight-budget", "(2) 1 x 170 lb, occupants: 170.0 lb"),
    ):
        command = [sys.executable, "-m", "jurystrut", "draw", picture, str(tmp_path)]
        done = subprocess.run(command, capture_output=True, encoding="utf-8", env=os.environ, check=False)
        assert (done.returncode, done.stderr) == (0, "")
        assert words in words_of(done.stdout)
