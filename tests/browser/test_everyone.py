"""The pages for everyone: no serious fault of accessibility, keyboard paths, the guarded door."""

from __future__ import annotations

import pytest

from .conftest import Served, open_window, serious_faults, settled

MEADOW = "school-meadow.yaml"


@pytest.mark.parametrize("dark", [False, True], ids=["light", "dark"])
def test_no_page_has_a_serious_fault(served: Served, browser, dark: bool) -> None:
    """axe-core over every page, in both themes."""
    windows = open_window(browser, color_scheme="dark" if dark else "light",
                          reduced_motion="reduce", bypass_csp=True)  # fmt: skip
    page = next(windows)
    found = {}
    for name, path in (
        ("start", "/"),
        ("habitat", f"/habitat?file={MEADOW}"),
        ("day", f"/day?file={MEADOW}"),
        ("ground", f"/ground?file={MEADOW}"),
        ("build", f"/build?file={MEADOW}"),
    ):
        page.goto(served.address + path)
        if name == "habitat":
            settled(page)
            page.locator(".tree details:nth-of-type(3) .entry").first.click()
            page.locator(".finding summary").first.click()
            page.locator("[data-field='lamps[0].dim']").wait_for()
        if name == "day":
            page.locator("svg.chart").first.wait_for(timeout=60_000)
        if name == "ground":
            page.locator(".drawn img").first.wait_for(timeout=120_000)
        if name == "build":
            page.locator("[data-sum]").wait_for(timeout=120_000)
        found[name] = serious_faults(page)
    assert not any(found.values()), found
    with pytest.raises(StopIteration):
        next(windows)


def test_a_lamp_is_moved_by_keyboard_alone(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    window.locator(".tree details:nth-of-type(3) .entry").first.focus()
    window.keyboard.press("Enter")
    place = window.locator("[data-field='lamps[0].at[0]']")
    before = place.input_value()
    window.locator(".scene-stage").focus()
    window.keyboard.press("Control+ArrowRight")
    window.wait_for_function(
        "v => document.querySelector(\"[data-field='lamps[0].at[0]']\").value !== v", arg=before
    )
    number = lambda t: float(t.split()[0])  # noqa: E731
    assert number(place.input_value()) == pytest.approx(number(before) + 1.0)
    window.keyboard.press("Control+z")
    window.wait_for_function(
        "v => document.querySelector(\"[data-field='lamps[0].at[0]']\").value === v", arg=before
    )
    # The first stop of the tab key leads past the head to the content.
    window.goto(served.page("ground", MEADOW))
    window.locator("h1").wait_for()
    window.keyboard.press("Tab")
    assert window.evaluate("document.activeElement.className") == "skip"


def test_on_a_network_the_pass_phrase_opens_the_door(tmp_path_factory, browser) -> None:
    folder, state = tmp_path_factory.mktemp("guarded"), tmp_path_factory.mktemp("state")
    made = Served(folder, state, {"LOAMWRIGHT_PASSPHRASE": "seven quiet geckos"},
                  ("--host", "0.0.0.0"))  # fmt: skip
    made.start()
    try:
        windows = open_window(browser)
        page = next(windows)
        page.goto(made.address)
        assert page.locator("#phrase").is_visible()
        assert page.request.get(f"{made.address}/look.css").status == 401
        for wrong in ("one", "two"):
            page.fill("#phrase", wrong)
            page.get_by_role("button").click()
            page.get_by_text("not the pass-phrase").wait_for()
        page.fill("#phrase", "seven quiet geckos")
        page.get_by_role("button").click()
        page.get_by_role("heading", name="A new habitat").wait_for()
        cookies = {c["name"]: c for c in page.context.cookies()}
        assert cookies["loamwright-pass"]["httpOnly"]
        assert cookies["loamwright-pass"]["sameSite"] == "Strict"
        with pytest.raises(StopIteration):
            next(windows)
    finally:
        made.end()
