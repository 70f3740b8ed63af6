"""Animals and plants in a real browser: what animals choose, where they climb, a plant dragged to more
light, and the same for everyone."""

from __future__ import annotations

import re
import shutil

import pytest

from .conftest import EXAMPLES, Served, open_window, serious_faults

MEADOW, ROCK = "school-meadow.yaml", "dry-rock.yaml"
PARTS = ("choice", "ways", "room", "kin", "plants", "ground")


def opened(page, served: Served, file: str = MEADOW) -> None:
    """The page, once the engines have said all that it shows."""
    page.goto(served.page("life", file))
    page.locator(".tabs").wait_for()
    page.wait_for_function(
        "() => !document.querySelector('.life-head .busy') && "
        "document.querySelectorAll('.life-side .finding').length > 1", timeout=240_000,
    )  # fmt: skip


def part(page, name: str) -> None:
    page.locator(f"#tab-{name}").click()
    page.locator(f"#tab-{name}[aria-selected='true']").wait_for()


def place(page, ident: str) -> tuple[float, float]:
    """Where a thing of the scene is on the page."""
    number = page.eval_on_selector(".scene", "e => e.id.slice(1)")
    x, y = page.evaluate(f"getElement({number}).where({ident!r})")
    return x, y


def crown_of(page, plant: str) -> str:
    """The thing of the scene at the top of a plant."""
    number = page.eval_on_selector(".scene", "e => e.id.slice(1)")
    name = f"{plant} crown"
    return page.evaluate(f"getElement({number}).data.things.find(t => t.name === {name!r}).id")


def light_of(page, plant: str) -> float:
    text = page.locator(f"td[data-light='{plant}']").inner_text().split()[0]
    return float(text)


def cells(page, column: int) -> list[str]:
    return page.locator(
        f"table[data-table='choice'] tbody tr > :nth-child({column})"
    ).all_inner_texts()


def test_from_what_they_choose_to_a_plant_in_more_light(served: Served, window) -> None:
    opened(window, served)
    # The choice chart: every place is drawn and told, and both follow the hour.
    places = cells(window, 1)
    assert {"left basking", "log hide", "laying spot"} <= set(places)
    marks = window.locator(".choice .spot")
    assert marks.count() == len(places)
    noon, drawn = cells(window, 3), marks.first.get_attribute("transform")
    assert float(noon[places.index("left basking")]) > 1.0
    window.locator("[data-control='choice-hour']").focus()
    for _ in range(10):
        window.keyboard.press("ArrowRight")
    window.locator("svg[data-hour='22']").wait_for()
    night = cells(window, 3)
    assert {float(v) for v in night} == {0.0}
    assert marks.first.get_attribute("transform") != drawn
    window.get_by_role("button", name="in winter").click()
    window.get_by_text("The choice at 22:00, in winter").wait_for()

    # The climbing graph is laid over the scene, and taken off again.
    part(window, "ways")
    window.locator("canvas[data-climb*='links']").wait_for()
    assert re.fullmatch(r"\d\d links, \d+ ways",
                        window.get_attribute(".scene canvas", "data-climb") or "")  # fmt: skip
    assert window.locator(".tag-end").count() == 3
    assert "7 of 7 named places are within reach" in window.inner_text("#life-part")
    window.get_by_role("cell", name="keeps off the ground").first.wait_for()

    part(window, "room")
    assert "veterinary practice" in window.inner_text(".standard h3")
    assert window.locator(".state-cell .word").count() >= 4

    part(window, "kin")
    assert window.locator(".kin-one").count() == 14
    dill = window.locator(".kin-one", has_text="Dill")
    dill.focus()
    window.keyboard.press("Enter")
    assert "parents known: Anise and Clover" in window.inner_text(".chart-told")

    # A plant is dragged: its light is told on the way, and written where it is let go.
    part(window, "plants")
    window.wait_for_function("() => document.querySelector('.scene canvas').dataset.climb === ''")
    window.locator("[data-plant='fern']").click()
    before = light_of(window, "fern")
    text = (served.folder / MEADOW).read_text("utf-8")
    x, y = place(window, crown_of(window, "fern"))
    window.mouse.move(x, y + 10)
    window.mouse.down()
    for step in range(1, 13):
        window.mouse.move(x - 7 * step, y + 10 + 2 * step)
        window.wait_for_timeout(30)
    window.locator("td[data-light='fern'] .live").wait_for()
    window.locator(".scene-moving b", has_text="light").wait_for()
    window.wait_for_timeout(1500)
    told = light_of(window, "fern")
    assert told != before
    assert (served.folder / MEADOW).read_text("utf-8") == text  # nothing is written on the way
    window.mouse.up()
    window.locator("td[data-light='fern'] .live").wait_for(state="detached")
    # The whole habitat's light says what was told on the way, but for what the plant itself gives back.
    assert light_of(window, "fern") == pytest.approx(told, abs=0.15)
    window.keyboard.press("Control+s")
    window.get_by_text("comments kept").wait_for()
    saved = (served.folder / MEADOW).read_text("utf-8")
    (old,), (new,) = (re.findall(r"name: fern, .*?at: \[(.*?)\]", t) for t in (text, saved))
    assert old != new
    assert saved.count("#") == text.count("#")
    assert len(saved.splitlines()) == len(text.splitlines())
    # The plants' findings are among those of the Habitat page.
    window.goto(served.page("habitat", MEADOW))
    window.locator(".finding[data-need='plant-stature']").first.wait_for(timeout=120_000)
    window.locator(".finding[data-need='group-size']").first.wait_for()
    assert "loamwright check" not in window.inner_text(".side-findings .caution:last-child")
    window.get_by_role("button", name="undo").click()
    window.get_by_role("button", name="save").click()
    window.get_by_text("comments kept").wait_for()


def test_a_plant_is_added_moved_by_keyboard_and_removed(served: Served, window) -> None:
    opened(window, served)
    part(window, "plants")
    rows = window.locator("table[data-table='plants'] tbody tr")
    count = rows.count()
    window.select_option("[data-control='plant-species']", "spathiphyllum-wallisii")
    window.get_by_role("button", name="add plant").click()
    window.wait_for_function(
        "n => document.querySelectorAll(\"table[data-table='plants'] tbody tr\").length === n",
        arg=count + 1,
    )
    mine = rows.last
    assert mine.get_attribute("aria-current") == "true"
    assert "peace lily" in mine.inner_text()
    name = mine.locator(".entry").inner_text()
    window.wait_for_function(
        "n => /\\d/.test(document.querySelector(`td[data-light='${n}']`).textContent)", arg=name
    )
    window.locator(".scene-stage").focus()
    window.keyboard.press("Control+ArrowRight")
    window.locator(f"button[title='Undo: move {name}']").wait_for()
    window.get_by_role("button", name=f"remove {name}").click()
    window.wait_for_function(
        "n => document.querySelectorAll(\"table[data-table='plants'] tbody tr\").length === n",
        arg=count,
    )
    for _ in range(3):
        window.get_by_role("button", name="undo").click()
        window.wait_for_timeout(300)
    window.wait_for_function("() => document.querySelector('.state').textContent.includes('saved')")


def test_in_us_units_on_a_phone_without_names_as_markup(served: Served, browser) -> None:
    text = (EXAMPLES / ROCK).read_text("utf-8")
    wild = text.replace("name: gasteria", 'name: "<img src=x onerror=alert(1)>"', 1)
    assert wild != text
    (served.folder / ROCK).write_text(wild)
    shutil.copytree(EXAMPLES / "parts", served.folder / "parts", dirs_exist_ok=True)
    windows = open_window(browser)
    page = next(windows)
    page.set_viewport_size({"width": 390, "height": 844})
    opened(page, served, ROCK)
    assert "°F" in page.inner_text("table[data-table='choice'] thead")
    for name in PARTS:
        part(page, name)
        page.wait_for_timeout(400)
        wide = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide[0] <= wide[1], (name, wide)
    part(page, "ways")
    assert re.search(r"\d in\b", page.inner_text("#life-part"))
    part(page, "plants")
    assert "<img src=x" in page.inner_text("table[data-table='plants']")
    part(page, "ground")
    assert "Nothing of this ground is moist" in page.inner_text("#life-part")
    # The part is still the chosen one after a reload, which a change of units makes.
    page.reload()
    page.locator("#tab-ground[aria-selected='true']").wait_for()
    with pytest.raises(StopIteration):
        next(windows)


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_part_has_a_serious_fault(served: Served, browser, dark: bool) -> None:
    windows = open_window(browser, color_scheme="dark" if dark else "light",
                          reduced_motion="reduce", bypass_csp=True)  # fmt: skip
    page = next(windows)
    opened(page, served)
    found = {}
    for name in PARTS:
        part(page, name)
        page.wait_for_timeout(500)
        found[name] = serious_faults(page)
    assert not any(found.values()), found
    # The parts are tabs: arrows go from one to the next.
    page.locator("#tab-ground").focus()
    page.keyboard.press("ArrowRight")
    page.locator("#tab-choice[aria-selected='true']").wait_for()
    with pytest.raises(StopIteration):
        next(windows)
