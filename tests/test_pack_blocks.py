"""Pages as data: hostile texts, letters that are missing, columns that fit, tables that break."""

from __future__ import annotations

import io
import json

import numpy as np
import pytest
from PIL import Image

from loamwright.plan.order import order_of_work
from loamwright.report import letters
from loamwright.report.blocks import Table, check_report
from loamwright.report.pack_pdf import Document, source_files, typeset
from loamwright.report.pack_plan import order_section
from loamwright.report.plain import clean, on_paper
from loamwright.report.typst_blocks import (
    LINE,
    Caution,
    Facts,
    Found,
    Heading,
    Section,
    Sheet,
    Shown,
    Ticks,
    Words,
    column_widths,
    table_data,
)
from report_sample import findings, habitat

HOSTILE = [
    'a "quoted" \\ name', "#panic()", "$ x $", "*bold* _under_ ~ `raw` ```", "<label> @ref",
    "// comment /* */", "= heading", "#{ while true {} }", "\\u{41} \\", "%s {} {0}",
    "שלום וברכה", "العربية", "\u202eright to left", "🦎 🏠", "中文", "a" * 10_000,
    "word " * 3000, "\x00\x1b[31m", "e\u0301\u0302\u0303", "", "-" * 500,
]  # fmt: skip


def document(*sections: Section, title: str = "A title") -> Document:
    return Document(
        title, "a kicker", "a purpose", (("inside", "1 m"),), (2026, 3, 1), "made", "ab" * 32, "foot",
        sections,
    )  # fmt: skip


def ink_in_margins(page: bytes, ppi: float, margin: float = 0.60) -> bool:
    """Whether something stands in a page's left or right margin: what runs out of its column; of a page
    that lies, which a drawing fills, nothing is asked."""
    pixels = np.asarray(Image.open(io.BytesIO(page)).convert("L"))
    if pixels.shape[1] > pixels.shape[0]:
        return False
    edge = int(margin * ppi)  # margins are 0.74 in and more
    return bool((pixels[:, :edge] < 200).any() or (pixels[:, -edge:] < 200).any())


def test_ink_in_a_margin_is_seen() -> None:
    pixels = np.full((234, 165), 255, np.uint8)
    pixels[100, 160] = 0
    out = io.BytesIO()
    Image.fromarray(pixels).save(out, "PNG")
    assert ink_in_margins(out.getvalue(), 20.0)


def text_of(made: Document, needle: str) -> bool:
    """Whether a text travels as it is in the pages' data."""
    return needle in json.loads(source_files(made, "a4")["data.json"])["title"]


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_texts_are_set_and_never_read(name: str) -> None:
    table = Table(name, (name, "value"), ((name, "1 kg"), ("b", name)), right=frozenset({1}),
                  note=name)  # fmt: skip
    section = Section("x", name or "x", (
        Words(name), table, Facts(((name, name),)), Ticks(((name, name),)), Caution(name, name),
    ))  # fmt: skip
    pages = typeset(document(section, title=name or "x"), "a4", "png", 20.0)
    assert 3 <= len(pages) <= 8
    for page in pages:
        assert not ink_in_margins(page, 20.0)


def test_template_reads_nothing_of_the_data_as_markup() -> None:
    plain = source_files(document(title="one"), "a4")["main.typ"]
    hostile = source_files(document(title='#panic("two")'), "a4")["main.typ"]
    assert plain == hostile
    assert text_of(document(title='#panic("two")'), '#panic("two")')


def test_letters_no_font_has_are_seen_to_be_missing() -> None:
    assert letters.shown("a 🦎 b") == f"a {letters.NO_LETTER} b"
    assert letters.shown("中") == letters.NO_LETTER
    for kept in ("Grüße, ñandú", "שלום", "°C ± 2 µmol/m²", "✓ ✗ ≈ □", letters.NO_LETTER):
        assert letters.shown(kept) == kept


def test_long_pieces_may_be_broken_and_words_may_not() -> None:
    key = letters.breakable("lamps/t5ho-uvb-medium-39w-reflector")
    assert letters.BREAK in key
    assert key.replace(letters.BREAK, "") == "lamps/t5ho-uvb-medium-39w-reflector"
    assert letters.breakable("a short word") == "a short word"
    assert letters.breakable("electroencephalography") == "electroencephalography"
    assert max(len(p) for p in letters.pieces(letters.breakable("x" * 500))) <= letters.LONG_PIECE


def test_columns_fit_the_line() -> None:
    rows = [[f"media/{'coir-' * 6}{k}", f"{k} kg", "a remark " * 9] for k in range(20)]
    widths, size = column_widths(["key", "amount", "why"], rows, {1})
    assert widths is not None
    assert sum(widths) == pytest.approx(LINE / size, rel=1e-6)
    assert widths[1] < widths[0] < widths[2]
    small, full = column_widths(["a", "b"], [["x", "1"]], {1})
    assert small is None
    assert full == 1.0


def test_one_long_name_does_not_press_the_others() -> None:
    rows = [["short", "a remark of some words that is of use here"] for _ in range(30)]
    usual, _ = column_widths(["what", "why"], [*rows, ["w " * 300, "x"]])
    assert usual is not None
    assert usual[1] > usual[0]


def test_group_rows_stay_with_what_follows() -> None:
    data = table_data(Table("", ("hour", "00", "04"), (("basking", "", ""), ("air", "1", "2"))))
    assert data["under"] == [True, False]


def test_table_longer_than_a_page_says_its_heads_again() -> None:
    rows = tuple((f"thing {k}", f"{k}") for k in range(150))
    long = Section("x", "Long", (Table("Things", ("what", "how many"), rows),))
    assert len(typeset(document(long), "a4", "png", 20.0)) >= 5


def test_same_document_same_bytes_on_both_papers() -> None:
    report = check_report(habitat(), findings())
    made = document(Section("f", "Findings", (Found(report.groups),)))
    a4, letter = typeset(made, "a4"), typeset(made, "letter")
    assert a4 == typeset(made, "a4")
    assert a4[0] != letter[0]
    assert a4[0][:5] == letter[0][:5] == b"%PDF-"
    assert b"DejaVuSans" in a4[0]
    assert b"LibertinusSerif" in a4[0]


def test_short_sections_share_a_page_and_those_apart_do_not() -> None:
    few = [Section(f"s{k}", f"Short {k}", (Words("A line."),)) for k in range(4)]
    apart = [Section("quote", "Quote", (Words("A line."),)), few[0]]
    # A cover, the contents, then the sections.
    assert len(typeset(document(*few), "a4", "png", 20.0)) == 3
    assert len(typeset(document(few[1], *apart), "a4", "png", 20.0)) == 4


def test_a_heading_takes_what_it_begins_with_along() -> None:
    rows = tuple((f"thing {k}", f"{k}") for k in range(20))
    full = Section("s", "Long", (Words("word " * 90),) * 5)
    after = Section("t", "After", (Words("What it is for.", "lead"), Table("T", ("a", "b"), rows)))
    alone, both = (typeset(document(*x), "a4", "png", 40.0) for x in ((full,), (full, after)))
    # The table has no room under the text: heading and lead go to its page with it.
    assert len(both) == len(alone) + 1 == 4
    pixels = np.asarray(Image.open(io.BytesIO(both[2])).convert("L"))
    ink = [y / len(pixels) for y, row in enumerate(pixels) if (row < 200).any()]
    assert max(y for y in ink if y < 0.9) > 0.5  # the text; its foot stands lower
    assert not [y for y in ink if 0.78 < y < 0.92]


def test_a_picture_leaves_room_for_the_heading_before_it() -> None:
    size = b'xmlns="http://www.w3.org/2000/svg" width="100" height="400"'
    tall = b"<svg " + size + b'><path d="M0 0h9v9z"/></svg>'
    made = Section("s", "Tall", (Heading("Plants"), Shown(tall, "svg", "a caption")))
    for paper in ("a4", "letter"):
        few = typeset(document(Section("quote", "One", ()), made), paper, "png", 20.0)
        # Cover, contents, the first section, and one page with headings and picture.
        assert len(few) == 4


def test_on_paper_names_are_whole() -> None:
    assert clean("a very long name of a plant", 12) == "a very long…"
    with on_paper():
        assert clean("a very long name of a plant", 12) == "a very long name of a plant"
    assert clean("a very long name of a plant", 12) == "a very long…"


def test_the_chart_of_work_comes_after_its_list() -> None:
    """It may float to the next page, and must not come to stand before the section's own heading."""
    order = order_of_work(habitat())
    blocks = order_section(order, None, b"<svg/>").blocks
    chart = next(k for k, b in enumerate(blocks) if isinstance(b, Shown))
    listed = next(k for k, b in enumerate(blocks) if isinstance(b, Table))
    assert blocks[chart].floats
    assert listed < chart


def test_a_page_that_a_drawing_fills_has_its_number() -> None:
    out = io.BytesIO()
    Image.new("RGB", (297, 210), "white").save(out, "png")
    sheet = Sheet(out.getvalue(), "png", "an empty drawing")
    pages = typeset(document(Section("a", "A", (sheet, sheet))), kind="png", ppi=72.0)
    lying = [np.asarray(Image.open(io.BytesIO(p)).convert("L")) for p in pages]
    lying = [p for p in lying if p.shape[1] > p.shape[0]]
    assert len(lying) == 2
    numbers = []
    for page in lying:
        rows, columns = np.nonzero(page < 200)
        # In the free corner, clear of the edges that printers leave out.
        assert rows.min() > page.shape[0] - 12.0 / 25.4 * 72.0
        assert rows.max() < page.shape[0] - 3.5 / 25.4 * 72.0
        assert columns.min() > 6.0 / 25.4 * 72.0
        assert columns.max() < 40.0 / 25.4 * 72.0
        numbers.append(page[rows.min() : rows.max() + 1, columns.min() : columns.max() + 1])
    assert not np.array_equal(*numbers), "each its own"
