"""The page in a real browser: by mouse, by keyboard, by touch; and what axe says of every view."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

from conftest import ROOT, count, need
from web.serving import server

FLAGS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--use-gl=angle",
    "--use-angle=swiftshader",
    "--enable-unsafe-swiftshader",
)
QUIET = re.compile(r"GL Driver Message|GPU stall|WebGL|willReadFrequently|status of 4(?:09|22)", re.I)
VIEWS = ("plan", "drawings", "turn", "lists", "steps", "pack")
DESK, TABLET, PHONE = (1440, 900), (1024, 768), (390, 844)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    need(program="chromium")
    need(module="playwright")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as play:
        made = play.chromium.launch(executable_path="/usr/bin/chromium", args=list(FLAGS))
        yield made
        made.close()


@contextmanager
def page_of(browser: Any, folder: Path, size: tuple[int, int] = DESK) -> Iterator[Any]:
    """An opened page; whatever the browser complains about fails the test."""
    touch = size[0] < 500
    with server(folder) as address:
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            has_touch=touch,
            is_mobile=touch,
            accept_downloads=True,
        )
        page = context.new_page()
        page.set_default_timeout(30_000)
        told: list[str] = []
        page.on("pageerror", lambda error: told.append(str(error)))
        page.on(
            "console",
            lambda m: (
                told.append(m.text) if m.type in ("error", "warning") and not QUIET.search(m.text) else None
            ),
        )
        page.goto(address)
        page.wait_for_selector("h1")
        yield page
        context.close()
        assert told == [], told


def open_demo(page: Any, letter: str = "A") -> None:
    page.get_by_role("button", name=re.compile(f"^{letter}: ")).click()
    page.wait_for_selector(".board canvas")
    settle(page)


def settle(page: Any) -> None:
    """Wait until the plan belongs to the job as it stands."""
    page.wait_for_selector(".number b")
    wait = expecting()
    wait(page.locator(".working")).to_have_count(0, timeout=30_000)
    wait(page.locator(".numbers.old")).to_have_count(0, timeout=30_000)


def said(page: Any, words: str) -> None:
    """Wait until the result strip says so."""
    expecting()(page.locator(".strip-said")).to_contain_text(words, timeout=30_000)


def expecting() -> Any:
    from playwright.sync_api import expect

    return expect


def number(page: Any, words: str) -> int:
    text = page.locator(".number", has_text=words).locator("b").inner_text()
    return int(text.replace(",", ""))


def spot(page: Any, name: str) -> tuple[float, float]:
    """Where a location stands on the screen, by the page's own board."""
    found = page.evaluate(
        """name => {
          const board = document.querySelector('.board').board;
          const feature = board.sources.boxes.getFeatures().find((f) => f.get('id') === name);
          const [x, y] = board.map.getPixelFromCoordinate(feature.getGeometry().getCoordinates());
          const box = document.querySelector('.board').getBoundingClientRect();
          return [box.left + x, box.top + y];
        }""",
        name,
    )
    return found[0], found[1]


def test_the_main_job_by_mouse(browser: Any, tmp_path: Path) -> None:
    """Open a house, drag a box, see what it changed, apply a fix, undo, make the pack and read it back."""
    with page_of(browser, tmp_path) as page:
        page.get_by_text("None yet. Open a demo house").wait_for()
        open_demo(page)
        assert number(page, "runs") == 39
        x, y = spot(page, "A09")
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x, y - 30, steps=5)
        page.mouse.up()
        said(page, "Moved A09")
        settle(page)
        assert page.locator(".strip-said").inner_text().startswith("Moved A09 in Bed 2 to ")
        assert re.search(r"ft|way", page.locator(".strip-said b").inner_text())
        assert page.get_by_role("heading", name=re.compile("^A09, Bed 2")).is_visible()
        page.keyboard.press("Control+z")
        said(page, "one step back")
        settle(page)
        page.get_by_role("button", name="Back to the list").click()
        page.get_by_role("link", name="Pack").click()
        page.get_by_role("button", name="Make the pack").click()
        with page.expect_download(timeout=60_000) as got:
            page.get_by_role("link", name="Download the PDF").click(timeout=60_000)
        assert Path(got.value.path()).read_bytes().startswith(b"%PDF-")
        page.get_by_role("link", name="Steps and saves").click()
        page.get_by_label("Name of this state").fill("as drawn")
        page.get_by_role("button", name="Save under this name").click()
        page.wait_for_selector(".saves b")
        page.get_by_role("link", name="Bayrun, all jobs").click()
        page.get_by_role("link", name=re.compile("House A")).wait_for()


def test_everything_by_keyboard(browser: Any, tmp_path: Path) -> None:
    """Place a box by wall and offset, add a port, move it by an inch, strike it: no pointer at all."""
    with page_of(browser, tmp_path) as page:
        page.get_by_role("button", name=re.compile("^A: ")).focus()
        page.keyboard.press("Enter")
        page.wait_for_selector(".board canvas")
        settle(page)
        page.keyboard.press("l")
        page.get_by_text("Without a pointer").focus()
        page.keyboard.press("Enter")
        page.get_by_label("Wall", exact=True).select_option("A-W26")
        page.get_by_label("Seen from").select_option("left")
        page.get_by_label("From the wall's start").fill("8' 4")
        page.get_by_role("button", name="Place it").focus()
        page.keyboard.press("Enter")
        said(page, "Placed a box")
        settle(page)
        assert number(page, "runs") == 40
        page.keyboard.press("Escape")
        page.locator("summary", has_text="Locations on level 1 (27)").focus()
        page.keyboard.press("Enter")
        page.get_by_role("button", name=re.compile("^A27")).focus()
        page.keyboard.press("Enter")
        page.get_by_role("heading", name="A27, Dining").wait_for()
        page.get_by_role("button", name="One D more").focus()
        page.keyboard.press("Enter")
        said(page, "gets 2 D")
        settle(page)
        assert number(page, "runs") == 41
        page.get_by_label("From the wall's start").fill("a bit further")
        page.keyboard.press("Enter")
        page.get_by_role("alert").get_by_text("expected").wait_for()
        page.get_by_label("From the wall's start").fill("8' 5-1/2")
        page.keyboard.press("Enter")
        said(page, "Moved A27")
        settle(page)
        page.get_by_role("button", name="Strike this location").focus()
        page.keyboard.press("Enter")
        said(page, "Struck A27")
        settle(page)
        assert number(page, "runs") == 39


def test_the_main_job_by_touch(browser: Any, tmp_path: Path) -> None:
    """At the width of a phone: choose a box by finger, change its ports, undo."""
    with page_of(browser, tmp_path, PHONE) as page:
        page.get_by_role("button", name=re.compile("^A: ")).tap()
        page.wait_for_selector(".board canvas")
        settle(page)
        for _ in range(2):
            page.get_by_role("button", name="Larger").tap()
            page.wait_for_timeout(250)
        x, y = spot(page, "A14")
        page.touchscreen.tap(x, y)
        page.get_by_role("heading", name=re.compile("^A14, ")).wait_for()
        more = page.get_by_role("button", name="One T more")
        size = more.bounding_box()
        assert size is not None
        assert min(size["width"], size["height"]) >= 45, "a gloved finger needs 12 mm"
        more.tap()
        said(page, "gets 2 T")
        settle(page)
        page.get_by_role("button", name="Undo").tap()
        said(page, "one step back")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), (
            "nothing stands out sideways"
        )


def on_plan(page: Any, x: float, y: float) -> tuple[float, float]:
    """A plan point on the screen."""
    found = page.evaluate(
        """([x, y]) => {
          const holder = document.querySelector('.board');
          const [px, py] = holder.board.map.getPixelFromCoordinate([x, y]);
          const box = holder.getBoundingClientRect();
          return [box.left + px, box.top + py];
        }""",
        [x, y],
    )
    return found[0], found[1]


def test_a_house_is_drawn_from_nothing(browser: Any, tmp_path: Path) -> None:
    """Walls, a door, trusses, the enclosure, a location: drawn, planned, dragged, undone to nothing."""
    with page_of(browser, tmp_path) as page:
        page.get_by_label("Name of the job").fill("Birch Lane, lot 4")
        page.get_by_role("button", name="Draw an empty house").click()
        page.wait_for_selector(".board canvas")
        page.get_by_text("Nothing is drawn yet").wait_for()
        settle(page)
        page.keyboard.press("w")
        page.get_by_label("Points fall on every").select_option('6"')
        corners = [(0, 0), (480, 0), (480, 312), (0, 312), (0, 0)]
        for n, (x, y) in enumerate(corners):
            page.mouse.click(*on_plan(page, x + 2, y - 1))
            if n:
                said(page, "Drew a wall")
                expecting()(page.locator(".strip-said")).to_contain_text("40'" if n % 2 else "26'")
        page.get_by_label("Kind", exact=True).select_option("inside 2x4")
        page.mouse.click(*on_plan(page, 1, 168))
        page.mouse.click(*on_plan(page, 480, 169))
        said(page, "Drew a wall 40' 0\" long (inside 2x4)")
        page.mouse.click(*on_plan(page, 229, 1))
        page.mouse.move(*on_plan(page, 231, 90))
        page.get_by_label("Length of this wall").fill("14'")
        page.keyboard.press("Enter")
        said(page, "Drew a wall 14' 0\"")
        page.keyboard.press("Escape")
        page.keyboard.press("o")
        page.mouse.click(*on_plan(page, 100, 168))
        said(page, "Door 2' 8\" wide in wall")
        page.keyboard.press("Escape")
        page.locator("summary", has_text="Overhead, and levels").click()
        page.get_by_role("button", name="Lay them over level 1").click()
        said(page, "Roof trusses over level 1")
        page.keyboard.press("e")
        page.mouse.click(*on_plan(page, 222, 60))
        said(page, "Enclosure in wall")
        page.keyboard.press("Escape")
        page.keyboard.press("l")
        page.mouse.click(*on_plan(page, 300, 172))
        said(page, "Placed a box with one D")
        page.keyboard.press("Escape")
        settle(page)
        assert number(page, "run") == 1
        page.locator("summary", has_text="Rooms and walls on level 1").click()
        assert page.locator(".chip", has_text="Room").count() == 3
        page.get_by_role("button", name=re.compile("^W05 wall")).click()
        page.get_by_label(re.compile("^Move toward")).fill('-8"')
        page.get_by_role("button", name="Move", exact=True).click()
        said(page, "Moved wall")
        settle(page)
        for _ in range(12):
            page.keyboard.press("Control+z")
            page.wait_for_timeout(150)
        page.get_by_role("button", name="Undo").wait_for()
        expecting()(page.get_by_role("button", name="Undo")).to_be_disabled()


def test_two_windows_on_one_job(browser: Any, tmp_path: Path) -> None:
    """The second is told what the first did, and may make its edit on top."""
    with page_of(browser, tmp_path) as page:
        open_demo(page)
        other = page.context.new_page()
        other.goto(page.url)
        other.wait_for_selector(".board canvas")
        settle(other)
        choose(page, "A09")
        choose(other, "A07")
        page.get_by_role("button", name="One D more").click()
        said(page, "gets")
        other.get_by_role("button", name="One D more").click()
        other.get_by_role("alertdialog").get_by_text("another window: A09").wait_for()
        other.get_by_role("button", name="Do it on the job as it stands now").click()
        said(other, "A07")
        settle(other)
        assert number(other, "runs") == 41


def choose(page: Any, name: str) -> None:
    page.get_by_text(re.compile("Locations on level")).click()
    page.get_by_role("button", name=re.compile(f"^{name} ")).click()
    page.get_by_role("heading", name=re.compile(f"^{name}, ")).wait_for()


def axe(page: Any) -> list[str]:
    source = ROOT / "tools" / "web" / "node_modules" / "axe-core" / "axe.min.js"
    if not source.exists():
        need(program="axe-core (npm ci in tools/web)")
    page.evaluate(source.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [f"{v['id']}: {[n['target'] for n in v['nodes'][:3]]}" for v in found["violations"]]


@pytest.mark.parametrize("size", [DESK, PHONE, TABLET][: count(2, 3)], ids=lambda size: f"{size[0]}")
def test_every_view_is_whole_and_accessible(browser: Any, tmp_path: Path, size: tuple[int, int]) -> None:
    with page_of(browser, tmp_path, size) as page:
        assert axe(page) == []
        page.get_by_role("button", name=re.compile("^B: ")).click()
        page.wait_for_selector(".board canvas")
        settle(page)
        for view in VIEWS:
            page.evaluate("view => { location.hash = location.hash.replace(/[^/]*$/, view); }", view)
            page.wait_for_timeout(600)
            assert axe(page) == [], view
            assert page.evaluate("document.documentElement.scrollWidth <= innerWidth"), view
        page.evaluate("() => { location.hash = location.hash.replace(/[^/]*$/, 'plan'); }")
        choose(page, "B01")
        assert axe(page) == []
        page.get_by_role("button", name="Sun").click()
        assert axe(page) == [], "in the sun"
