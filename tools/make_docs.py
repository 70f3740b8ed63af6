"""Make the generated parts of the documentation.

::

    python tools/make_docs.py            write what is out of date
    python tools/make_docs.py --check    write nothing; exit status 1 if anything is out of date

Generated are: the habitat file's reference, the catalogue's pages, the validation page (by running
every case), the page of measured speed (from `bench/`), and the commands' output inside hand-written
pages. Pictures are made anew only when one is missing, since their bytes differ between machines.
"""

from __future__ import annotations

import argparse
import re
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(Path(__file__).resolve().parent))

from doc_compare import differences  # noqa: E402

DOCS = ROOT / "docs"
HAND_WRITTEN = ("tour.md", "commands.md", "own-lamps.md")
"""Pages with commands' output in them."""

PICTURES = {
    "demo-uvi.png": "uvi-y.png",
    "demo-ppfd.png": "ppfd-y.png",
    "demo-winter-day.png": "day-winter.png",
}
"""Pictures of the docs and the demo's files they come from."""

NOISY = ("validation.md",)
"""Pages whose numbers are computed; they may differ by one in the last printed place."""


def habitat_file_page() -> str:
    """The reference of the habitat file, with a short head."""
    from loamwright.files.json_schema import schema_markdown

    made = schema_markdown()
    head = (
        "# The habitat file\n\n"
        "One YAML file says what is, or will be, built, who lives in it and what room it stands "
        "in. `loamwright new` writes one to start from, and the [examples](commands.md#new) show "
        "whole ones. An error in the file is told with its place, all errors at once:\n\n"
        "```text\n"
        "my.yaml:12:30: lamps[0].at: what is wrong; what would be right\n"
        "```\n"
    )
    return head + made.removeprefix("# The habitat file\n")


def validation_page() -> str:
    """Every reference case and every proof of the engine, run now."""
    from doc_light_proof import proof_tables, readings_tables
    from doc_sheets import sheet_tables

    head = [
        "# Validation",
        "",
        "This page is made by running it: each value that somebody published, or that a closed "
        "form gives, stands beside the one this program computes. The same cases are tests, and "
        "fail when a value leaves its tolerance.",
        "",
        "*Off by* is the difference as a share of the expected value. Of a case with several values "
        "the one that is furthest off is shown. Ids are those of this project's reference tables.",
        "",
        "## The light engine against closed forms",
        "",
        "Each scene is built and run through the whole engine: emitters, shadow rays, covers, "
        "crowns and the exchange between surfaces. *Expected* is worked out apart from it.",
        "",
        *proof_tables(),
        "## The light engine against another program",
        "",
        "The demo habitat is also computed by an independent ray tracer, straight light alone and "
        "with light bounced between surfaces: see [measured beside a ray tracer](measured.md).",
        "",
        "## Lamps against published readings",
        "",
        "Only three readings of ultraviolet lamps against distance, and two of other lamps' light, "
        "were found whose numbers could be read. They are single reports of single lamps, so they "
        "can show an error of size, and no more. Lamps of one class differ by a factor of two and "
        "more (the catalogue's standard uncertainty of a tube is 30 %); **a lamp fitted to your own "
        "meter is the only one to trust** ([how](own-lamps.md)).",
        "",
        *readings_tables(),
        *sheet_tables(),
    ]
    return "\n".join(head).rstrip() + "\n"


_BENCH = ("results.md", "README.md")


def _speed_of(engine: str) -> str:
    """An engine's speed as its bench wrote it, a heading deeper; empty where it was not run."""
    path = ROOT / "bench" / f"{engine}_results.md"
    if not path.exists():
        return ""
    text = re.sub(r"^(#+ )", r"#\1", path.read_text("utf-8"), flags=re.M)
    title, _, rest = text.partition("\n")
    note = f"*Taken over from `bench/{path.name}`; renew it with `python bench/{engine}_speed.py`.*"
    return f"\n{title}\n\n{note}\n{rest}"


def measured_page() -> str:
    """Speed and agreement as measured by `make bench`, taken over from its own page."""
    for name in _BENCH:
        path = ROOT / "bench" / name
        if path.exists():
            text = path.read_text("utf-8")
            # Links to files that are not part of these pages become plain names.
            text = re.sub(r"(?<!!)\[([^\]]+)\]\((?!https?:|#)[^)]+\)", r"\1", text)
            note = (
                f"*Taken over from `bench/{name}`; renew it with `make bench`, then `make docs`.*"
            )
            title, _, rest = text.partition("\n")
            return f"{title}\n\n{note}\n{rest}{_speed_of('climate')}{_speed_of('ground')}"
    return (
        "# Measured beside a ray tracer\n\nNothing has been measured on this copy yet: `make bench` "
        "does it and says where the result is.\n"
    )


def generated(kept: Path) -> dict[str, str]:
    """Every page that is made, or partly made, by name; ``kept`` is for results between runs."""
    from doc_catalogue import GROUPS, catalogue_page
    from doc_pages import filled

    out = {"habitat-file.md": habitat_file_page(), "measured.md": measured_page()}
    out |= {f"catalogue/{group}.md": catalogue_page(group) for group in GROUPS}
    out["validation.md"] = validation_page()
    for name in HAND_WRITTEN:
        with tempfile.TemporaryDirectory() as folder:
            out[name] = filled((DOCS / name).read_text("utf-8"), Path(folder), kept)
    return out


def out_of_date(pages: dict[str, str]) -> dict[str, list[str]]:
    """Pages on disk that do not say what they should, with the lines that differ."""
    found: dict[str, list[str]] = {}
    for name, text in pages.items():
        path = DOCS / name
        if not path.exists():
            found[name] = ["is missing"]
        elif gaps := differences(path.read_text("utf-8"), text, last_place=name in NOISY):
            found[name] = gaps
    return found


def make_pictures(kept: Path) -> None:
    """Draw the demo's pictures that are missing."""
    missing = {to: made for to, made in PICTURES.items() if not (DOCS / "pictures" / to).exists()}
    if not missing:
        return
    from io import BytesIO

    from PIL import Image

    from loamwright import pages, workflow

    demo = ROOT / "src" / "loamwright" / "data" / "examples" / "forest-edge.yaml"
    checked = workflow.check(demo, kept=kept)
    drawn = dict(pages.draw_sections(checked, "metric")) | dict(pages.draw_days(checked, "metric"))
    (DOCS / "pictures").mkdir(exist_ok=True)
    for to, made in missing.items():
        image = Image.open(BytesIO(drawn[made].content)).convert("RGB")
        # Few flat colours: a palette makes the file a third of its size.
        image.quantize(200).save(DOCS / "pictures" / to, optimize=True)
        print(f"wrote docs/pictures/{to}")


def main() -> int:
    """Write or check; the exit status."""
    parser = argparse.ArgumentParser(description="Make the generated parts of the documentation.")
    parser.add_argument("--check", action="store_true", help="write nothing, say what is stale")
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        stale = out_of_date(pages := generated(Path(folder)))
        if arguments.check:
            for name, gaps in stale.items():
                print(f"docs/{name} is out of date ({len(gaps)} places); run: make docs")
                print("".join(f"  {gap}\n" for gap in gaps[:5]), end="")
            return 1 if stale else 0
        for name in stale:
            path = DOCS / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(pages[name], "utf-8")
            print(f"wrote docs/{name}")
        make_pictures(Path(folder))
    return 0


if __name__ == "__main__":
    sys.exit(main())
