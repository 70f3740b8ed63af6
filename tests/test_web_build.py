"""What the page Build shows and writes: prices in their list, the plan on a desk, the pack."""

from __future__ import annotations

import asyncio
import io
import pickle
import shutil
import zipfile
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from loamwright.editing import Draft, price_field
from loamwright.engine.ground.quantities import ground_quantities
from loamwright.errors import InputError
from loamwright.files.prices_csv import parse_prices
from loamwright.files.prices_edit import Typed, pack_of, text_of, with_price
from loamwright.habitat.habitat import Habitat
from loamwright.plan.findings import build_findings
from loamwright.plan.whole import Plan, plan_of
from loamwright.web import build_data, build_desk, build_work, engine_work
from loamwright.web import desk as desks
from loamwright.web.build_work import Known, Planned
from loamwright.web.engines import JobFailedError, JobStoppedError

EXAMPLES = Path(__file__).parents[1] / "src/loamwright/data/examples"

LIST = (
    "key;remark;pack;unit;price;date\r\n"
    'media/coir;"two lines,\r\nand a ; in it";70;L;15.90;2027-01-15\r\n'
    "\r\n"
    "media/coir;;20;L; 5.90 ;2027-01-15\r\n"
    "lamps/led-bar-60w;dear;1;piece;66;2027-01-15"
)


def quiet(_: str, __: Any = None) -> None:
    return


@pytest.fixture
def edge(tmp_path: Path) -> Draft:
    for name in ("forest-edge.yaml", "forest-edge-prices.csv"):
        shutil.copy(EXAMPLES / name, tmp_path)
    return Draft(tmp_path / "forest-edge.yaml", "", tmp_path / "state")


@pytest.fixture(scope="module")
def habitat() -> Habitat:
    found = Draft(EXAMPLES / "forest-edge.yaml").habitat
    assert found is not None
    return found


@pytest.fixture(scope="module")
def plan(habitat: Habitat) -> Plan:
    return plan_of(habitat, amount=ground_quantities(habitat))


# -- prices in their list ------------------------------------------------------------------------


def test_only_the_cells_of_one_row_change() -> None:
    typed = Typed("media/coir", "70", "L", "16.50", "coir", "2027-02-02")
    made = with_price(LIST, "list.csv", "EUR", typed)
    assert made == LIST.replace(";15.90;2027-01-15", ";16.50;2027-02-02")
    # The last row has no line end, and gets none.
    lamp = with_price(LIST, "list.csv", "EUR", Typed("lamps/led-bar-60w", "1", "piece", "70"))
    assert lamp == LIST.replace(";66;", ";70;")
    # The same price again writes nothing, not even another date.
    assert with_price(LIST, "list.csv", "EUR", Typed("media/coir", "20", "L", "5.9")) == LIST


def test_a_pack_is_the_same_in_any_unit_that_a_list_may_use() -> None:
    made = with_price(LIST, "list.csv", "EUR", Typed("media/coir", "0.02", "m3", "6"))
    (row,) = [p for p in parse_prices(made, "list.csv", "EUR") if p.told == "20 L"]
    assert row.price == Decimal(6)
    assert len(made.splitlines()) == len(LIST.splitlines())


def test_a_new_price_is_a_row_at_the_end_in_the_columns_of_the_list() -> None:
    typed = Typed("media/sand", "25", "L", "6.20", "washed sand", "2027-02-02")
    made = with_price(LIST, "list.csv", "EUR", typed)
    assert made == LIST + "\r\nmedia/sand;;25;L;6.20;2027-02-02\r\n"
    found = parse_prices(made, "list.csv", "EUR")
    assert (found[-1].key, found[-1].price) == ("media/sand", Decimal("6.20"))


@pytest.mark.parametrize(
    ("price", "said"),
    [("-1", "negative"), ("12,5", "write 12.5"), ("dear", "not a number"), ("", "no price"),
     ("1e3", "not a number"), ("5;9", "not a number"), ("=1+1", "not a number")],
)  # fmt: skip
def test_what_is_no_price_is_refused_in_the_words_of_the_list(price: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        with_price(LIST, "list.csv", "EUR", Typed("media/coir", "70", "L", price))


def test_a_pack_has_a_number_and_a_unit() -> None:
    assert pack_of("70 L") == ("70", "L")
    assert pack_of("12") == ("12", "piece")
    with pytest.raises(InputError, match="no unit of a pack"):
        pack_of("70 buckets")


def test_a_list_that_is_not_utf_8_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "old.csv"
    path.write_bytes("key,pack,unit,price\na,1,piece,3 \u00b0".encode("latin-1"))
    with pytest.raises(InputError, match="not UTF-8"):
        text_of(path)


def test_a_price_on_a_draft_is_on_disk_at_once_and_a_wrong_one_is_kept_beside_it(
    edge: Draft,
) -> None:
    path = edge.path.parent / "forest-edge-prices.csv"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    before = path.read_bytes()
    edge.set_price("stand/timber-bench", "1", "300", date="2027-02-02")
    after = path.read_bytes()
    assert after == before.replace(b"1,piece,310.00,EUR,invented for the example,2027-01-15",
                                   b"1,piece,300,EUR,invented for the example,2027-02-02")  # fmt: skip
    assert after != before
    assert not edge.dirty
    assert edge.habitat is not None
    assert edge.habitat.money is not None
    (price,) = [p for p in edge.habitat.money.price_list if p.key == "stand/timber-bench"]
    assert price.price == 300
    with pytest.raises(InputError, match="negative"):
        edge.set_price("stand/timber-bench", "1", "-3")
    assert path.read_bytes() == after
    again = Draft(edge.path, "", edge.path.parent / "state")
    refused = again.refused[price_field("stand/timber-bench", "1")]
    assert refused.text == "-3"
    again.set_price("stand/timber-bench", "1", "3")
    assert not again.refused


def test_a_file_without_a_list_is_given_one_which_can_be_taken_back(edge: Draft) -> None:
    edge.remove(("money", "prices"))
    (edge.path.parent / "forest-edge-prices.csv").unlink()
    edge.set_price("stand/timber-bench", "1", "300", name='bench, "oak"', date="2027-02-02")
    made = (edge.path.parent / "forest-edge-prices.csv").read_text("utf-8")
    assert made.splitlines() == [
        "key,name,pack,unit,price,currency,source,date",
        'stand/timber-bench,"bench, ""oak""",1,piece,300,EUR,typed in the workbench,2027-02-02',
    ]
    assert edge.value(("money", "prices")) == "forest-edge-prices.csv"
    assert edge.undo() == "a price list"
    assert edge.value(("money", "prices")) is None
    edge.remove(("money",))
    with pytest.raises(InputError, match="currency first"):
        edge.set_price("stand/timber-bench", "1", "300")


def test_a_list_outside_of_the_folder_is_never_written(edge: Draft) -> None:
    outside = edge.path.parent.parent / "outside.csv"
    outside.write_text("key,pack,unit,price\n")
    text = edge.text.replace("forest-edge-prices.csv", "../outside.csv")
    edge.write(text)
    with pytest.raises(InputError, match="leaves the project's folder"):
        edge.set_price("stand/timber-bench", "1", "300")
    assert outside.read_text() == "key,pack,unit,price\n"


# -- what is shown -------------------------------------------------------------------------------


def test_the_list_has_every_line_of_the_plan_and_says_what_has_no_price(
    edge: Draft, plan: Plan
) -> None:
    shown = build_data.shopping(edge, plan, "metric")
    rows = [r for g in shown["groups"] for r in g["rows"]]
    assert [r["key"] for r in rows] == [b.line.key for b in plan.money.bought]
    costs = [Decimal(r["cost"].replace(",", "")) for r in rows]
    assert sum(costs) == Decimal(shown["sum"].replace(",", "")) == plan.money.quote.materials
    assert shown["incomplete"] == ""
    coir = next(r for r in rows if r["key"] == "media/coir")
    assert {p["pack"] for p in coir["prices"]} == {"70 L", "20 L"}
    assert coir["new"] is None
    # Without a currency each line can be given a price, and the list says that there is none.
    edge.remove(("money",))
    assert edge.habitat is not None
    bare = plan_of(edge.habitat, amount=ground_quantities(edge.habitat))
    shown = build_data.shopping(edge, bare, "metric")
    rows = [r for g in shown["groups"] for r in g["rows"]]
    assert shown["no_money"]
    assert shown["incomplete"].startswith("No prices")
    assert {r["new"]["pack"] for r in rows} == {"1", "1 m", "1 m2", "1 L", "1 kg"}


def test_a_refused_price_stands_in_its_cell(edge: Draft, plan: Plan) -> None:
    with pytest.raises(InputError, match="negative"):
        edge.set_price("media/coir", "20 L", "-1")
    with pytest.raises(InputError, match="no unit"):
        edge.set_price("media/coir", "3 buckets", "1")
    shown = build_data.shopping(edge, plan, "metric")
    (coir,) = [r for g in shown["groups"] for r in g["rows"] if r["key"] == "media/coir"]
    cells = {p["pack"]: p for p in coir["prices"]}
    assert cells["20 L"]["price"] == "-1"
    assert "negative" in cells["20 L"]["message"][0]
    assert cells["70 L"]["message"] == []
    assert coir["new"]["pack"] == "3 buckets"


def test_the_chart_has_each_task_in_its_days(plan: Plan) -> None:
    chart = build_data.chart(plan.order, "2027-03-01")
    assert [b["key"] for b in chart["bars"]] == [s.task.key for s in plan.order.steps]
    for bar in chart["bars"]:
        assert 0 <= bar["begin"] <= bar["worked"] <= bar["end"] <= plan.order.days + 1e-9
    assert {b["key"] for b in chart["bars"] if b["binding"]} == set(plan.order.chain)
    assert chart["ticks"][0] == [0, "1 Mar"]
    # 2027-03-01 is a Monday: the first closed days are the sixth and seventh.
    assert chart["shut"][:2] == [5, 6]
    assert chart["enter"] == plan.order.enter
    assert build_data.chart(plan.order, "")["shut"] == []


def test_own_times_stand_beside_those_of_common_practice(edge: Draft, plan: Plan) -> None:
    edge.set(("build", "work", "cut"), "5 h")
    with pytest.raises(InputError, match=r"soon|time"):
        edge.set(("build", "waits", "leak"), "soon")
    rows = {t["key"]: t for t in build_data.tasks(edge, plan.order)}
    assert rows["cut"]["work"]["value"] == "5 h"
    assert rows["glue"]["work"]["value"] == ""
    assert rows["glue"]["work"]["told"]
    assert rows["leak"]["wait"]["value"] == "soon"
    assert rows["leak"]["wait"]["message"]


# -- jobs and the desk ---------------------------------------------------------------------------


def test_the_job_says_what_the_plan_says(habitat: Habitat, plan: Plan) -> None:
    made = engine_work.JOBS["plan"](None, quiet, habitat, Known(), "metric")
    assert made.plan == plan
    assert made.findings == tuple(build_findings(habitat, plan.build))
    assert not made.whole
    assert pickle.loads(pickle.dumps(made)) == made


def test_drawings_and_the_saws_files_are_of_the_same_sheets(habitat: Habitat, plan: Plan) -> None:
    drawn = build_work.plan_drawings(None, quiet, habitat, plan, "metric")
    sheets = sum(len(job.sheets) for job in plan.cuts.jobs)
    assert len(drawn["cuts"]) == sheets
    assert len(drawn["wiring"]) == len(drawn["mist"]) == 1
    content = build_work.cut_files(None, quiet, plan, "metric")
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        names = {n.rsplit(".", 1)[0] for n in archive.namelist()}
    assert {n.rsplit(".", 1)[0] for n, _ in drawn["cuts"]} <= names
    assert build_work.cut_files(None, quiet, plan, "metric") == content


def test_a_zip_is_the_same_for_the_same_files_and_day() -> None:
    files = {"pack.pdf": b"%PDF-1", "a.csv": b"a"}
    one, two = (build_work.zipped(files, (2027, 3, d)) for d in (1, 1))
    assert one == two
    assert build_work.zipped(files, (2027, 3, 2)) != one
    with zipfile.ZipFile(io.BytesIO(one)) as archive:
        assert archive.namelist() == ["pack.pdf", "a.csv"]


@pytest.mark.parametrize("text", ["2027-02-30", "soon", "", "1979-12-31", "2200-01-01"])
def test_a_pack_has_a_day_that_there_is(text: str) -> None:
    assert build_desk.day_of(text) is None
    assert build_desk.day_of("2027-03-01") == (2027, 3, 1)


class Slow:
    """Engines that answer when they are let."""

    def __init__(self) -> None:
        self.asked: list[tuple[str, dict[str, Any]]] = []
        self.answers: list[asyncio.Future[Any]] = []

    async def run(
        self, desk: str, job: str, *, slot: str = "", told: Any = None, **how: Any
    ) -> Any:
        self.asked.append((job, how))
        answer: asyncio.Future[Any] = asyncio.get_running_loop().create_future()
        self.answers.append(answer)
        return await answer

    def stop(self, desk: str, slot: str | None = None) -> None:
        for answer in self.answers:
            if not answer.done():
                answer.set_exception(JobStoppedError())


async def turns() -> None:
    for _ in range(5):
        await asyncio.sleep(0)


def test_of_several_plans_the_latest_is_shown_and_trouble_is_said(
    edge: Draft, plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(build_desk, "QUIET", 0.0)

    async def go() -> None:
        engines = Slow()
        desk = desks.Desk(edge, engines, "me")  # type: ignore[arg-type]
        told: list[str] = []
        desk.watch(told.append)
        desk.building.replan()
        await turns()
        desk.building.replan()
        await turns()
        assert [job for job, _ in engines.asked] == ["plan", "plan"]
        assert "plan" in desk.busy
        late, early = Planned(plan, habitat=edge.habitat), Planned()
        engines.answers[1].set_result(late)
        await turns()
        assert desk.building.planned is late
        if not engines.answers[0].done():
            engines.answers[0].set_result(early)
        await turns()
        assert desk.building.planned is late
        assert "plan" not in desk.busy
        assert "build" in told
        desk.building.replan()
        await turns()
        engines.answers[2].set_exception(JobFailedError("the sheet is smaller than a part"))
        await turns()
        assert desk.troubles["plan"] == "the sheet is smaller than a part"
        assert desk.building.planned.plan is None

    asyncio.run(go())


def test_a_price_asks_for_the_plan_and_nothing_else(
    edge: Draft, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(build_desk, "QUIET", 0.0)

    async def go() -> None:
        engines = Slow()
        desk = desks.Desk(edge, engines, "me")  # type: ignore[arg-type]
        await desk.edit(lambda: edge.set_price("stand/timber-bench", "1", "300"))
        await desk.edit(lambda: edge.set(("build", "start"), "2027-04-05"))
        await turns()
        assert {job for job, _ in engines.asked} == {"plan"}
        asked = engines.asked[-1][1]["habitat"]
        assert asked.workshop.start == "2027-04-05"
        assert next(p.price for p in asked.money.price_list if p.key == "stand/timber-bench") == 300
        # Another lamp is another light: everything is asked anew.
        await desk.edit(lambda: edge.set(("lamps", 0, "dim"), "50 %"))
        await turns()
        assert engines.asked[-1][0] == "glance"
        desk.end()

    asyncio.run(go())


def test_the_builds_findings_are_among_all_of_them(
    edge: Draft, habitat: Habitat, plan: Plan
) -> None:
    desk = desks.Desk(edge, Slow(), "me")  # type: ignore[arg-type]
    found = tuple(build_findings(habitat, plan.build))
    desk.building.planned = Planned(plan, found, habitat)
    assert [f for f in desk.findings if f.engine == "build"] == list(found)
    assert len(found) > 5
