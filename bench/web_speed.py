"""The workbench's bars, measured in Chromium on the demo.

    python bench/web_speed.py [--minutes 30] [--browsers 10] [--edits 60]

First page after the start, beside that of the framework alone; a lamp edited until the new values at
the sites are on the screen, and until
the new day's curves are; memory over scripted editing; many browsers at once.
"""

from __future__ import annotations

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from browser.conftest import CHROMIUM, EXAMPLES, FLAGS, Served, settled

DEMO = "forest-edge.yaml"

EDIT = """([name, text]) => new Promise((done) => {
  const input = document.querySelector(`[data-field='${name}']`);
  const table = document.querySelector(".sites tbody");
  const before = table.textContent;
  const begin = performance.now();
  const seen = new MutationObserver(() => {
    if (table.textContent === before) return;
    requestAnimationFrame(() => { seen.disconnect(); done(performance.now() - begin); });
  });
  seen.observe(table, {subtree: true, childList: true, characterData: true});
  setTimeout(() => { seen.disconnect(); done(null); }, 20000);
  input.value = text;
  input.dispatchEvent(new Event("input"));
  input.dispatchEvent(new Event("change"));
})"""

CURVES = """() => { window.curves = new Promise((done) => {
  const box = document.querySelector(".chart-box").parentElement;
  const path = () => [...document.querySelectorAll(".chart .curve")]
    .map((p) => p.getAttribute("d")).join();
  const before = path();
  const seen = new MutationObserver(() => {
    if (path() === before || document.querySelector(".old")) return;
    requestAnimationFrame(() => { seen.disconnect(); done(Date.now()); });
  });
  seen.observe(box.parentElement, {subtree: true, childList: true, attributes: true});
  setTimeout(() => { seen.disconnect(); done(null); }, 60000);
}); }"""


BARE = """
import socket, sys
from fastapi import FastAPI
from nicegui import ui
import uvicorn
sock = socket.socket()
sock.bind(("127.0.0.1", 0))
sock.listen(8)
print(sock.getsockname()[1], flush=True)
@ui.page("/")
def show():
    ui.label("bare").props("id=bare")
api = FastAPI()
ui.run_with(api)
uvicorn.Server(uvicorn.Config(api, log_level="warning")).run(sockets=[sock])
"""


def bare(browser) -> float:
    """Seconds from the start of a server of the framework to its one label on the screen."""
    page = browser.new_context(viewport={"width": 1366, "height": 768}).new_page()
    page.goto("about:blank")
    page.wait_for_timeout(1500)
    begin = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        server = subprocess.Popen([sys.executable, "-c", BARE], stdout=subprocess.PIPE, text=True,
                                  cwd=folder)  # fmt: skip
        assert server.stdout is not None
        page.goto(f"http://127.0.0.1:{int(server.stdout.readline())}/")
        page.locator("#bare").wait_for()
        took = time.monotonic() - begin
        server.terminate()
        server.wait(15)
    page.close()
    return took


def quantile(values: list[float], share: float) -> float:
    """A quantile of measured values."""
    ordered = sorted(values)
    return ordered[min(int(share * len(ordered)), len(ordered) - 1)]


def memory(pid: int) -> float:
    """Memory of a process and all its children [MB], shared pages counted once for each."""
    total = 0
    for line in os.popen("ps -eo pid,ppid,rss").read().splitlines()[1:]:
        child, parent, size = map(int, line.split())
        if pid in (child, parent):
            total += size
    return total / 1024


def told_list(values: list[float]) -> str:
    """Some measured values."""
    return ", ".join(f"{v:.2f}" for v in values)


def place(n: int) -> str:
    """A place of the demo's ultraviolet lamp along x that has not been asked for before."""
    return f"{44 + (n % 30) * 0.4 + (n // 30) * 0.01:.2f} cm"


def open_lamp(page, served: Served, file: str) -> None:
    """Open a file and pick its first lamp."""
    page.goto(served.page("habitat", file))
    settled(page, 180)
    page.locator(".tree details:nth-of-type(3) .entry").first.click()
    page.locator("[data-field='lamps[0].at[0]']").wait_for()


def quiet(page, seconds: float = 120) -> None:
    """Wait until light and days are there (the ground takes longer, behind them); right after an edit
    nothing has begun yet."""
    page.wait_for_timeout(300)
    page.wait_for_function(
        "() => ![...document.querySelectorAll('.busy')]"
        ".some(b => /light|climate/.test(b.dataset.work))",
        timeout=seconds * 1000,
    )


def rest(page, seconds: float = 600) -> None:
    """Wait until nothing at all is under way."""
    page.wait_for_timeout(300)
    page.wait_for_function("() => !document.querySelector('.busy')", timeout=seconds * 1000)


def many(people: list, together: bool, turns: int = 6) -> tuple[list[float], list[str]]:
    """Every one edits in turn, spread over two seconds or all at once; times until each sees its
    own new values, and what each typed last."""
    times: list[float] = []
    texts: list[str] = []
    for turn in range(turns):
        texts = []
        for k, one in enumerate(people):
            text = f"{44 + k + turn * 0.1 + 0.05 * together:.2f} cm"
            one.evaluate(f"a => {{ window.answer = ({EDIT})(a); return null; }}",
                         ["lamps[0].at[0]", text])  # fmt: skip
            texts.append(text)
            if not together:
                one.wait_for_timeout(2000 / len(people))
        times += [took for one in people if (took := one.evaluate("window.answer")) is not None]
    return times, texts


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--minutes", type=float, default=1.0)
    ask.add_argument("--browsers", type=int, default=10)
    ask.add_argument("--edits", type=int, default=60)
    told = ask.parse_args()
    from playwright.sync_api import sync_playwright

    folder = Path(tempfile.mkdtemp())
    shutil.copy(EXAMPLES / DEMO, folder)
    shutil.copy(EXAMPLES / "forest-edge-prices.csv", folder)
    (folder / "state").mkdir()
    served = Served(folder, folder / "state")
    print(f"load of this machine: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
    with sync_playwright() as tool:
        browser = tool.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        page = browser.new_context(viewport={"width": 1366, "height": 768}).new_page()
        page.set_default_timeout(180_000)
        page.goto("about:blank")
        page.wait_for_timeout(1500)  # the browser is up and at rest
        firsts, values, bares = [], [], []
        for _ in range(3):
            bares.append(bare(browser))
            begin = time.monotonic()
            served.start(wait=False)
            page.goto(served.page("habitat", DEMO))
            page.locator(".sites tbody tr").first.wait_for()
            page.wait_for_function("() => document.querySelector('.scene canvas').dataset.ready")
            firsts.append(time.monotonic() - begin)
            page.wait_for_function(
                "() => !document.querySelector('.sites').textContent.includes('…')"
            )
            values.append(time.monotonic() - begin)
            if len(firsts) < 3:
                served.end()
                page.close()
                page = browser.new_context(viewport={"width": 1366, "height": 768}).new_page()
                page.set_default_timeout(180_000)
                page.wait_for_timeout(1500)
        print(
            f"first page with its scene, s after the start: {told_list(firsts)} (bar 2); "
            f"light at the sites: {told_list(values)}; a page of the framework with one label: "
            f"{told_list(bares)}"
        )
        settled(page, 300)
        quiet(page, 400)

        open_lamp(page, served, DEMO)
        times = []
        for n in range(told.edits):
            took = page.evaluate(EDIT, ["lamps[0].at[0]", place(n + 1)])
            assert took is not None, "no new values came"
            times.append(took)
            page.wait_for_timeout(150)
        print(
            f"edit of a lamp to values on screen, days being run beside: median "
            f"{statistics.median(times):.0f} ms, p95 {quantile(times, 0.95):.0f} ms (bars 100, 250)"
        )
        calm = []
        for n in range(12):
            quiet(page)
            calm.append(page.evaluate(EDIT, ["lamps[0].at[0]", place(500 + n)]))
        print(f"the same with nothing else under way: median {statistics.median(calm):.0f} ms")

        days = page.context.new_page()
        days.goto(served.page("day", DEMO))
        days.locator("svg.chart").first.wait_for()
        spans = []
        for n in range(10):
            quiet(page)
            days.wait_for_timeout(500)
            days.evaluate(CURVES)
            start = time.time() * 1000
            page.evaluate(EDIT, ["lamps[0].at[0]", place(900 + n)])
            end = days.evaluate("window.curves")
            if end is not None:
                spans.append(end - start)
        print(
            f"edit of a lamp to new day curves: median {statistics.median(spans):.0f} ms, worst "
            f"{max(spans):.0f} ms (bar 1000)"
        )
        days.close()

        if told.minutes > 0:
            assert served.process is not None
            # Once every engine has done its longest work, and so has loaded all that it needs.
            for n in range(30):
                page.evaluate(EDIT, ["lamps[0].at[0]", place(2000 + n)])
            rest(page)
            before, until, n = memory(served.process.pid), time.monotonic() + 60 * told.minutes, 0
            while time.monotonic() < until:
                page.evaluate(EDIT, ["lamps[0].at[0]", place(3000 + n)])
                if n % 20 == 0:
                    page.get_by_role("button", name="undo").click()
                page.wait_for_timeout(300)
                n += 1
            rest(page)
            after = memory(served.process.pid)
            print(
                f"{told.minutes:g} minutes of editing ({n} edits): {before:.0f} MB before, "
                f"{after:.0f} MB after, {100 * (after / before - 1):+.1f} % (bar +10 %)"
            )

        people = []
        for _ in range(told.browsers):
            one = browser.new_context(viewport={"width": 1000, "height": 700}).new_page()
            one.set_default_timeout(180_000)
            open_lamp(one, served, DEMO)
            people.append(one)
        for one in people:
            quiet(one, 400)
        for together in (False, True):
            times, texts = many(people, together)
            for one, text in zip(people, texts, strict=True):
                one.wait_for_timeout(200)
                assert one.input_value("[data-field='lamps[0].at[0]']") == text
            how = "at the same instant" if together else "each every two seconds"
            print(
                f"{told.browsers} browsers, {how}: median {statistics.median(times):.0f} ms, p95 "
                f"{quantile(times, 0.95):.0f} ms (bar 500 median); each sees its own edits"
            )
        browser.close()
    served.end()


if __name__ == "__main__":
    main()
