"""Build in a real browser: from the shopping list and a price to the order of work and the pack."""

from __future__ import annotations

import io
import re
import shutil
import zipfile
from collections.abc import Iterator

import pytest

from .conftest import EXAMPLES, Served, open_window, serious_faults

EDGE, PRICES, ROCK = "forest-edge.yaml", "forest-edge-prices.csv", "dry-rock.yaml"
PARTS = ("shopping", "cuts", "feeds", "order", "handover")


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workbench on the forest edge with its price list, remarks and a blank line in it."""
    folder, state = tmp_path_factory.mktemp("habitats"), tmp_path_factory.mktemp("state")
    shutil.copy(EXAMPLES / EDGE, folder)
    lines = (EXAMPLES / PRICES).read_text("utf-8").splitlines()
    noted = [f"{line},{'remark' if n == 0 else 'ask again, soon'.replace(',', ';')}"
             for n, line in enumerate(lines)]  # fmt: skip
    (folder / PRICES).write_text("\r\n".join([*noted[:4], "", *noted[4:], ""]), newline="")
    made = Served(folder, state)
    made.start()
    yield made
    made.end()
    assert "Traceback" not in made.log, made.log


def opened(page, served: Served, file: str = EDGE) -> None:
    """The page, once the engines have said all that it shows."""
    page.goto(served.page("build", file))
    page.locator(".tabs").wait_for()
    page.locator("[data-sum]").wait_for(timeout=240_000)
    whole(page)


def whole(page) -> None:
    """Wait until nothing is under way."""
    page.wait_for_function(
        "() => !document.querySelector('.life-head .busy') && "
        "document.querySelectorAll('.life-side .finding').length > 3", timeout=240_000,
    )  # fmt: skip


def part(page, name: str) -> None:
    page.locator(f"#tab-{name}").click()
    page.locator(f"#tab-{name}[aria-selected='true']").wait_for()


def total(page) -> float:
    return float(page.inner_text("[data-sum]").split()[0].replace(",", ""))


def test_from_a_price_to_the_pack(served: Served, window) -> None:
    opened(window, served)
    before = total(window)
    assert before > 1000.0
    assert window.locator(".incomplete").count() == 0 or "no price" in window.inner_text(".told")
    window.get_by_role("heading", name="Quote", exact=True).wait_for()

    # A price is typed: the sum follows, and the list on disk has it and all else as it was.
    file = served.folder / PRICES
    old = file.read_bytes().decode().split("\r\n")
    box = window.locator("[data-price='stand/timber-bench:1']")
    assert box.input_value() == "310.00"
    box.fill("335.50")
    box.press("Enter")
    window.wait_for_function(
        "v => parseFloat(document.querySelector('[data-sum]').textContent.replace(/,/g, '')) !== v",
        arg=before,
    )
    assert total(window) == pytest.approx(before + 25.5)
    new = file.read_bytes().decode().split("\r\n")
    assert len(new) == len(old)
    ((was, now),) = [(a, b) for a, b in zip(old, new, strict=True) if a != b]
    assert "310.00" in was
    assert re.fullmatch(r"stand/timber-bench,timber bench,1,piece,335\.50,EUR,invented for the "
                        r"example,\d{4}-\d\d-\d\d,ask again; soon", now)  # fmt: skip
    # One that is none is told at its cell and kept; nothing is written.
    box.fill("12,5")
    box.press("Enter")
    window.locator(".price .said", has_text="write 12.5").wait_for()
    assert box.input_value() == "12,5"
    assert file.read_bytes().decode().split("\r\n") == new
    box.fill("335.50")
    box.press("Enter")
    window.locator(".price .said").wait_for(state="detached")

    # Labour, margin and tax go through the draft, and can be taken back.
    quote = window.locator("section[aria-label='Quote']")
    margin = window.locator("[data-field='money.margin']")
    margin.fill("30 %")
    margin.press("Enter")
    quote.get_by_text("margin, 30 %").wait_for()
    window.get_by_role("button", name="undo").click()
    quote.get_by_text("margin, 20 %").wait_for()
    work = window.locator("[data-time='work.cut']")
    work.fill("20 h")
    work.press("Enter")
    window.locator("button[title='Undo: build.work.cut']").wait_for()

    part(window, "cuts")
    window.locator(".build-drawn img").first.wait_for(timeout=150_000)
    drawn = window.eval_on_selector_all(".build-drawn img", "e => e.map(x => x.naturalWidth)")
    assert drawn
    assert all(w > 100 for w in drawn)
    with window.expect_download() as saw:
        window.locator("[data-take='cuts.zip']").click()
    with zipfile.ZipFile(saw.value.path()) as archive:
        assert all(n.endswith(".dxf") for n in archive.namelist())
        assert b"SECTION" in archive.read(archive.namelist()[0])[:400]
    part(window, "feeds")
    window.get_by_role("heading", name="How it is wired").wait_for()
    assert "licensed electrician" in window.inner_text("#build-part")

    # Work begins later: so does everything, to the day of entry.
    part(window, "order")
    head = window.locator("h2", has_text="Animals may enter")
    day = head.inner_text()
    assert window.locator(".order .task").count() > 15
    start = window.locator("[data-field='build.start']")
    start.fill("2027-03-08")
    start.press("Enter")
    window.wait_for_function(
        "v => [...document.querySelectorAll('h2')].every(h => h.textContent !== v)", arg=day
    )
    dates = [re.search(r"\d{4}-\d\d-\d\d", t) for t in (day, head.inner_text())]
    assert dates[0]
    assert dates[1]
    assert dates[1].group() > dates[0].group()
    with window.expect_download() as calendar:
        window.locator("[data-take='order-of-work.ics']").click()
    assert calendar.value.path().read_bytes().startswith(b"BEGIN:VCALENDAR")

    part(window, "handover")
    whole(window)
    window.get_by_role("heading", name="What to measure").wait_for()
    window.locator("[data-control='pack-date']").fill("2027-02-01")
    make = window.get_by_role("button", name="make the pack")
    make.click()
    window.get_by_role("button", name="stop").click()
    window.get_by_role("button", name="stop").wait_for(state="detached", timeout=120_000)
    assert window.locator("[data-take='pack']").count() == 0
    with window.expect_download(timeout=300_000) as taken:
        make.click()
    content = taken.value.path().read_bytes()
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        names = archive.namelist()
        assert names[0] == "pack.pdf"
        assert archive.read(names[0]).startswith(b"%PDF-")
        assert {n.rsplit(".", 1)[1] for n in names} >= {"pdf", "csv", "dxf", "ics", "svg", "glb"}
        shopping = archive.read("lists/shopping.csv").decode()
    assert "335.50" in shopping
    assert len(content) < 5_000_000


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
    for name in PARTS:
        part(page, name)
        page.wait_for_timeout(600)
        wide = page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
        assert wide[0] <= wide[1], (name, wide)
    part(page, "shopping")
    assert "<img src=x" in (page.locator(".shopping").text_content() or "")
    assert re.search(r"\d (lb|dry qt|sq ft)", page.inner_text(".shopping"))
    # Without money no price can be typed; with a currency a list is begun beside the file.
    box = page.locator("[data-price]").first
    assert box.is_disabled()
    currency = page.locator("[data-field='money.currency']")
    currency.fill("USD")
    currency.press("Enter")
    page.wait_for_function("() => !document.querySelector('[data-price]').disabled")
    box.fill("12.50")
    box.press("Enter")
    page.locator("button[title='Undo: a price list']").wait_for()
    listed = (served.folder / "dry-rock-prices.csv").read_text("utf-8").splitlines()
    assert listed[0].startswith("key,name,pack,unit,price,currency")
    assert len(listed) == 2
    assert ",12.50,USD," in listed[1]
    assert "Not complete" in page.inner_text(".told")
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
    page.locator("#tab-handover").focus()
    page.keyboard.press("ArrowRight")
    page.locator("#tab-shopping[aria-selected='true']").wait_for()
    with pytest.raises(StopIteration):
        next(windows)
