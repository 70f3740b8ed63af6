"""A habitat file read whole: a valid `Habitat`, or every problem of it at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from loamwright.errors import InputError
from loamwright.files.build_box import build_enclosure, build_ground, build_water, with_sills
from loamwright.files.build_climate import build_fans, build_mist
from loamwright.files.build_context import Build, entry_names
from loamwright.files.build_controls import build_controls, check_driven
from loamwright.files.build_cuts import build_cuts
from loamwright.files.build_day import build_schedule
from loamwright.files.build_decomposers import build_decomposers
from loamwright.files.build_equipment import build_lamps
from loamwright.files.build_hardscape import build_hardscape
from loamwright.files.build_mains import build_mains
from loamwright.files.build_mix import check_reuse, with_old_ground
from loamwright.files.build_money import build_money
from loamwright.files.build_planting import build_plants, build_sites, crown_sites
from loamwright.files.build_residents import (
    build_animals,
    build_existing,
    build_needs,
    build_pedigree,
    build_people,
    pedigree_entries,
)
from loamwright.files.build_room import build_room
from loamwright.files.build_workshop import build_workshop
from loamwright.files.catalogue import load_catalogue
from loamwright.files.document import EMPTY, Document, parse_document, read_text
from loamwright.files.geometry_checks import check_geometry
from loamwright.files.geometry_climate import check_fans, check_nozzles
from loamwright.files.paths import inside
from loamwright.files.schema_errors import Read, read_models
from loamwright.files.schema_habitat import HabitatPart
from loamwright.habitat.habitat import Habitat


def read_habitat(path: Path, root: Path | None = None) -> Habitat:
    """Read a habitat file.

    Parameters
    ----------
    path : Path
        The file.
    root : Path, optional
        The project's folder, which no file named in it may leave; the file's own folder when
        left out.

    Raises
    ------
    InputError
        With every problem found, each with its line, column and field.
    """
    return read_habitat_text(read_text(path), path, root)


def read_habitat_text(text: str, path: Path, root: Path | None = None) -> Habitat:
    """Read a habitat from YAML text; ``path`` is the file it is, or would be, saved as."""
    return read_habitat_document(parse_document(text, path), root)


def read_habitat_document(doc: Document, root: Path | None = None) -> Habitat:
    """Read a habitat from a document already parsed."""
    folder = doc.path.parent if root is None else root
    if not isinstance(doc.data, dict):
        wanted = "keys with values are wanted, such as name: and enclosure:"
        found = EMPTY if doc.data is None else f"is not a habitat file: {wanted}"
        raise InputError(doc.problem((), found))
    read = read_models(doc)
    build = _start(doc, read, folder)
    if read.part is None:
        raise InputError(build.problems)
    habitat = _build(build, read.part, folder)
    if build.problems:
        raise InputError(build.problems)
    return habitat


def _start(doc: Document, read: Read, folder: Path) -> Build:
    """The state of a reading, with the file's own catalogues over the shipped one."""
    build = Build(
        doc,
        load_catalogue(),
        (read.part.units if read.part else None) or "metric",
        read.places,
        read.box_known,
        problems=list(read.problems),
        lost_names=set(entry_names(doc.data) - entry_names(read.data)),
    )
    build.lost_names |= _keys(doc.data, "controls") - _keys(read.data, "controls")
    if read.part is None:
        return build
    own = []
    for loc, named in build.entries("catalogue", read.part.catalogue):
        try:
            own.append(inside(folder, named))
        except InputError as error:
            build.pass_on(loc, error)
            build.own_broken = True
    try:
        build.catalogue = load_catalogue(own, folder)
    except InputError as error:
        build.pass_on(("catalogue",), error)
        build.own_broken = True
    wanted = doc.get(("catalogue",))
    if wanted and (not isinstance(wanted, list) or len(own) < len(wanted)):
        build.own_broken = True
    return build


def _keys(data: Any, section: str) -> set[str]:
    """Keys of a section that is a mapping."""
    found = data.get(section) if isinstance(data, dict) else None
    return set(found) if isinstance(found, dict) else set()


_NAMED = {
    "enclosure.openings": "opening",
    "enclosure.lining": "lining",
    "ground": "layer",
    "hardscape": "piece",
    "plants": "plant",
    "lamps": "lamp",
    "air": "fan",
    "mist.nozzles": "nozzle",
    "water": "bowl",
    "sites": "site",
    "existing": "existing habitat",
    "pedigree": "animal",
}
"""Lists whose entries have names that must differ, and what one entry is."""


def _build(build: Build, part: HabitatPart, folder: Path) -> Habitat:
    for key, usual, why in (
        ("purpose", "private", "nothing is said"),
        ("units", "metric", "nothing is said"),
    ):
        if getattr(part, key) is None:
            build.default(key, usual, why)
    for section, what in _NAMED.items():
        build.check_names(section, what)
    schedule = build_schedule(build, part.day)
    room = build_room(build, part.room, schedule, folder)
    box = build_enclosure(build, part.enclosure)
    ground = build_ground(build, part.ground, box)
    surface = ground.depth if ground.depth < box.inside[2] else 0.0  # said by check_geometry
    box = with_sills(build, box, surface)
    solids = build_hardscape(build, part.hardscape, surface, folder)
    plants = build_plants(build, part.plants, solids, box, surface)
    own_sites = build_sites(build, part.sites, solids, surface)
    crowns = crown_sites(plants, box, solids)
    for loc, site in own_sites:
        if any(site.name == crown.name for _, crown in crowns):
            build.say((*loc, "name"), f"{site.name!r} is the name of a plant's crown already")
    sites = [site for _, site in (*own_sites, *crowns)]
    by_name = {site.name: site for site in sites}
    for loc, entry in build.entries("hardscape", part.hardscape):
        if entry.name in by_name:
            message = f"{entry.name!r} is the name of a site too; a lamp could aim at either"
            build.say((*loc, "name"), message)
    controls = build_controls(build, part.controls, by_name)
    lamps = build_lamps(build, part.lamps, schedule.day, controls, by_name, solids, folder)
    fans = build_fans(build, part.air, controls)
    mist, nozzles = build_mist(build, part.mist, controls, by_name, solids, box)
    mains = build_mains(build, part.mains, box)
    check_driven(build, controls)
    water = build_water(build, part.water, surface)
    entries = pedigree_entries(build, part.pedigree, part.pedigree_file, folder)
    existing, lives_in = build_existing(build, part.existing, entries)
    ground = with_old_ground(build, ground, existing)
    check_reuse(build, part.ground or [], box, ground, {e.name: e for e in existing})
    money = build_money(build, part.money, folder)
    cutting = build_cuts(build, part.cuts, box)
    pedigree = build_pedigree(build, entries, lives_in)
    groups = build_animals(build, part.animals, pedigree, {e.name: e for e in existing})
    decomposers = build_decomposers(build, part.decomposers)
    about = {g.species.key for g in groups} | {p.name for _, p in plants}
    about |= {p.type.key for _, p in plants} | {lamp.name for _, lamp in lamps}
    about |= {p.species for p in part.animals} | {p.species for p in part.plants}
    needs = build_needs(build, part.needs, by_name, about)
    people = build_people(build, part.people)
    if not build.doc.get(("animals",)) and not build.doc.get(("plants",)):
        build.say((), "has no animal and no plant: give at least one under animals or plants")
    if build.box_known:
        placed = [
            (loc, solids[entry.name])
            for loc, entry in build.entries("hardscape", part.hardscape)
            if entry.name in solids
        ]
        bowls = [
            (loc, bowl)
            for (loc, _), bowl in zip(build.entries("water", part.water), water, strict=True)
        ]
        check_geometry(build, box, ground, surface, placed, plants, own_sites, lamps, bowls)
        check_fans(build, box, surface, fans)
        check_nozzles(build, box, surface, nozzles, solids)
    return Habitat(
        name=part.name,
        enclosure=box,
        purpose=part.purpose or "private",
        units=build.system,
        room=room,
        ground=ground,
        hardscape=tuple(solid.piece for solid in solids.values()),
        plants=tuple(plant for _, plant in plants),
        lamps=tuple(lamp for _, lamp in lamps),
        animals=tuple(groups),
        decomposers=decomposers,
        sites=tuple(sites),
        needs=tuple(needs),
        existing=tuple(existing),
        pedigree=tuple(pedigree.values()),
        people=people,
        day=schedule.day,
        defaults=tuple(build.defaults),
        water=water,
        fans=tuple(fan for _, fan in fans),
        mist=mist,
        controls=tuple(controls.values()),
        schedule=schedule,
        money=money,
        workshop=build_workshop(build, part.build),
        cutting=cutting,
        mains=mains,
    )
