# ruff: noqa: E501 (a wrong file and what is said of it read best side by side)
"""Wrong own catalogues, and files a habitat file may not name."""

from __future__ import annotations

from bad_case import METRIC, Case, case

LABEL = "    sources: {'*': {kind: builder, text: the label}}\n"
OWN = METRIC + "catalogue: [own.yaml]\n"
LAMP = "lamps:\n  my-spot:\n    like: halogen-flood-50w\n"
STONE = "materials:\n  slate:\n    reflect_uv: 0.05\n    reflect_par: 0.1\n    reflect_nir: 0.2\n"


def own(name: str, text: str, *told: tuple[str, str], more: str = "") -> Case:
    """A wrong catalogue beside a right habitat file."""
    return case(name, OWN + more, *told, beside={"own.yaml": text})


def path(name: str, named: str, said: str) -> list[Case]:
    """A file that may not be named, as a mesh, a catalogue and a photometric file."""
    mesh = METRIC + f"hardscape: [{{name: r, mesh: ▸{named}, at: [30 cm, 20 cm]}}]\n"
    lamp = (
        METRIC
        + f"lamps: [{{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], ies: ▸{named}}}]\n"
    )
    return [
        case(f"{name}, as a mesh", mesh, ("hardscape[0].mesh", said)),
        case(
            f"{name}, as a catalogue", METRIC + f"catalogue: [▸{named}]\n", ("catalogue[0]", said)
        ),
        case(f"{name}, as a lamp's file", lamp, ("lamps[0].ies", said)),
    ]


# fmt: off
CASES = [
    *path("an absolute path", "/etc/passwd", "'/etc/passwd' is an absolute path; give the file relative to the project's folder"),
    *path("a device", "/dev/zero", "is an absolute path; give"),
    *path("a path upwards", "../secret.yaml", r"leaves the project's folder \(..\); move the file into it"),
    *path("a path down and up", "a/../../secret.yaml", r"leaves the project's folder \(..\); move"),
    *path("a drive", "'C:/x.stl'", "is an absolute path; give"),
    *path("a home", "~/x.stl", "must be a file in the project's folder, such as scans/root.stl"),
    *path("an address", "'file:///etc/passwd'", "must be a file in the project's folder, such as"),
    *path("a backslash", "'..\\x.stl'", "write folders with /, such as"),
    *path("a missing file", "none.stl", "there is no file 'none.stl' in the project's folder"),
    *path("an endless name", "x" * 300, "cannot be read|there is no file"),
    *path("a tab in a name", '"a\\tb.stl"', "holds a character that no file name has"),
    *path("a number for a name", "3", 'must be a text; put it in quotes: "3"'),
    *path("nothing for a name", "''", "must not be empty"),
    case("a catalogue without a path", METRIC + "catalogue: [{▸a: b}]\n".replace("{▸a", "▸{a"), ("catalogue[0]", "must be a text")),
    case("a catalogue named alone", METRIC + "catalogue: ▸own.yaml\n", ("catalogue", r"must be a list: \["), beside={"own.yaml": "{}\n"}),
    case("itself as a catalogue", METRIC.replace("name:", "▸name:").replace("\nenclosure:", "\n▸enclosure:").replace("\nground:", "\n▸ground:").replace("\nanimals: [", "\nanimals: ▸[") + "▸catalogue: [habitat.yaml]\n",
         ("name", "there is no group 'name' of the catalogue"), ("enclosure", "there is no group"), ("ground", "there is no group"), ("animals", "is not a set of entries, key: fields"), ("catalogue", "there is no group")),
    # own catalogues
    own("an empty catalogue", "▸", ("", "is empty|is not a catalogue")),
    own("a catalogue that is a list", "▸- a\n", ("", "is not a catalogue; it has groups: materials, covers, spectra, lamps, plants, animals")),
    own("a catalogue that is no YAML", "lamps: {\n▸", ("", "is not well-formed YAML")),
    own("an unknown group", "▸lampes: {}\n", ("lampes", "there is no group 'lampes' of the catalogue; the nearest known is 'lamps'")),
    own("a group as a list", "lamps: ▸[a]\n", ("lamps", "is not a set of entries, key: fields")),
    own("a key with capitals", "lamps:\n  ▸My_Spot: {like: halogen-flood-50w}\n", ("lamps.My_Spot", "is not a key: small letters, digits and hyphens, at most 64")),
    own("an entry in a word", "lamps:\n  my-spot: ▸bright\n", ("lamps.my-spot", "is not a set of fields; write label:, sources: and its values")),
    own("an unknown field", LAMP + "    ▸powr: 60 W\n" + LABEL, ("lamps.my-spot.powr", "there is no field 'powr'; the nearest known is 'power'")),
    own("a power without a unit", LAMP + "    power: ▸60\n" + LABEL, ("lamps.my-spot.power", "60 has no unit; write it like .54 W")),
    own("a power in kilograms", LAMP + "    power: ▸60 kg\n" + LABEL, ("lamps.my-spot.power", "kg is a unit of mass, but a power is wanted")),
    own("a power below nothing", LAMP + "    power: ▸-60 W\n" + LABEL, ("lamps.my-spot.power", "a power cannot be negative")),
    own("a number without a source", LAMP + "    power: ▸60 W\n", ("lamps.my-spot.power", r"has no source; name one under sources: \(for this field, or \* for all\)")),
    own("a source without words", LAMP + "    power: 60 W\n    sources: {power: {kind: builder, text: ▸''}}\n", ("lamps.my-spot.sources.power.text", "a source needs a text that says where the number comes from")),
    own("a source of an unknown kind", LAMP + "    power: 60 W\n    sources: {power: {kind: ▸hearsay, text: a friend}}\n", ("lamps.my-spot.sources.power.kind", "'hearsay' is not a kind of source; one of published")),
    own("a source of an unknown field", LAMP + "    power: 60 W\n    sources: {'*': me, ▸powr: me}\n", ("lamps.my-spot.sources.powr", "there is no field 'powr'; the nearest known is 'power'")),
    own("sources in a word", LAMP + "    power: 60 W\n    sources: ▸me\n", ("lamps.my-spot.sources", "is not a list of sources; write")),
    own("like nothing known", "lamps:\n  my-spot:\n    like: ▸halogne-flood-50w\n", ("lamps.my-spot.like", "there is no 'halogne-flood-50w' in lamps; the nearest known is 'halogen-flood-50w'")),
    own("like a number", "lamps:\n  my-spot:\n    like: ▸3\n", ("lamps.my-spot.like", "3 is not a key")),
    own("like itself", "lamps:\n  my-spot:\n    like: ▸my-spot\n", ("lamps.my-spot.like", "goes round in a circle: my-spot -> my-spot")),
    own("like each other", "lamps:\n  a:\n    like: b\n  b:\n    like: ▸a\n", ("lamps.b.like", "goes round in a circle: a -> b -> a")),
    own("like three in a ring", "lamps:\n  a:\n    like: b\n  b:\n    like: c\n  c:\n    like: ▸a\n", ("lamps.c.like", "goes round in a circle: a -> b -> c -> a")),
    own("a lamp without a shape", "lamps:\n  my-spot: ▸{power: 60 W, radiant: {halogen-3000k: 40 W}, sources: {'*': me}}\n", ("lamps.my-spot", "shape is missing; one of tube, bar, spot")),
    own("a lamp of an unknown shape", LAMP + "    shape: ▸round\n" + LABEL, ("lamps.my-spot.shape", "'round' is not one of tube, bar, spot")),
    own("more light than power", LAMP + "    power: 10 W\n    radiant: ▸{led-4000k: 60 W}\n" + LABEL, ("lamps.my-spot.radiant", "W of radiation leave a lamp that draws 10 W")),
    own("an unknown spectrum", LAMP + "    radiant: ▸{led-4001k: 1 W}\n" + LABEL, ("lamps.my-spot.radiant", "there is no spectrum 'led-4001k'; the nearest known is 'led-4000k'")),
    own("light beside the beam of a bar", "lamps:\n  mine:\n    like: led-bar-20w\n    wide: ▸{led-6500k: 1 W}\n" + LABEL, ("lamps.mine.wide", "only a spot has a beam beside which light leaves wide; add it to radiant")),
    own("light of an unknown spectrum beside the beam", LAMP + "    wide: ▸{hot-glas: 1 W}\n" + LABEL, ("lamps.my-spot.wide", "there is no spectrum 'hot-glas'; the nearest known is 'hot-glass'")),
    own("more light beside the beam than power", LAMP + "    radiant: ▸{led-4000k: 20 W}\n    wide: {led-4000k: 60 W}\n" + LABEL, ("lamps.my-spot.radiant", "W of radiation leave a lamp that draws 50 W")),
    own("no light at all", LAMP + "    radiant: ▸{led-4000k: 0 W}\n" + LABEL, ("lamps.my-spot.radiant", "nothing shines: at least one spectrum needs more than 0 W")),
    own("a material without a field", STONE.replace("    reflect_uv: 0.05\n", "").replace("slate:\n    ", "slate:\n    ▸") + LABEL, ("materials.slate", "reflect_uv is missing; a fraction such as 0.3")),
    own("more reflected than falls on it", STONE.replace("0.2", "▸1.2") + LABEL, ("materials.slate.reflect_nir", "1.2 is above 1, the most that makes sense")),
    own("a reflectance in watts", STONE.replace("0.2", "▸2 W") + LABEL, ("materials.slate.reflect_nir", "W is a unit of power, but a share .* is wanted|'2 W'")),
    own("clear without telling how clear", STONE + "    clear: ▸true\n" + LABEL, ("materials.slate.clear", "a clear material needs transmit for uvb, uva, par, nir, fir")),
    own("clear in a word", STONE + "    clear: ▸very\n" + LABEL, ("materials.slate.clear", "'very' is neither true nor false")),
    own("bands that are missing", STONE + "    clear: true\n    transmit: ▸{uvb: 0.1}\n" + LABEL, ("materials.slate.transmit", "the band uva is missing; all of uvb, uva, par, nir, fir are needed")),
    own("a band nobody knows", STONE + "    clear: true\n    transmit: {▸uvc: 0.1}\n".replace("{▸uvc: 0.1", "{uvc: ▸0.1") + LABEL, ("materials.slate.transmit.uvc", "there is no band 'uvc'; bands are uvb, uva, par, nir, fir")),
    own("a mesh without wire", "covers:\n  net:\n    kind: ▸mesh\n    pitch: 5 mm\n" + LABEL, ("covers.net.kind", "a mesh needs pitch and wire, both above 0 mm")),
    own("a mesh all wire", "covers:\n  net:\n    kind: mesh\n    pitch: 5 mm\n    wire: ▸5 mm\n" + LABEL, ("covers.net.wire", "the wire is as thick as the pitch: nothing passes")),
    own("a sheet of wood", "covers:\n  lid:\n    kind: sheet\n    sheet: ▸hardwood\n", ("covers.lid.sheet", "hardwood is not a clear material")),
    own("a spectrum of nothing", "spectra:\n  mine: ▸{label: mine}\n", ("spectra.mine", "a spectrum is given either by parts or by wavelength and power")),
    own("a spectrum out of order", "spectra:\n  mine:\n    ▸wavelength: [400, 500, 450]\n    power: [1, 1, 1]\n" + LABEL, ("spectra.mine", "wavelength does not rise from each number to the next")),
    own("a spectrum of two lengths", "spectra:\n  mine:\n    ▸wavelength: [400, 500]\n    power: [1, 1, 1]\n" + LABEL, ("spectra.mine", "wavelength has 2 numbers, but power has 3")),
    own("a part nobody knows", "spectra:\n  mine:\n    parts: [{▸bnd: 450 nm, width: 20 nm, share: 1}]\n".replace("▸bnd: 450", "bnd: ▸450") + LABEL, ("spectra.mine.parts[0].bnd", "there is no 'bnd' here; the nearest known is 'band'")),
    own("an animal in a fifth zone", "animals:\n  mine:\n    like: phelsuma-grandis\n    ferguson_zone: ▸5\n" + LABEL, ("animals.mine.ferguson_zone", "5 is above 4, the most that makes sense")),
    own("an animal hotter than hot", "animals:\n  mine:\n    like: phelsuma-grandis\n    night: ▸[90 degF, 20 degC]\n" + LABEL, ("animals.mine.night", "90 degF is more than 20 degC; write the lower one first")),
    own("a plant with a range of three", "plants:\n  mine:\n    like: ficus-benjamina\n    dli: ▸[1 mol/m2/d, 2 mol/m2/d, 3 mol/m2/d]\n" + LABEL, ("plants.mine.dli", "is not a range; write .low, high., null where open")),
    case("one entry in two catalogues", METRIC + "catalogue: [own.yaml, two.yaml]\n", ("lamps.my-spot", "is already in .*own.yaml; an own entry is given once"),
         beside={"own.yaml": LAMP, "two.yaml": LAMP.replace("my-spot", "▸my-spot")}),
    case("one catalogue twice", METRIC + "catalogue: [own.yaml, own.yaml]\n", ("lamps.my-spot", "is already in .*own.yaml; an own entry is given once"),
         beside={"own.yaml": LAMP.replace("my-spot", "▸my-spot")}),
    own("an entry twice in one catalogue", LAMP + "  ▸my-spot:\n    like: halogen-flood-35w\n", ("lamps.my-spot", "'my-spot' is here twice, first in line 2; keep one")),
    own("a broken catalogue blames only itself", LAMP + "    power: ▸60\n" + LABEL, ("lamps.my-spot.power", "60 has no unit"),
        more="lamps: [{name: l, type: my-spot, at: [30 cm, 20 cm, 80 cm]}]\n"),
    case("catalogue and habitat both wrong", OWN + "purpose: ▸zoo\n", ("purpose", "'zoo' is not one of"), ("lamps.my-spot.power", "60 has no unit"),
         beside={"own.yaml": LAMP + "    power: ▸60\n" + LABEL}),
    # light files
    case("a cut short IES file", METRIC + "lamps: [{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], ies: a.ies}]\n", ("candela multiplier", "the file ends where candela multiplier should stand: it is cut short"),
         beside={"a.ies": "IESNA:LM-63-2002\nTILT=NONE\n▸1 2\n"}),
    case("an IES file by the wrong name", METRIC + "lamps: [{name: l, type: led-bar-20w, at: [30 cm, 20 cm, 80 cm], eulumdat: ▸a.ies}]\n", ("lamps[0].eulumdat", "'a.ies' must end in .ldt"), beside={"a.ies": "IESNA\n"}),
    case("a mesh of another ending", METRIC + "hardscape: [{name: r, mesh: ▸a.txt, at: [30 cm, 20 cm]}]\n", ("hardscape[0].mesh", "'.txt' is not a mesh file's ending; .stl, .obj, .ply, .glb, .gltf are read"), beside={"a.txt": "solid\n"}),
    case("a mesh with a wrong corner", METRIC + "hardscape: [{name: r, mesh: a.obj, at: [30 cm, 20 cm]}]\n", ("", "a vertex is three numbers, not '1 x 1'"), beside={"a.obj": "v 0 0 0\n▸v 1 x 1\nv 1 0 0\nf 1 2 3\n"}),
]
# fmt: on
