"""Groups and their descent: textbook herds through the whole way from file to finding, and breeding."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import numpy as np
import pytest

from bad_case import told as problems_of
from loamwright import workflow
from loamwright.engine.life import breeding, descent
from loamwright.engine.life.descent_findings import descent_findings
from loamwright.engine.life.space import by_species
from loamwright.engine.life.study import study_animals
from loamwright.files.catalogue import load_catalogue
from loamwright.files.pedigree_csv import parse_pedigree
from loamwright.files.reader import read_habitat, read_habitat_text
from loamwright.habitat.habitat import Habitat
from loamwright.physics import incubation
from loamwright.report.animals_blocks import animals_tables
from loamwright.report.animals_out import animals_document, animals_schema
from loamwright.report.descent_blocks import descent_tables
from loamwright.report.words import TITLES, word

BASE = """\
name: Herd
enclosure: {inside: {width: 120 cm, depth: 60 cm, height: 60 cm}}
ground: [{name: mix, kind: mix, depth: 10 cm, parts: {coir: 1}}]
"""

LACY = (
    BASE
    + """\
existing: [{name: old, animals: [one, two]}, {name: new, animals: [three, four]}]
pedigree:
  - {name: A, sex: male}
  - {name: B}
  - {name: C}
  - {name: one, sex: male, sire: A, dam: B}
  - {name: two, sex: female, sire: A, dam: B}
  - {name: three, sex: male, sire: A, dam: C}
  - {name: four, sex: female, sire: A, dam: C}
animals: [{species: takydromus-sexlineatus, from: [old, new], individuals: [one, two, three, four]}]
"""
)


def habitat(text: str) -> Habitat:
    return read_habitat_text(text, Path("herd.yaml"))


def descent_in(text: str) -> descent.Descent:
    made = habitat(text)
    found = descent.descent_of(made, by_species(made)[0])
    assert found is not None
    return found


# -- descent ---------------------------------------------------------------------------------------


def test_the_worked_herd_of_three_founders():
    """A x B and A x C, two young each: mean kinship 1/4, diversity 3/4, 2 genomes, 8/3 founders."""
    found = descent_in(LACY)
    joined = found.joined
    assert (joined.mean_kinship, joined.diversity, joined.genomes) == pytest.approx(
        (0.25, 0.75, 2.0)
    )
    assert joined.founders == pytest.approx(1 / 0.375)
    assert [m.mean_kinship for m in found.members] == pytest.approx([0.25] * 4)
    # Full sibs alone: (1/2 + 1/4) / 2 = 3/8, so joining keeps more.
    assert [g.diversity for g in found.before] == pytest.approx([0.625, 0.625])
    assert found.worst is not None
    assert found.worst.inbreeding == pytest.approx(0.25)  # full sibs
    # Best are half sibs, 1/8; all alike: the mean of two of each.
    assert [p.inbreeding for p in found.pairs] == pytest.approx([0.125, 0.125])
    assert {(p.male, p.female) for p in found.pairs} == {("one", "four"), ("three", "two")}
    assert found.random == pytest.approx((0.25 + 0.125) / 2)
    assert joined.effective == pytest.approx(4.0)  # 4 x 2 x 2 / 4
    # Young of one x four and three x two, one each: off the diagonal (f13 + f12' ...) by hand 3/16.
    assert found.gene_value == pytest.approx(1 - (2 * 0.5625 + 2 * 0.1875) / 4)
    assert found.joined.inbreeding == 0.0
    assert {m.lives_in for m in found.members} == {"old", "new"}


def test_the_book_s_pedigree_of_six():
    """Mrode, example 2.1: animals 5 and 6 are inbred by an eighth."""
    text = (
        BASE
        + """\
pedigree:
  - {name: "6", sex: male, sire: "5", dam: "2"}
  - {name: "5", sire: "4", dam: "3"}
  - {name: "4", sire: "1"}
  - {name: "3", sire: "1", dam: "2"}
  - {name: "1"}
  - {name: "2"}
animals: [{species: gekko-gecko, males: 2, young: 0, individuals: ["5", "6"]}]
"""
    )
    found = descent_in(text.replace('name: "5", sire', 'name: "5", sex: male, sire'))
    assert [m.inbreeding for m in found.members] == pytest.approx([0.125, 0.125])
    # Additive relationship of 5 and 6 is 11/16, so kinship 11/32; own (1 + 1/8) / 2
    assert found.joined.mean_kinship == pytest.approx((9 / 16 + 11 / 32) / 2)
    assert found.worst is None  # two males


def test_best_pairs_keep_off_near_kin_where_that_can_be():
    """Sibs with two unrelated pairs would cost least in all; three pairs of half sibs are chosen."""
    names = ("m1", "m2", "m3", "f1", "f2", "f3")
    kinship = np.eye(6) * 0.5
    kinship[:3, 3:] = [[0.25, 0.125, 0.5], [0.5, 0.0, 0.125], [0.125, 0.5, 0.0]]
    none = np.full(6, -1)
    sexes = ("male",) * 3 + ("female",) * 3
    herd = descent.Herd(names, none, none, sexes, kinship)
    pairs = descent._best(herd, [0, 1, 2], [3, 4, 5], dict.fromkeys(range(6), 0.2))
    assert max(p.inbreeding for p in pairs) == pytest.approx(0.125)
    kinship[0, 4] = 0.3
    pairs = descent._best(herd, [0, 1, 2], [3, 4, 5], dict.fromkeys(range(6), 0.2))
    # The first male has near kin only: the least of it is told.
    assert max(p.inbreeding for p in pairs) == pytest.approx(0.25)


def test_only_ancestors_are_carried_along():
    text = LACY.replace("pedigree:\n", "pedigree:\n  - {name: stranger}\n")
    made = habitat(text)
    herd = descent.herd_of(made.pedigree, ["one"])
    assert herd.names == ("A", "B", "one")
    assert herd.kinship.shape == (3, 3)


def test_a_parent_has_shown_its_sex():
    text = LACY.replace("{name: three, sex: male,", "{name: three,").replace(
        "{name: four, sex: female, sire: A, dam: C}",
        "{name: four, sex: female, sire: A, dam: C}\n  - {name: kid, sire: three, dam: four}",
    )
    found = descent_in(text.replace("individuals: [one, two, three, four]",
                                    "individuals: [one, two, three, four]"))  # fmt: skip
    assert found.joined.males == 2


@pytest.mark.parametrize(
    ("key", "limit"),
    [
        ("takydromus-sexlineatus", (1, 2)),
        ("pogona-vitticeps", (1, 0)),
        ("eublepharis-macularius", (1, 2)),
        ("lepidodactylus-lugubris", (0, -1)),
        ("dendrobates-auratus", (2, 3)),
        ("egernia-stokesii", None),
    ],
)
def test_how_many_of_each_sex(key, limit):
    assert descent.sex_limit(load_catalogue().animals[key]) == limit


def test_every_sex_ratio_of_the_catalogue_is_read_or_is_words():
    words = {s.sex_ratio for s in load_catalogue().animals.values()
             if descent.sex_limit(s) is None}  # fmt: skip
    assert words == {"family group"}


# -- findings --------------------------------------------------------------------------------------


def found_in(text: str) -> dict[str, object]:
    made = habitat(text)
    out = {f.need: f for f in descent_findings(made)}
    assert set(out) <= set(TITLES)
    return out


def test_joined_groups_are_judged():
    found = found_in(LACY)
    assert str(found["group-size"].state) == "missed"  # 4 of 3
    assert str(found["group-males"].state) == "missed"  # 2 of 1
    assert str(found["pair-inbreeding"].state) == "missed"
    assert str(found["joined-diversity"].state) == "met"
    told = word(found["pair-inbreeding"], habitat(LACY))
    assert "the closest are" in told.why.lower()
    assert "one x four" in told.why
    assert told.value == "25 %"
    assert "least akin" in word(found["group-size"], habitat(LACY)).why


def test_half_sibs_are_the_limit_and_just_let_pass():
    text = LACY.replace("[one, two, three, four]}", "[one, four]}").replace(
        "animals: [one, two]}, {name: new, animals: [three, four]}",
        "animals: [one]}, {name: new, animals: [four]}",
    )
    found = found_in(text)
    assert found["pair-inbreeding"].value == pytest.approx(0.125)
    assert str(found["pair-inbreeding"].state) == "met"


def test_without_a_pedigree_it_is_not_known():
    pair = found_in(BASE + "animals: [{species: gekko-gecko, males: 1, females: 1}]\n")
    assert str(pair["pair-inbreeding"].state) == "not_known"
    alone = found_in(BASE + "animals: [{species: gekko-gecko, males: 1}]\n")
    assert "pair-inbreeding" not in alone


def test_unknown_numbers_stay_unknown():
    found = found_in(BASE + "animals: [{species: egernia-stokesii, males: 2, females: 2}]\n")
    assert str(found["group-males"].state) == "not_known"


# -- breeding --------------------------------------------------------------------------------------


def test_the_floor_is_used_up_after_so_many_clutches():
    text = BASE + "animals: [{species: dendrobates-leucomelas, males: 2, females: 2}]\n"
    made = habitat(text)
    found = breeding.breeding_of(made, made.animals[:1] and by_species(made)[0], {})
    # 0.72 m2: 0.12 for two and 0.04 each, 17 in all; 13 more; clutches of 2 to 8
    (room,) = found.rooms
    assert (room.animals, room.open) == (17, False)
    assert found.young == (4.0, 16.0)
    assert found.clutches == (2, 7)


def test_a_standard_silent_on_more_is_no_end_of_the_room():
    made = habitat(BASE + "animals: [{species: phelsuma-grandis, males: 1, females: 1}]\n")
    found = breeding.breeding_of(made, by_species(made)[0], {})
    assert all(c.open for c in found.rooms)
    assert found.clutches is None


def test_eggs_left_where_they_lie():
    sites = "sites: [{name: nest, at: [60 cm, 30 cm], role: laying}]\n"
    made = habitat(BASE + sites + "animals: [{species: eublepharis-macularius, females: 2}]\n")

    class Run:
        season = "summer"
        air = np.full((25, 1), 273.15 + 28.0)

        @staticmethod
        def site(name: str) -> int:
            assert name == "nest"
            return 0

    (eggs,) = breeding.breeding_of(made, by_species(made)[0], {"s": Run()}).warm  # type: ignore[dict-item]
    assert eggs.males == 0.0  # no male out of 97 eggs kept at 28 degC
    assert eggs.days is None  # no days by temperature were found for it
    assert not breeding.breeding_of(made, by_species(made)[0], {}).breeds


def test_incubation_follows_the_published_lines():
    """Degree-days worked out by hand: anole from 15.8 degC, 367; frilled lizard 17.5 degC, 1038."""
    for latin, threshold, constant in (
        ("Anolis sagrei", 15.8, 367.0), ("Chlamydosaurus kingii", 17.5, 1038.0),
    ):  # fmt: skip
        line = incubation.development(latin)
        assert line is not None
        assert line.threshold - 273.15 == pytest.approx(threshold, abs=0.05)
        assert line.constant / 86400 == pytest.approx(constant, rel=0.002)
    low, high = incubation.hatching_days("Anolis sagrei", 273.15 + 28.0) or (0, 0)
    assert low < 30.4 < high  # measured at 28 degC
    assert incubation.hatching_days("Anolis sagrei", 273.15 + 31.0) is None  # hotter than tried
    assert incubation.development("Chamaeleo calyptratus") is None  # its eggs rest
    bent = incubation.development("Dipsosaurus dorsalis")
    assert bent is not None
    assert bent.warmest < 273.15 + 38.0  # 44.6 d at 38, 46.7 d at 40


# -- told ------------------------------------------------------------------------------------------


def test_tables_and_document_hold_the_descent():
    made = habitat(LACY)
    told = study_animals(made, {})
    text = "\n".join(" ".join(row) for t in animals_tables(made, told, "metric") for row in t.rows)
    assert "one x four a best pair young inbred by 12.5 %" in text
    assert "together, as planned 2.2 0.250 75.0 % 2.00 2.67" in text
    document = animals_document(made, told, descent_findings(made), "metric")
    jsonschema.validate(json.loads(json.dumps(document)), animals_schema())
    line = document["species"][0]["descent"]
    assert line["joined"]["founder_genome_equivalents"] == pytest.approx(2.0)
    assert line["closest_pair"]["inbreeding"] == pytest.approx(0.25)


def test_every_way_of_joining_old_habitats_is_told():
    """The school's three groups: 4 + 3 + 4 animals, of which the species bears three."""
    path = Path(workflow.__file__).parent / "data" / "examples" / "school-meadow.yaml"
    told = study_animals(read_habitat(path), {}).residents[0]
    assert told.descent is not None
    joins = {x.groups: x for x in told.descent.joins}
    assert [len(g) for g in joins] == [2, 2, 2, 3]
    two = joins["science room", "library"]
    assert (two.animals, two.males, two.females) == (7, 2, 5)
    # Hazel is a daughter of half sibs, Fennel her father: (0.5 + 0.125 + ...) by hand 0.3125.
    assert two.closest is not None
    assert (two.closest.male, two.closest.female) == ("Fennel", "Hazel")
    assert two.closest.inbreeding == pytest.approx(0.3125)
    table = next(t for t in descent_tables(told, "metric") if "joined whole" in t.title)
    assert all(row[3].startswith("no: ") for row in table.rows)
    assert "3 at most" in table.rows[0][3]
    assert "Anise, Clover, Gorse would do" in table.note


# -- the table of a pedigree -----------------------------------------------------------------------

TABLE = """\
Name;Sex;Sire;Dam;Species;Lives in;Remark
A;m;;;gekko-gecko;;
B;F;;;gekko-gecko;hall;bought
C;?;A;B;;loft;
"""


def test_a_pedigree_is_read_from_a_table(tmp_path):
    (tmp_path / "herd.csv").write_text(TABLE)
    path = tmp_path / "h.yaml"
    path.write_text(
        BASE + "pedigree_file: herd.csv\nexisting: [{name: hall}]\n"
        "animals: [{species: gekko-gecko, from: hall, individuals: [B, C]}]\n"
    )
    made = read_habitat(path)
    a, b, c = made.pedigree
    assert (a.sex, b.sex, c.sex) == ("male", "female", "unknown")
    assert (c.sire, c.dam, a.sire) == ("A", "B", None)
    assert (a.lives_in, b.lives_in, c.lives_in) == ("", "hall", "loft")
    assert made.existing[0].animals == ("B",)
    assert (made.animals[0].females, made.animals[0].young) == (1, 1)


def table(tmp_path: Path, text: str, more: str = "") -> list[tuple[str, int, str, str]]:
    (tmp_path / "herd.csv").write_text(text)
    path = tmp_path / "h.yaml"
    path.write_text(
        BASE + "pedigree_file: herd.csv\n" + more + "animals: [{species: gekko-gecko, males: 1}]\n"
    )
    return [(Path(p.file).name, p.line, p.field, p.message) for p in problems_of(path)]


@pytest.mark.parametrize(
    ("text", "line", "field", "said"),
    [
        ("animal,sire\nA,B\n", 1, "name", "no column is 'name'; "),
        ("name,name\nA,B\n", 1, "name", "2 columns are named 'name'; keep one"),
        ("name,sire\nA\n", 2, "row", "has 1 columns; the first line names 2"),
        ("name,sire\n,A\n", 2, "name", "has no name"),
        ("name,sex\nA,boy\n", 2, "A.sex", "'boy' is not one of: male, female, unknown"),
        ("name\nA\nB\nA\n", 4, "A.name", "'A' is the name of another animal too (line 2)"),
        ("name,sire\nAda,\nB,Adam\n", 3, "B.sire", "no animal in the pedigree named 'Adam'; the "),
        ("name,sire\nA,A\n", 2, "A", "is its own ancestor: 'A' from 'A'"),
        ("name,sire,dam\nA,B,\nB,,C\nC,A,\n", 2, "A", "is its own ancestor: 'A' from 'B' from 'C'"),
        ("name,sex,dam\nA,m,\nB,,A\n", 3, "B.dam", "'A' is male; a dam is female"),
        ("name,sire,dam\nA,,\nB,A,\nC,,A\n", 4, "C.dam", "'A' is a sire elsewhere; an animal has"),
        ("name,sire,dam\nA,,\nB,A,A\n", 3, "B.dam", "'A' is the sire too; an animal has two"),
        ("name,species\nA,gekko-geko\n", 2, "A.species", "the nearest known is 'gekko-gecko'"),
        ('name,sire\n"A,B\n', 2, "row", "cannot be read as CSV"),
    ],
)  # fmt: skip
def test_a_wrong_table_is_told_where_and_what(tmp_path, text, line, field, said):
    found = table(tmp_path, text)
    assert [(f[:3]) for f in found] == [("herd.csv", line, field)], found
    assert said in found[0][3]


def test_a_table_and_the_file_must_agree(tmp_path):
    more = "existing: [{name: hall, animals: [A]}]\npedigree: [{name: B}]\n"
    found = table(tmp_path, "name,lives_in\nA,loft\nB,\n", more)
    said = sorted(f[3] for f in found)
    assert said[0].startswith("'B' is the name of another animal too (in the habitat file)")
    assert said[1].startswith("lives in 'loft', but 'hall' names it in the habitat file")


def test_a_table_that_is_not_there_is_one_problem(tmp_path):
    path = tmp_path / "h.yaml"
    path.write_text(
        BASE + "pedigree_file: none.csv\nanimals: [{species: gekko-gecko, individuals: [A]}]\n"
    )
    (problem,) = problems_of(path)
    assert problem.field == "pedigree_file"
    assert "there is no file 'none.csv'" in problem.message


def test_an_empty_table_is_told_where_it_is_named(tmp_path):
    (found,) = table(tmp_path, "\n")
    assert found[:3] == ("h.yaml", 4, "pedigree_file")
    assert found[3].startswith("is empty; the first line names the columns: name, species")


def test_too_many_animals_are_refused():
    text = "name\n" + "\n".join(f"a{i}" for i in range(10_001))
    with pytest.raises(Exception, match="holds more than 10000 animals"):
        parse_pedigree(text, "herd.csv")
