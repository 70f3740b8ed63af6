"""A workbench served as a person would serve it, and a browser that looks at it."""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest

FLAGS = [
    "--no-sandbox", "--disable-background-networking", "--disable-component-update",
    "--disable-sync", "--no-first-run", "--enable-unsafe-swiftshader",
]  # fmt: skip
"""One set of flags for all pictures: pixels differ between sets."""

EXAMPLES = Path(__file__).parents[2] / "src/loamwright/data/examples"

CHROMIUM = next((p for n in ("chromium", "chromium-browser", "google-chrome")
                 if (p := shutil.which(n))), None)  # fmt: skip


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = str(Path(__file__).parent)
    for item in items:
        if str(item.path).startswith(here):
            item.add_marker(pytest.mark.slow)
            item.add_marker(pytest.mark.browser)


@dataclass
class Served:
    """A workbench that is running, its folder and its log."""

    folder: Path
    state: Path
    extra: dict[str, str] = field(default_factory=dict)
    options: tuple[str, ...] = ()
    address: str = ""
    process: subprocess.Popen | None = None
    seconds: float = 0.0

    def start(self, port: int = 0, *, wait: bool = True) -> None:
        """Start it; without ``wait`` as soon as it says where it is, which is when people come."""
        before = time.monotonic()
        self.process = subprocess.Popen(
            [sys.executable, "-m", "loamwright", "open", "--no-browser", "--port", str(port),
             *self.options],
            cwd=self.folder, stdout=subprocess.PIPE, stderr=(self.state / "log").open("ab"),
            text=True, env={**os.environ, "LOAMWRIGHT_STATE": str(self.state), **self.extra},
        )  # fmt: skip
        assert self.process.stdout is not None
        line = self.process.stdout.readline()
        found = re.search(r"http://\S+?:\d+", line)
        assert found, (line, self.log)
        self.address = found.group()
        for _ in range(200 if wait else 0):
            try:
                urllib.request.urlopen(self.address, timeout=2)
                break
            except urllib.error.HTTPError:
                break
            except OSError:
                time.sleep(0.05)
        self.seconds = time.monotonic() - before

    @property
    def log(self) -> str:
        path = self.state / "log"
        return path.read_text() if path.exists() else ""

    @property
    def port(self) -> int:
        return int(self.address.rsplit(":", 1)[1])

    def end(self, how: int = signal.SIGTERM) -> None:
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(how)
            try:
                self.process.wait(15)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait(5)

    def page(self, page: str, file: str) -> str:
        return f"{self.address}/{page}?file={file}"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A workbench on a folder with the school's habitat in it."""
    folder, state = tmp_path_factory.mktemp("habitats"), tmp_path_factory.mktemp("state")
    shutil.copy(EXAMPLES / "school-meadow.yaml", folder)
    made = Served(folder, state)
    made.start()
    yield made
    made.end()
    assert "Traceback" not in made.log, made.log


@pytest.fixture(scope="session")
def browser() -> Iterator[object]:
    from playwright.sync_api import sync_playwright

    if CHROMIUM is None:
        pytest.fail("Chromium is not there; on Debian: apt-get install chromium (as root)")
    with sync_playwright() as tool:
        found = tool.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield found
        found.close()


@pytest.fixture
def window(browser) -> Iterator[object]:
    """A window of a person of their own, that takes no script error."""
    yield from open_window(browser)


def open_window(browser, **how) -> Iterator[object]:
    person = browser.new_context(viewport={"width": 1366, "height": 768}, **how)
    person.set_default_timeout(20_000)
    page = person.new_page()
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda m: wrong.append(m.text) if m.type == "error"
            and not any(t in m.text for t in ("Failed to load resource", "ERR_CONNECTION_REFUSED"))
            else None)  # fmt: skip
    yield page
    person.close()
    assert not wrong, wrong


def settled(page, seconds: float = 60.0) -> None:
    """Wait until the engines have said all they have to say of the light."""
    page.wait_for_function(
        "() => document.querySelectorAll('.finding').length > 3 && "
        "![...document.querySelectorAll('.busy')].some(b => /light|surface/.test(b.textContent))",
        timeout=seconds * 1000,
    )


def serious_faults(page) -> list[tuple[str, list[str]]]:
    """What axe-core finds to be serious or critical on a page as it is, with where."""
    from axe_playwright_python.sync_playwright import Axe

    answer = Axe().run(page, options={"resultTypes": ["violations"]})
    assert len(answer.response["passes"]) > 15  # it has looked
    bad = [v for v in answer.response["violations"] if v["impact"] in ("serious", "critical")]
    return [(v["id"], [n["html"][:160] for n in v["nodes"]][:4]) for v in bad]
