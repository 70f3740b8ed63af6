"""From a finding to what mends it, in plain words; a change taken back leaves nothing behind."""

from __future__ import annotations

import re
import shutil

from .conftest import EXAMPLES, Served, open_window, settled
from .test_paths import field, pick, set_field

MEADOW = "school-meadow.yaml"


def quiet(page, seconds: float = 120.0) -> None:
    """Wait until the engines have nothing left to do."""
    page.wait_for_function(
        "() => document.querySelectorAll('.finding').length > 3 && !document.querySelector('.busy')",
        timeout=seconds * 1000,
    )


def found(page, need: str) -> list[str]:
    return page.locator(f".finding[data-need='{need}'] .value").all_inner_texts()


def test_a_finding_opens_the_entry_that_mends_it(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    pick(window, "uv")
    was = field(window, "lamps[0].dim").input_value()
    set_field(window, "lamps[0].dim", "5 %")
    basking = window.locator(".finding[data-need='uv-basking'].is-missed").first
    basking.wait_for()
    window.locator(".tree details:nth-of-type(3) .entry").nth(1).click()
    window.locator(".form h2", has_text=re.compile("^(?!uv$)")).wait_for()
    basking.locator("summary").click()
    window.locator(".finding[data-need='uv-basking'] .steps button").first.click()
    window.locator(".form h2", has_text=re.compile("^uv$")).wait_for()
    assert field(window, "lamps[0].dim").input_value() == "5 %"
    window.get_by_role("button", name="undo").click()
    window.wait_for_function(
        "v => document.querySelector(\"[data-field='lamps[0].dim']\").value === v", arg=was
    )


def test_deeper_ground_that_buries_is_said_to_be_worse_and_is_taken_back(browser, tmp_path) -> None:
    """The ground made deeper over the ways into hides is missed; taken back, all is as it was, to
    the last digit."""
    folder, state = tmp_path / "habitats", tmp_path / "state"
    folder.mkdir()
    state.mkdir()
    shutil.copy(EXAMPLES / "rain-glass.yaml", folder)
    served = Served(folder, state)
    served.start()
    windows = open_window(browser)
    page = next(windows)
    try:
        page.goto(served.page("habitat", "rain-glass.yaml"))
        quiet(page)
        page.locator(".finding[data-need='buried'].is-met").wait_for()
        needs = ("buried", "air-warm", "humidity-day", "ground-moist", "holiday")
        before = {need: found(page, need) for need in needs}
        assert all(before.values())
        page.locator(".tree summary", has_text=re.compile("^ground")).click()
        pick(page, "mix")
        depth = page.locator("[data-field$='.depth']")
        name = depth.get_attribute("data-field")
        assert name is not None
        was = depth.input_value()
        set_field(page, name, f"{float(was.split()[0]) + 4:g} cm")
        page.locator(".finding[data-need='buried'].is-missed").wait_for(timeout=120_000)
        worse = page.locator(".changed li.worse", has_text="stand out of the ground")
        worse.first.wait_for()
        quiet(page)
        page.get_by_role("button", name="undo").click()
        page.locator(".finding[data-need='buried'].is-met").wait_for(timeout=120_000)
        quiet(page)
        assert {need: found(page, need) for need in needs} == before
        # The ground's page leads to the entry as well.
        page.goto(served.page("ground", "rain-glass.yaml"))
        step = page.locator(".ground-found .steps a").first
        step.wait_for(state="attached", timeout=120_000)
        page.goto(served.address + str(step.get_attribute("href")))
        page.locator(".form .field").first.wait_for()
    finally:
        windows.close()
        served.end()
    assert "Traceback" not in served.log, served.log


def test_hours_and_mist_are_typed_in_plain_words(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    hours = field(window, "lamps[0].hours")
    was = hours.input_value()
    assert "{" not in was
    set_field(window, "lamps[0].hours", "09:15 to 16:45")
    window.wait_for_function(
        "() => document.querySelector('.state').textContent.includes('not saved')"
    )
    window.get_by_role("button", name="save").click()
    window.get_by_text("comments kept").wait_for()
    saved = (served.folder / MEADOW).read_text()
    assert re.search(r'hours: \{from: "09:15", to: "16:45"\}', saved), saved
    set_field(window, "lamps[0].hours", "sometimes")
    row = window.locator(".field", has=hours)
    row.locator(".said").first.wait_for()
    set_field(window, "lamps[0].hours", was)
    window.get_by_role("button", name="save").click()


def test_ten_people_see_their_own_changes(browser, served: Served) -> None:
    """Ten browsers on one file, each with its own draft: none sees the others' lamps."""
    people = [browser.new_context(viewport={"width": 1000, "height": 700}) for _ in range(10)]
    try:
        pages = [p.new_page() for p in people]
        for page in pages:
            page.set_default_timeout(60_000)
            page.goto(served.page("habitat", MEADOW))
        for n, page in enumerate(pages):
            page.locator(".tree details:nth-of-type(3) .entry").first.click()
            set_field(page, "lamps[0].dim", f"{50 + n} %")
        uvi = "td[data-site='left basking'][data-column='0']"
        seen = []
        for n, page in enumerate(pages):
            page.wait_for_function(
                "() => !document.querySelector('.state').textContent.includes('✓')"
            )
            assert field(page, "lamps[0].dim").input_value() == f"{50 + n} %"
            settled(page, 120.0)
            shown = re.match(r"[\d.]+", page.locator(uvi).inner_text())
            assert shown is not None
            seen.append(float(shown[0]))
        assert seen == sorted(seen)
        assert seen[-1] > seen[0]
    finally:
        for person in people:
            person.close()


def test_a_finger_scrolls_past_the_scene_until_it_is_asked_to_turn(browser, served: Served) -> None:
    person = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True,
                                 is_mobile=True)  # fmt: skip
    try:
        page = person.new_page()
        page.goto(served.page("habitat", MEADOW))
        page.locator(".scene-stage.still").wait_for()
        canvas = page.locator(".scene canvas")
        assert canvas.evaluate("c => getComputedStyle(c).touchAction") == "pan-y"
        page.get_by_role("button", name="turn and move").tap()
        assert canvas.evaluate("c => getComputedStyle(c).touchAction") == "none"
        page.get_by_role("button", name="done turning").tap()
        page.locator(".scene-stage.still").wait_for()
    finally:
        person.close()
