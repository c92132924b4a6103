"""The readiness report in a real browser: everything visible, nothing cut, nothing fetched, nothing that axe-core minds.

Not collected by a plain run of the tests, since it needs more than Python packages. `.ci/run` installs what it needs, and
says where: CHROMIUM is the browser's program, AXE the script of axe-core.
"""

from __future__ import annotations

import datetime
import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any, Literal

import pytest
from playwright.sync_api import sync_playwright

from jurystrut.delivery import deliver
from jurystrut.readiness import Wish, build

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Browser, Page

ROOT = Path(__file__).parents[2]
DAY = datetime.date(2026, 11, 25)
CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
Scheme = Literal["light", "dark"]
Media = Literal["screen", "print"]
LOOKS: list[tuple[Scheme, Media]] = [("light", "screen"), ("dark", "screen"), ("light", "print"), ("dark", "print")]

# One inch is 96 units of CSS; paper less the margins of the page's own @page rule, 13 mm on each side.
PAPERS = {"A4": (210 - 26) / 25.4 * 96, "Letter": 8.5 * 96 - 26 / 25.4 * 96}

HOSTILE = "<script>document.title='taken'</script><img src=//x.example/y.png onerror=document.title='taken'>"


@pytest.fixture(scope="module")
def axe() -> str:
    return Path(os.environ["AXE"]).read_text("utf-8")


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser without its sandbox only where it would refuse to start with it: for the superuser."""
    arguments = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=CHROMIUM, args=arguments)
        yield started
        started.close()


@pytest.fixture(scope="module")
def example(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(ROOT / "project_example", tmp_path_factory.mktemp("example") / "report.html")


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("hostile")
    records = f"""
aircraft: {{name: "{HOSTILE}", authority: US, stage: inspection}}
documents: [{{id: D1, kind: "{HOSTILE}", text: "{HOSTILE}", evidence: photo.svg}}]
markings: {{placards: [{{id: P1, purpose: other, text: "{HOSTILE}"}}]}}
electrical:
  sources: [{{id: BAT, kind: battery}}]
  loads: [{{id: L1, current: 1 A, nature: lamp, what: "{HOSTILE}", duty: {{"{HOSTILE}": 100 %}}}}]
  wires: [{{id: W1, from: BAT, to: L1}}, {{id: W2, from: L1.return, to: BAT.return}}]
"""
    (folder / "records.yaml").write_text(records)
    (folder / "photo.svg").write_text(
        "<svg xmlns='http://www.w3.org/2000/svg' onload='parent.document.title=1'><image href='//x.example/y'/></svg>"
    )
    return written(folder, folder / "report.html")


def written(records: Path, output: Path) -> Path:
    deliver(build(Wish(records, on=DAY), lambda _: None)[0], str(output))
    return output


class Opened:
    """A page, with all that it said, asked for and threw."""

    def __init__(
        self, browser: Browser, path: Path, *, scheme: Scheme = "light", media: Media = "screen", width: int = 1100
    ) -> None:
        self.noise: list[str] = []
        self.page: Page = browser.new_page(viewport={"width": width, "height": 1200}, bypass_csp=True)
        self.page.emulate_media(color_scheme=scheme, media=media)
        self.page.on("console", lambda message: self.noise.append(f"console: {message.text}"))
        self.page.on("pageerror", lambda error: self.noise.append(f"error: {error}"))
        self.page.on(
            "request", lambda request: self.noise.append(request.url[:80]) if not own(request.url, path) else None
        )
        self.page.goto(path.as_uri())

    def ask(self, script: str) -> Any:
        return self.page.evaluate(script)


def own(url: str, path: Path) -> bool:
    return url == path.as_uri() or url.startswith("data:")


@pytest.mark.parametrize(("scheme", "media"), LOOKS)
def test_axe_finds_nothing(browser: Browser, example: Path, axe: str, scheme: Scheme, media: Media) -> None:
    opened = Opened(browser, example, scheme=scheme, media=media)
    opened.ask(axe)
    found = opened.ask("axe.run()")
    assert len(found["passes"]) > 20
    assert [(v["id"], v["nodes"][0]["html"]) for v in found["violations"]] == []


def test_axe_itself_works(browser: Browser, axe: str, tmp_path: Path) -> None:
    faulty = tmp_path / "faulty.html"
    faulty.write_text("<!doctype html><p style='color:#aaa'>pale<img src='data:image/png;base64,'>")
    opened = Opened(browser, faulty)
    opened.ask(axe)
    found = {v["id"] for v in opened.ask("axe.run()")["violations"]}
    assert {"color-contrast", "image-alt", "html-has-lang"} <= found


@pytest.mark.parametrize("which", ["example", "hostile"])
def test_nothing_is_said_and_nothing_is_fetched(browser: Browser, which: str, request: pytest.FixtureRequest) -> None:
    opened = Opened(browser, request.getfixturevalue(which))
    opened.page.wait_for_timeout(300)
    assert opened.noise == []


def test_hostile_words_are_words(browser: Browser, hostile: Path) -> None:
    opened = Opened(browser, hostile)
    assert "taken" not in opened.page.title().split("<")[0]
    assert opened.ask("document.querySelectorAll('script, main img:not([src^=\"data:\"])').length") == 0
    assert opened.page.inner_text("h1") == HOSTILE
    assert HOSTILE in opened.page.inner_text("#placards ~ *")


CUT_WORDS = """
[...document.querySelectorAll('svg.drawing')].flatMap(svg => {
  const room = svg.viewBox.baseVal
  return [...svg.querySelectorAll('text')].filter(text => {
    const box = text.getBBox()
    return box.x < -1 || box.y < -1 || box.x + box.width > room.width + 1 || box.y + box.height > room.height + 1
  }).map(text => svg.getAttribute('aria-labelledby') + ': ' + text.textContent)
})
"""

CROSSING_WORDS = """
[...document.querySelectorAll('svg.drawing')].flatMap(svg => {
  const texts = [...svg.querySelectorAll('text')].filter(t => t.textContent.trim())
  const boxes = texts.map(t => t.getBBox()), found = []
  for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
    const a = boxes[i], b = boxes[j], slack = 2.5
    const beside = a.x + slack > b.x + b.width || b.x + slack > a.x + a.width
    const below = a.y + slack > b.y + b.height || b.y + slack > a.y + a.height
    if (!beside && !below)
      found.push(texts[i].textContent + ' / ' + texts[j].textContent)
  }
  return found
})
"""


@pytest.mark.parametrize("script", [CUT_WORDS, CROSSING_WORDS], ids=["cut", "crossing"])
def test_no_words_of_a_drawing_are_cut_or_cross_each_other(browser: Browser, example: Path, script: str) -> None:
    assert Opened(browser, example).ask(script) == []


@pytest.mark.parametrize(("scheme", "media"), LOOKS)
def test_every_drawing_is_visible(browser: Browser, example: Path, scheme: Scheme, media: Media) -> None:
    opened = Opened(browser, example, scheme=scheme, media=media)
    sizes = opened.ask(
        "[...document.querySelectorAll('svg.drawing')].map(s => s.getBoundingClientRect()).map(b => [b.width, b.height])"
    )
    assert len(sizes) >= 9
    assert all(width > 300 and height > 40 for width, height in sizes)


@pytest.mark.parametrize("paper", PAPERS)
def test_nothing_is_wider_than_the_paper(browser: Browser, example: Path, paper: str) -> None:
    opened = Opened(browser, example, media="print", width=int(PAPERS[paper]))
    wide = opened.ask(
        "[...document.querySelectorAll('table, svg, img, p, h1, h2, h3')]"
        ".filter(e => e.getBoundingClientRect().right > innerWidth + 1).map(e => e.outerHTML.slice(0, 80))"
    )
    assert wide == []


@pytest.mark.parametrize("paper", PAPERS)
def test_it_prints(browser: Browser, example: Path, paper: str) -> None:
    """A tagged file of many pages, each of the paper's own size in points."""
    data = Opened(browser, example).page.pdf(format=paper, print_background=True, tagged=True, outline=True)
    assert data.startswith(b"%PDF")
    assert b"/StructTreeRoot" in data
    boxes = {tuple(map(float, box.split())) for box in re.findall(rb"/MediaBox\s*\[([^\]]*)\]", data)}
    wanted = {"A4": (595, 842), "Letter": (612, 792)}[paper]
    assert len(boxes) == 1
    assert [round(side) for side in next(iter(boxes))[2:]] == pytest.approx(wanted, abs=1)
    assert len(re.findall(rb"/Type\s*/Page\b", data)) > 10


@pytest.mark.parametrize("width", [320, 640])
def test_a_narrow_window_scrolls_one_way_only(browser: Browser, example: Path, width: int) -> None:
    opened = Opened(browser, example, width=width)
    assert opened.ask("document.documentElement.scrollWidth <= innerWidth")


def test_the_keyboard_reaches_the_skip_link_first_and_every_region_that_scrolls(
    browser: Browser, example: Path
) -> None:
    opened = Opened(browser, example)
    opened.page.keyboard.press("Tab")
    assert opened.ask("document.activeElement.className") == "skip"
    unreachable = opened.ask(
        "[...document.querySelectorAll('.scroll')].filter(e => e.tabIndex !== 0 || !e.getAttribute('aria-label')).length"
    )
    assert unreachable == 0
