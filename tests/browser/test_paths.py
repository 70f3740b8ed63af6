"""The paths of people through the workbench, in a real browser."""

from __future__ import annotations

import csv
import io
import re
import shutil
import signal
import time
import zipfile

import pytest

from .conftest import EXAMPLES, Served, open_window, settled

MEADOW = "school-meadow.yaml"


def scene_place(page, ident: str) -> tuple[float, float]:
    """Where a thing of the scene is on the page."""
    number = page.eval_on_selector(".scene", "e => e.id.slice(1)")
    x, y = page.evaluate(f"getElement({number}).where({ident!r})")
    return x, y


def field(page, name: str):
    return page.locator(f"[data-field='{name}']")


def set_field(page, name: str, text: str) -> None:
    field(page, name).fill(text)
    field(page, name).press("Tab")


def pick(page, label: str) -> None:
    page.locator(".tree .entry", has_text=re.compile(f"^{re.escape(label)}$")).first.click()


def on_disk(served: Served, file: str) -> str:
    return (served.folder / file).read_text("utf-8")


def test_a_first_habitat_from_the_form_to_a_saved_file(served: Served, window) -> None:
    """Form, findings, a lamp dragged until a finding turns, save, reload: all in the file."""
    window.goto(served.address)
    window.fill("#n-name", "Corner of the hall")
    window.select_option("[data-resident='0']", "anolis-carolinensis")
    window.fill("[data-size='width']", "80 cm")
    window.fill("[data-size='depth']", "45 cm")
    window.fill("[data-size='height']", "80 cm")
    window.get_by_role("button", name="make it").click()
    window.wait_for_url("**/habitat?file=corner-of-the-hall.yaml")
    settled(window)
    text = on_disk(served, "corner-of-the-hall.yaml")
    assert "species: anolis-carolinensis" in text
    assert "width: 80 cm" in text
    assert text.count("type: ") >= 3  # lamps for sun, warmth and plants
    # The flood is picked and dragged away from the basking place: the file follows.
    lamp = window.locator(".tree .entry", has_text=re.compile("^uv$"))
    lamp.click()
    before = field(window, "lamps[0].at[0]").input_value()
    uvi = window.locator("td[data-site='basking'][data-column='0']")
    first = uvi.inner_text()
    x, y = scene_place(window, "lamps/0")
    window.mouse.move(x, y)
    window.mouse.down()
    for step in range(1, 9):
        window.mouse.move(x + 9 * step, y + 2 * step)
    window.mouse.up()
    window.wait_for_function(
        "v => document.querySelector(\"[data-field='lamps[0].at[0]']\").value !== v", arg=before
    )
    window.wait_for_function(
        "v => document.querySelector(\"td[data-site='basking'][data-column='0']\")"
        ".firstChild.textContent.trim() !== v", arg=first.split()[0],
    )  # fmt: skip
    window.locator(".changed li").first.wait_for()
    dragged = field(window, "lamps[0].at[0]").input_value()
    assert re.fullmatch(r"[\d.]+ cm", dragged)
    window.keyboard.press("Control+s")
    window.get_by_text("comments kept").wait_for()
    saved = on_disk(served, "corner-of-the-hall.yaml")
    assert dragged in saved
    assert saved.count("#") == text.count("#")
    window.reload()
    pick(window, "uv")
    assert field(window, "lamps[0].at[0]").input_value() == dragged


def test_a_missed_need_is_mended_and_said_to_be_better(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    pick(window, "uv") if window.locator(".tree .entry", has_text=re.compile("^uv$")).count() else (
        window.locator(".tree details:nth-of-type(3) .entry").first.click()
    )
    dim = field(window, "lamps[0].dim")
    was = dim.input_value()
    basking = ".finding[data-need='uv-basking']"
    state = window.get_attribute(basking, "class")
    set_field(window, "lamps[0].dim", "5 %")
    window.wait_for_selector(f"{basking}.is-missed")
    assert "▼ worse" in window.inner_text(".changed")
    window.get_by_role("button", name="undo").click()
    window.wait_for_function(
        "([s, c]) => document.querySelector(s)?.className === c", arg=[basking, state]
    )
    assert "▲ better" in window.inner_text(".changed")
    assert dim.input_value() == was
    window.get_by_role("button", name="redo").click()
    window.wait_for_selector(f"{basking}.is-missed")
    window.get_by_role("button", name="undo").click()
    window.wait_for_function("() => document.querySelector('.state').textContent.includes('saved')")


def test_bad_input_is_said_at_its_field_and_kept(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    text = on_disk(served, MEADOW)
    for name, wrong, said in (
        ("lamps[0].at[0]", "12 lx", "a length is wanted"),
        ("lamps[0].at[2]", "1 cm", "ground"),
        ("lamps[0].dim", "250 %", "between"),
        ("lamps[0].at[2]", "<img src=x onerror=alert(1)>", "begin with a number"),
        ("lamps[0].name", "x" * 100, "80"),
    ):
        set_field(window, name, wrong)
        row = window.locator(".field", has=field(window, name))
        row.locator(".said", has_text=said).first.wait_for()
        assert field(window, name).input_value() == wrong
    window.reload()
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    # What was typed is still there after a reload, with what is wrong about it.
    assert field(window, "lamps[0].dim").input_value() == "250 %"
    assert window.locator(".said").count() >= 3
    for name in ("lamps[0].at[0]", "lamps[0].at[2]", "lamps[0].dim", "lamps[0].name"):
        field(window, name).fill("")
    assert on_disk(served, MEADOW) == text


def test_two_windows_and_a_file_changed_on_disk(served: Served, browser) -> None:
    """Two people on one file: neither writes over the other without choosing to."""
    (served.folder / "two.yaml").write_text(on_disk(served, MEADOW))
    one = [open_window(browser), open_window(browser)]
    first, second = (next(w) for w in one)
    first.goto(served.page("habitat", "two.yaml"))
    second.goto(served.page("habitat", "two.yaml"))
    for page, height in ((first, "3 cm"), (second, "4 cm")):
        page.locator(".tree summary", has_text="water").click()
        page.locator(".tree details[open] .entry", has_text="bowl").first.click()
        set_field(page, "water[0].depth", height)
        page.wait_for_function(
            "() => document.querySelector('.state').textContent.includes('not saved')"
        )
    first.get_by_role("button", name="save").click()
    first.get_by_text("comments kept").wait_for()
    second.get_by_text("has changed on disk").wait_for()
    second.get_by_role("button", name="save").click()
    second.get_by_text("choose which").wait_for()
    assert "3 cm" in on_disk(served, "two.yaml")
    assert "4 cm" not in on_disk(served, "two.yaml").split("water:")[1][:200]
    second.get_by_role("button", name="show what differs").click()
    assert "4 cm" in second.inner_text(".differs")
    second.get_by_role("button", name="keep mine").click()
    second.locator(".conflict").wait_for(state="detached")
    second.get_by_role("button", name="save").click()
    second.get_by_text("comments kept").wait_for()
    assert "4 cm" in on_disk(served, "two.yaml").split("water:")[1][:200]
    first.get_by_text("has changed on disk").wait_for()
    first.get_by_role("button", name="take the one on disk").click()
    first.wait_for_function(
        "() => document.querySelector(\"[data-field='water[0].depth']\").value === '4 cm'"
    )
    for window in one:
        with pytest.raises(StopIteration):
            next(window)


def test_a_killed_server_loses_nothing(served: Served, window) -> None:
    """Killed without a word while somebody edits: the page comes back by itself, with the change, and
    with what was typed and refused."""
    window.goto(served.page("habitat", MEADOW))
    text = on_disk(served, MEADOW)
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    set_field(window, "lamps[0].dim", "73 %")
    window.wait_for_function(
        "() => document.querySelector('.state').textContent.includes('not saved')"
    )
    set_field(window, "lamps[0].at[0]", "12 lx")
    window.locator(".said", has_text="a length is wanted").wait_for()
    window.evaluate("window.before = true")
    port = served.port
    served.end(signal.SIGKILL)
    time.sleep(0.3)
    served.start(port)
    window.wait_for_function(
        "() => !window.before && document.querySelector('.tree .entry')", timeout=30_000
    )
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    assert field(window, "lamps[0].dim").input_value() == "73 %"
    assert field(window, "lamps[0].at[0]").input_value() == "12 lx"
    assert "not saved" in window.inner_text(".state")
    assert on_disk(served, MEADOW) == text
    window.get_by_role("button", name="undo").click()
    window.wait_for_function(
        "() => document.querySelector('.state').textContent.trim().endsWith('saved') && "
        "!document.querySelector('.state').textContent.includes('not')"
    )


def test_us_units_and_the_phone(served: Served, browser) -> None:
    """On a phone, in US units: what is typed there is in the file."""
    windows = open_window(browser, has_touch=True, is_mobile=True)
    page = next(windows)
    page.set_viewport_size({"width": 390, "height": 844})
    (served.folder / "phone.yaml").write_text(on_disk(served, MEADOW))
    page.goto(served.page("habitat", "phone.yaml"))
    page.select_option(".ways select", "us")
    page.wait_for_load_state()
    settled(page)
    wide = page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 391, f"the page is {wide} wide"
    assert "fc" in page.inner_text(".sites thead")
    page.locator(".tree details:nth-of-type(3) .entry").first.click()
    assert " in" in page.inner_text(".form .many >> nth=0")
    set_field(page, "lamps[0].at[0]", "15 in")
    page.wait_for_function(
        "() => document.querySelector(\"[data-field='lamps[0].at[0]']\").value === '15 in'"
    )
    page.get_by_role("button", name="save").click()
    page.get_by_text("comments kept").wait_for()
    assert "15 in" in on_disk(served, "phone.yaml")
    with pytest.raises(StopIteration):
        next(windows)


def test_a_hostile_file_renders_harmlessly(served: Served, window) -> None:
    """Script in every name, and numbers beyond reason."""
    evil = '<img src=x onerror="window.owned=1"><script>window.owned=1</script>'
    text = on_disk(served, MEADOW)
    quoted = '"' + evil.replace('"', '\\"')[:76] + '"'
    text = re.sub(r"^name: .*$", f"name: {quoted}", text, count=1, flags=re.M)
    text = re.sub(r"\{name: bowl", f"{{name: {quoted}", text, count=1)
    (served.folder / "evil.yaml").write_text(text)
    (served.folder / "huge.yaml").write_text(
        re.sub(r"width: [\d.]+ cm", "width: 1e308 cm", text, count=1)
    )
    window.goto(served.page("habitat", "evil.yaml"))
    settled(window)
    window.goto(served.page("day", "evil.yaml"))
    window.goto(served.page("ground", "evil.yaml"))
    window.goto(served.address)
    assert window.evaluate("window.owned") is None
    window.goto(served.page("habitat", "huge.yaml"))
    window.get_by_text("This file has mistakes in it").wait_for()
    assert "line" in window.inner_text(".problems")
    assert window.evaluate("window.owned") is None
    window.goto(served.page("habitat", "../../../etc/passwd"))
    window.get_by_text("cannot be opened").wait_for()


def test_the_day_and_the_ground(served: Served, window) -> None:
    window.goto(served.page("day", MEADOW))
    window.locator("svg.chart").first.wait_for(timeout=60_000)
    window.wait_for_function("() => document.querySelectorAll('svg.chart').length >= 4")
    assert "Shaded: wanted" in window.inner_text(".chart-box >> nth=0")
    chart = window.locator("svg.chart").first
    chart.focus()
    chart.press("ArrowRight")
    assert "12:30" in window.locator(".chart-told").first.inner_text()
    window.get_by_role("button", name="winter").click()
    window.locator(".card", has_text="A typical winter day").wait_for(timeout=60_000)
    assert "kWh" in window.inner_text(".cards")
    # A season that no check asks for, wanted while the ground may be under way.
    window.get_by_role("button", name="middle").click()
    window.locator(".card", has_text="between winter and summer").wait_for(timeout=150_000)
    window.goto(served.page("ground", MEADOW))
    window.get_by_role("heading", name="Layers").wait_for()
    layers = window.locator("section[aria-label='Layers of the ground'] table")
    layers.wait_for()
    assert re.search(r"\d L\b", layers.inner_text())
    assert "bags" in window.inner_text("section[aria-label='To buy']")
    # Water over the weeks: findings, a drawing for each season, and its numbers.
    window.locator(".drawn img").nth(1).wait_for(timeout=120_000)
    assert window.evaluate(
        "[...document.querySelectorAll('.drawn img')].every(i => i.complete && i.naturalWidth > 300)"
    )
    assert window.locator("section[aria-label='Findings of the ground'] .finding").count() > 2
    water = window.inner_text("section[aria-label='Water in the ground, from winter']")
    assert len(re.findall(r"^\d+", water, flags=re.M)) > 5
    window.select_option(".ways select", "us")
    window.locator("section[aria-label='To buy']", has_text="qt").wait_for(timeout=60_000)


def test_fields_hours_and_what_is_hidden(served: Served, window) -> None:
    """A plane of light is drawn with its legend, and has a value under the pointer."""
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    window.select_option("[data-control='quantity']", "ppfd")
    window.locator(".legend").wait_for(timeout=60_000)
    assert "Plant light" in window.inner_text(".legend-title")
    window.get_by_role("button", name="front", exact=True).first.click()
    box = window.locator(".scene-stage").bounding_box()
    window.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    window.locator(".scene-tip b").wait_for()
    noon = window.inner_text(".scene-tip b")
    assert "µmol/m²/s" in noon
    window.locator("[data-control='hour']").fill("2")
    window.wait_for_function(
        "() => document.querySelector('.legend-note').textContent.includes('02:00')"
    )
    window.mouse.move(box["x"] + box["width"] / 2 + 2, box["y"] + box["height"] / 2)
    window.wait_for_function(
        "() => /^0(\\.0+)? /.test(document.querySelector('.scene-tip b')?.textContent || '')"
    )
    window.select_option("[data-control='plane']", "skin")
    window.wait_for_function(
        "() => document.querySelector('canvas').dataset.field?.includes('Plant')"
    )
    with window.expect_download() as got:
        window.get_by_role("button", name="picture").click()
    assert got.value.suggested_filename.endswith("-scene.png")


def test_what_can_be_taken_away(served: Served, window) -> None:
    window.goto(served.page("habitat", MEADOW))
    settled(window)
    base = f"?file={MEADOW}"
    got = {
        n: window.request.get(f"{served.address}/get/{n}{base}", timeout=90_000)
        for n in ("findings.csv", "findings.json", "sites.csv", "habitat.yaml", "fields.nc",
                  "days.csv", "print", "pictures.zip")
    }  # fmt: skip
    for name, answer in got.items():
        assert answer.status == 200, (name, answer.text())
    assert got["findings.json"].json()["findings"]
    assert got["findings.csv"].text().startswith("state,about,need")
    assert "basking" in got["sites.csv"].text()
    assert got["fields.nc"].body()[:4] == b"\x89HDF"
    assert got["habitat.yaml"].text() == on_disk(served, MEADOW)
    days = list(csv.DictReader(io.StringIO(got["days.csv"].text())))
    assert {d["season"] for d in days} >= {"winter", "summer"}
    assert len({d["hour"] for d in days}) > 24
    page = got["print"].text()
    assert page.lstrip().lower().startswith("<!doctype html")
    assert page.count("<svg") + page.count("<img") >= 3
    assert "no-store" in got["print"].headers["cache-control"]
    with zipfile.ZipFile(io.BytesIO(got["pictures.zip"].body())) as archive:
        assert archive.testzip() is None
        names = archive.namelist()
        assert "overview.html" in names
        drawn = [n for n in names if n != "overview.html"]
        assert len(drawn) >= 3
        assert all(archive.getinfo(n).file_size > 2000 for n in drawn)
    assert window.request.get(f"{served.address}/get/nothing{base}").status == 404


def test_files_brought_in_are_checked(served: Served, window) -> None:
    window.goto(served.address)
    put = lambda name, body: window.request.post(  # noqa: E731
        f"{served.address}/put", headers={"origin": served.address},
        multipart={"file": {"name": name, "mimeType": "text/plain", "buffer": body}},
    )  # fmt: skip
    assert put("evil.sh", b"rm -rf /").status == 400
    assert put("../../climb.yaml", on_disk(served, MEADOW).encode()).url.endswith("file=climb.yaml")
    assert (served.folder / "climb.yaml").exists()
    assert put("big.yaml", b"#" * 2_000_001).status == 400
    assert put("huge.stl", b"0" * 25_000_000).status in (400, 413)
    other = window.request.post(
        f"{served.address}/put", headers={"origin": "http://elsewhere.example"},
        multipart={"file": {"name": "a.yaml", "mimeType": "text/plain", "buffer": b"a: 1"}},
    )  # fmt: skip
    assert other.status == 403


def test_the_drills_are_run_and_can_be_stopped(served: Served, window) -> None:
    window.goto(served.page("day", MEADOW))
    window.locator("svg.chart").first.wait_for(timeout=60_000)
    window.wait_for_function("() => !document.querySelector('.busy')", timeout=60_000)
    run = window.get_by_role("button", name="run the drills")
    run.click()
    window.get_by_role("button", name="stop").click()
    run.wait_for(timeout=60_000)
    assert window.locator("section[aria-label='Drills'] details").count() == 0
    run.click()
    window.locator("section[aria-label='Drills'] details").first.wait_for(timeout=180_000)
    # What passes a limit comes first, and says so with a sign and a word.
    words = window.locator("section[aria-label='Drills'] details .word").all_inner_texts()
    assert len(words) > 3
    assert set(words) <= {"a limit is passed", "no limit passed"}
    assert words == sorted(words)
    first = window.locator("section[aria-label='Drills'] details").first
    if first.get_attribute("open") is None:
        first.locator("summary").click()
    assert len(first.locator("dd").all_inner_texts()) >= 2
    # Another habitat has other faults: those of the one before are not shown as its own.
    window.goto(served.page("habitat", MEADOW))
    window.locator(".tree details:nth-of-type(3) .entry").first.click()
    set_field(window, "lamps[0].dim", "61 %")
    window.wait_for_function(
        "() => document.querySelector('.state').textContent.includes('not saved')"
    )
    window.goto(served.page("day", MEADOW))
    window.get_by_role("button", name="run the drills").wait_for()
    assert window.locator("section[aria-label='Drills'] details").count() == 0
    window.get_by_role("button", name="undo").click()


def test_a_cure_moves_the_lamp_and_turns_the_finding(served: Served, window) -> None:
    """The demo's ultraviolet lamp hangs wrong: the button does what the finding says would help."""
    shutil.copy(EXAMPLES / "forest-edge.yaml", served.folder)
    shutil.copy(EXAMPLES / "forest-edge-prices.csv", served.folder)
    window.goto(served.page("habitat", "forest-edge.yaml"))
    settled(window, 120)
    missed = window.locator(".finding[data-need='uv-basking'].is-missed")
    missed.locator("summary").first.click()
    button = missed.get_by_role("button", name=re.compile("do this|move|try", re.I)).first
    button.wait_for(timeout=120_000)
    button.click()
    window.locator(".finding[data-need='uv-basking']").first.wait_for()
    window.wait_for_function(
        "() => !document.querySelector(\".finding[data-need='uv-basking'].is-missed\")",
        timeout=60_000,
    )
    assert "▲ better" in window.inner_text(".changed")
    place = field(window, "lamps[0].at[0]").input_value()
    assert place != "44 cm"
    lamp = f"type: t5ho-uvb-medium-39w-reflector, at: [{place},"
    assert lamp in window.evaluate(
        "fetch('/get/habitat.yaml?file=forest-edge.yaml').then(r => r.text())"
    )
    assert lamp not in on_disk(served, "forest-edge.yaml")
    window.get_by_role("button", name="undo").click()
    window.locator(".finding[data-need='uv-basking'].is-missed").wait_for(timeout=60_000)
    assert "44 cm" in field(window, "lamps[0].at[0]").input_value()


def test_the_day_follows_a_change_at_once(served: Served, browser) -> None:
    """The curves of one window change with an edit in another, and say how far they have come."""
    windows = open_window(browser)
    habitat = next(windows)
    day = habitat.context.new_page()
    habitat.goto(served.page("habitat", MEADOW))
    day.goto(served.page("day", MEADOW))
    day.locator("svg.chart").first.wait_for(timeout=60_000)
    day.wait_for_function("() => !document.querySelector('.busy')", timeout=60_000)
    curve = "() => document.querySelector('.chart .curve').getAttribute('d')"
    before = day.evaluate(curve)
    day.evaluate(
        """() => { window.said = []; new MutationObserver(() => {
          const old = document.querySelector(".about")?.textContent || "";
          if (window.said.at(-1) !== old) window.said.push(old);
        }).observe(document.body, {subtree: true, childList: true, characterData: true}); }"""
    )
    habitat.locator(".tree details:nth-of-type(3) .entry").first.click()
    set_field(habitat, "lamps[0].dim", "40 %")
    day.wait_for_function(f"d => ({curve})() !== d", arg=before, timeout=30_000)
    day.wait_for_function("() => !document.querySelector('.busy')", timeout=60_000)
    assert not day.locator(".old").count()
    assert not day.locator(".settling").count()
    said = " ".join(day.evaluate("window.said"))
    assert "before the last change" in said
    habitat.get_by_role("button", name="undo").click()
    with pytest.raises(StopIteration):
        next(windows)
