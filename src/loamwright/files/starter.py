"""A commented starter habitat file for an animal and a size, and the examples that are shipped."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from importlib.resources import files as package_files
from importlib.resources.abc import Traversable

from loamwright import units as quantities
from loamwright.errors import InputError, Problem
from loamwright.files.catalogue import Catalogue, load_catalogue
from loamwright.files.starter_climate import air_lines, control_lines, mist_lines
from loamwright.files.starter_design import design
from loamwright.files.starter_parts import Design
from loamwright.files.starter_room import ground_warmth
from loamwright.files.starter_ruler import Ruler
from loamwright.files.starter_space import LARGEST, Size, group_for, pool_for, usual_size
from loamwright.habitat.catalogue import Species
from loamwright.habitat.enclosure import Vec3
from loamwright.physics.ferguson import ZONES

USUAL_ANIMAL = "anolis-carolinensis"
"""Who moves in where no animal is named."""

SMALLEST = 0.25
"""Least inside measure a starter is made for [m]."""

COOL_GROUND = 22.0
"""Ground in summer [degC] up to which pill woodlice are let in, which breed in cooler ground and are
sooner there in it than others."""

ISOPODS = {True: "armadillidium-vulgare", False: "porcellionides-pruinosus"}
"""Isopods let into cool ground, and into other."""

_PLAIN = re.compile(r"[A-Za-z][A-Za-z0-9 _-]*")
_WORDS = {"true", "false", "yes", "no", "on", "off", "null", "y", "n"}


def example_files(example: str) -> dict[str, bytes]:
    """An example's files: the habitat file under ``""``, those beside it under their paths."""
    folder = package_files("loamwright") / "data" / "examples"
    content = (folder / f"{example}.yaml").read_bytes()
    found = {"": content}
    for name in sorted(set(re.findall(r"\b(?:mesh|prices): ([^\s,}]+)", content.decode()))):
        found[name] = _below(folder, name).read_bytes()
    return found


def _below(folder: Traversable, name: str) -> Traversable:
    for part in name.split("/"):
        folder = folder / part
    return folder


def starter(name: str, *, size: str | None, animal: str | None, units: str) -> str:
    """A commented habitat file that can be checked at once.

    Parameters
    ----------
    name : str
        The habitat's name.
    size : str, optional
        Inside width, depth and height, such as ``120 x 60 x 90 cm``; chosen for the animal when
        left out.
    animal : str, optional
        Key of an animal of the catalogue; a small anole when left out.
    units : str
        ``metric`` or ``us``: how the file is written.

    Raises
    ------
    InputError
        If the size is none, the animal is not known or the units are not.
    """
    problems: list[Problem] = []
    if units not in quantities.SYSTEMS:
        message = f"'{units}' is not one of: {', '.join(quantities.SYSTEMS)}"
        raise InputError(Problem(message, "--units"))
    catalogue = load_catalogue()
    key = animal or USUAL_ANIMAL
    if key not in catalogue.animals:
        near = catalogue.nearest("animals", key)
        hint = f"did you mean {' or '.join(near)}?" if near else "see: loamwright list animals"
        problems.append(Problem(f"the catalogue has no animal '{key}'; {hint}", "--animal"))
    inside: Vec3 | None = None
    if size is not None:
        try:
            inside = _size(size)
        except InputError as error:
            problems += error.problems
    if problems:
        raise InputError(problems)
    species = catalogue.animals[key]
    ruler = Ruler(units)
    guess = None
    if inside is None:
        guess = usual_size(species, ruler)
        inside = guess.inside
    made = design(catalogue, species, inside, ruler)
    return _Text(name, catalogue, species, made, ruler, guess).text()


def _size(text: str) -> Vec3:
    """Three lengths out of ``120 x 60 x 90 cm``."""
    like = 'write width x depth x height, like "120 x 60 x 90 cm"'
    parts = [p.strip() for p in re.split(r"[x×*]", text.strip(), flags=re.IGNORECASE)]
    if len(parts) != 3:
        raise InputError(Problem(f"'{text[:60]}' is not three lengths; {like}", "--size"))
    unit = re.search(r"[^-+\d.,\s/].*$", parts[2])
    if unit is None:
        raise InputError(Problem(f"'{text[:60]}' has no unit; {like}", "--size"))
    found: list[float] = []
    problems: list[Problem] = []
    for part, what in zip(parts, ("width", "depth", "height"), strict=True):
        bare = re.fullmatch(r"[+-]?[\d.,\s/]+", part)
        try:
            value = quantities.parse(f"{part} {unit.group()}" if bare else part, "length")
        except InputError as error:
            problems += [Problem(f"{what}: {p.message}", "--size") for p in error.problems]
            continue
        if not SMALLEST <= value <= LARGEST:
            limits = f"{SMALLEST * 100:g} cm and {LARGEST:g} m"
            message = f"a {what} of '{part}' is {value:.4g} m; a starter is made between {limits}"
            problems.append(Problem(message, "--size"))
        found.append(value)
    if problems:
        raise InputError(problems)
    return (found[0], found[1], found[2])


DEEP = 0.2
"""Depth of the ground from which on battens stand closer [m]; common practice, no source."""


@dataclass(frozen=True)
class _Text:
    """Words round a design."""

    name: str
    catalogue: Catalogue
    species: Species
    design: Design
    ruler: Ruler
    size: Size | None
    """The size that was chosen here; None where it was asked for."""

    def text(self) -> str:
        """The whole file."""
        blocks = [
            self._head(), self._room(), self._enclosure(), self._ground(), self._hardscape(),
            self._plants(), self._lamps(), self._climate(), self._water(), self._animals(),
            self._decomposers(), self._sites(), self._rest(),
        ]  # fmt: skip
        return "\n\n".join("\n".join(lines) for lines in blocks) + "\n"

    # -- the sections ------------------------------------------------------------------------

    def _head(self) -> list[str]:
        us = self.ruler.system == "us"
        kinds = '"36 in", "95 degF", "64 qt_dry", "50 W", "80 %"' if us else (
            '"75 cm", "35 degC", "20 L", "50 W", "80 %"')  # fmt: skip
        return [
            f"# A first habitat for: {self.species.label} ({self.species.latin}).",
            "# It can be checked as it stands: change it, and run `loamwright check` again.",
            f"# Every quantity has its unit: {kinds}.",
            "# `loamwright schema` prints every key there is.",
            "#",
            "# Axes: x to the right along the width, y from front to back, z up;",
            "# the origin is the inner front left corner at the inside floor.",
            "",
            "format: 1                     # version of this file format",
            f"name: {_quoted(self.name)}",
            "purpose: private              # exhibit, breeding, retail or private",
            f"units: {self.ruler.system}".ljust(30) + "# how values are shown: metric or us",
            "catalogue: []                 # own files of lamps, plants, animals, e.g. [my-lamps.yaml]",
        ]

    def _room(self) -> list[str]:
        rooms, degrees = self.design.rooms, self.ruler.degrees
        lines = [
            "# The room it stands in: the air there by day and by night, and the height above the sea.",
            "# Taken as it would suit this animal: put in what yours does, and check again.",
            "room:",
        ]
        for season, (day, night), damp in (
            ("winter", rooms.winter, rooms.humidity[0]), ("summer", rooms.summer, rooms.humidity[1])
        ):  # fmt: skip
            lines.append(
                f"  {season}: {{day: {degrees(day)}, night: {degrees(night)}, "
                f"humidity: {damp * 100:.0f} %}}"
            )
        return [*lines, f"  altitude: {self.ruler.altitude}"]

    def _enclosure(self) -> list[str]:
        d, r = self.design, self.ruler
        w, depth, h = d.inside
        lines = [
            "# The box: its clear inside, its six panels, and the holes in them with their covers.",
            *self._size_lines(),
            "enclosure:",
            f"  inside: {{width: {r.exact(w)}, depth: {r.exact(depth)}, height: {r.exact(h)}}}",
            "  panels:                     # loamwright list materials; ribs: battens behind",
        ]
        thick = r.thin(0.006 if d.panel == "float-glass" else 0.01)
        for side in ("floor", "back", "left", "right", "top"):
            held = self._held(side)
            note = "  # on a frame, round its windows too" if "held" in held else ""
            lines.append(
                f"    {side + ':':<6} {{material: {d.panel}, thickness: {thick}{held}}}{note}"
            )
        lines += [
            f"    front: {{material: float-glass, thickness: {r.thin(0.006)}, doors: 2, "
            f"gap: {r.thin(0.002)}}}",
            "  openings:                   # covers: loamwright list covers",
        ]
        for hole in d.openings:
            lines.append(f"    # {hole.why}")
            lines.append(
                f"    - {{name: {hole.name}, panel: {hole.panel}, at: {r.point(hole.at)}, "
                f"size: {r.point(hole.size)}, cover: {hole.cover}}}"
            )
        return [
            *lines,
            "  lining:                     # a background takes its thickness from the inside",
            f"    - {{name: back wall, panel: back, material: {d.lining}, "
            f"thickness: {r.text(d.lining_depth)}, fixing: screws and silicone}}",
            "  stand: {kind: strong bench} # add what it is rated for: rated: "
            + ("900 lb" if r.system == "us" else "400 kg"),
        ]

    def _size_lines(self) -> list[str]:
        """How its size was chosen."""
        if self.size is None:
            return []
        lines = ["# Its size is a first guess from the animal's length (common practice)."]
        if self.size.meets:
            lines[0] = ("# Its size is a guess from the animal's length, no less than is asked for "
                        "this group by:")  # fmt: skip
            lines += [f"# - {title}" for title in self.size.meets]
        if self.size.beyond:
            lines.append("# More than a starter is made for is asked by:")
            lines += [f"# - {title}" for title in self.size.beyond]
        if not self.size.meets and not self.size.beyond:
            lines.append("# No published space standard for this species is known here.")
        return lines

    def _held(self, side: str) -> str:
        """What keeps a panel from bending: battens behind a soft wall, a frame under a cut top."""
        d, r = self.design, self.ruler
        if side == "top" and any(hole.panel == "top" for hole in d.openings):
            return ", held: everywhere"
        if side in ("back", "left", "right") and d.panel != "float-glass":
            return f", ribs: {r.text(0.3 if d.surface > DEEP else 0.4)}"
        return ""

    def _ground(self) -> list[str]:
        lines = ["# The ground in layers, the lowest first.", "ground:"]
        for layer in self.design.layers:
            leaf = f", leaf: {layer.leaf}" if layer.leaf else ""
            leaf += f", mix: {layer.mix}" if layer.mix else ""
            depth = self.ruler.text(layer.depth)
            lines.append(f"  - {{name: {layer.name}, kind: {layer.kind}{leaf}, depth: {depth}}}")
        return lines

    def _hardscape(self) -> list[str]:
        r = self.ruler
        lines = [
            "# What they climb, lie on and hide in: branch, tube, block, rock, or `mesh: file.glb`.",
            "hardscape:",
        ]
        for piece in self.design.pieces:
            head = f"  - {{name: {piece.name}, shape: {piece.shape}, "
            if piece.shape in ("branch", "tube"):
                wall = f", wall: {r.text(piece.wall)}" if piece.wall else ""
                place = (
                    f"from: {r.point(piece.at)}, to: {r.point(piece.to)}, "
                    f"diameter: {r.text(piece.diameter)}{wall}"
                )
            else:
                place = f"at: {r.point(piece.at)}, size: {r.point(piece.size)}"
            held = ", screws: 2" if piece.shape == "branch" else ""
            if piece.shape in ("block", "rock"):
                held = ", footing: bricks"  # down to the floor: nobody digs it out
            lines.append(
                f"{head}{place}, material: {piece.material}, fixing: {piece.fixing}{held}}}"
            )
        return lines

    def _plants(self) -> list[str]:
        r = self.ruler
        lines = [
            "# Plants that bear its climate and do not harm it; each crown becomes a site.",
            "plants:",
        ]
        for plant in self.design.plants:
            place = (
                f"on: {plant.on}, along: {plant.along:g}"
                if plant.on
                else f"at: {r.point(plant.at)}"
            )
            lines.append(
                f"  - {{name: {_quoted(plant.name)}, species: {plant.key}, {place}, "
                f"height: {r.text(plant.height)}, spread: {r.text(plant.spread)}}}"
            )
        return lines

    def _lamps(self) -> list[str]:
        d, r = self.design, self.ruler
        band = ZONES[d.zone].maximum
        known = f"Ferguson zone {d.zone}" if d.zone_known else (
            f"no Ferguson zone is known; taken as zone {d.zone} until you know better")  # fmt: skip
        lines = [
            "# Lamps: loamwright list lamps. Where each hangs, where it shines, when, how bright.",
            f"# Ultraviolet: {known}: a UV index of {band[0]:g} to {band[1]:g}",
            f"# at the basking place, so the tube hangs {r.text(d.uv_distance)} from it.",
            "lamps:",
        ]
        for lamp in d.lamps:
            parts = [f"name: {lamp.name}", f"type: {lamp.key}", f"at: {r.point(lamp.at)}"]
            parts.append("aim: basking" if lamp.aimed else "along: x, aim: down")
            if lamp.guard:
                parts.append("guard: wire-cage")
            if lamp.control:
                parts.append(f"control: {lamp.control}")
            if lamp.dim < 1.0:
                parts.append(f"dim: {lamp.dim * 100:.0f} %")
            parts.append(
                "hours: always" if lamp.always
                else "hours: day" if lamp.all_day
                else 'hours: {from: "08:00", to: "17:00"}'
            )  # fmt: skip
            if d.climate.nozzles and lamp.at[2] <= d.inside[2]:
                parts.append("protection: IPX4")
            lines.append(f"  - {{{', '.join(parts)}}}")
        return lines

    def _climate(self) -> list[str]:
        made, r = self.design.climate, self.ruler
        wide, deep, _ = self.design.inside
        power = "120 V, fuse: 15 A, residual: 5 mA" if r.system == "us" else (
            "230 V, fuse: 16 A, residual: 30 mA")  # fmt: skip
        drained = sum(x.depth for x in self.design.layers if x.kind == "drainage-mat")
        return [
            *air_lines(made, r, self.design.mesh),
            "",
            *mist_lines(made, r, (0.75 * deep, self.design.surface), drained * wide * deep),
            "",
            *control_lines(made, r, self.design.warmth),
            "",
            "# The outlet it hangs on, behind a residual-current device. The local code and a licensed",
            "# electrician have the last word.",
            f"mains: {{voltage: {power}}}",
        ]

    def _water(self) -> list[str]:
        d, r = self.design, self.ruler
        return [
            "# Open water: the centre of its foot, its size across, how deep it is when full.",
            *(
                [
                    "# So deep a pool is asked for by law: put in a root that lets everybody climb out."
                ]
                if pool_for(self.species)[1]
                else []
            ),
            "water:",
            f"  - {{name: bowl, at: {r.point(d.bowl_at)}, size: {r.point(d.bowl_size)}, "
            f"depth: {r.text(d.bowl_depth)}}}",
            "",
            "# From lights on to lights off; lamps that can be dimmed take the ramp to come and go.",
            '# Hours of winter: {from: "08:00", to: "18:00"} and of summer can stand here too.',
            'day: {from: "07:00", to: "19:00", ramp: 20 min}',
        ]

    def _animals(self) -> list[str]:
        most, group = self.species.group_max, group_for(self.species)
        counts = f"males: {group.males}, females: {group.females}"
        note = f"  # the catalogue's limit for one group: {most}" if most else ""
        return [
            "# Who moves in: loamwright list animals.",
            "animals:",
            f"  - {{species: {self.species.key}, {counts}}}{note}",
        ]

    def _decomposers(self) -> list[str]:
        """The fewest usual starters for the floor; none for ground without litter to eat."""
        head = "# What eats litter and dung in the ground: loamwright list decomposers."
        if not any(x.kind == "leaf-litter" for x in self.design.layers):
            return [head, "decomposers: []"]
        wide, deep, _ = self.design.inside
        lines = [head, "decomposers:"]
        cool = ground_warmth(self.design.rooms, self.design.warmth) < COOL_GROUND
        for key in ("folsomia-candida", ISOPODS[cool]):
            least = self.catalogue.decomposers[key].starter[0] or 0.0
            lines.append(f"  - {{species: {key}, count: {max(10, round(least * wide * deep))}}}")
        return lines

    def _sites(self) -> list[str]:
        r = self.ruler
        lines = [
            "# Places that matter: basking, perch, hide, retreat, laying; a probe only shows values.",
            "sites:",
        ]
        for site in self.design.sites:
            if site.role == "laying" and self.species.egg_site:
                lines.append(f"  # It lays in: {self.species.egg_site}.")
            own = f", for: {self.species.key}" if site.role == "basking" else ""
            if site.at is not None:
                place = f"at: {r.point(site.at)}"
            else:
                place = f"on: {site.on}"
                place += f", along: {site.along:g}" if site.along is not None else ""
                place += ", inside: true" if site.inside else ""
            lines.append(f"  - {{name: {site.name}, {place}, role: {site.role}{own}}}")
        return lines

    def _rest(self) -> list[str]:
        us = self.ruler.system == "us"
        volume = "64 qt_dry" if us else "70 L"
        return [
            "# Someone at work before the open doors each day: how long, how far their eyes are.",
            f"people: {{in_front: 30 min, distance: {'12 in' if us else '30 cm'}}}",
            "",
            "# Habitats taken down for this one, with their ground and the animals in them by name:",
            f"# - {{name: old one, ground: {volume}, animals: [Ada]}}",
            "existing: []",
            "",
            "# Animals by name, with their parents where known:",
            f"# - {{name: Ada, species: {self.species.key}, sex: female}}",
            "pedigree: []",
            "",
            "# More of the pedigree as a table in this folder, one animal a row, for example:",
            "# pedigree_file: herd.csv",
            "pedigree_file:",
            "",
            "# What things cost you, for example:",
            "# money: {currency: EUR, electricity: 0.31/kWh, labour: 42/h, margin: 20 %, tax: 19 %}",
            "money:",
            "",
            "# Who builds it and when, for example:",
            '# build: {start: "2027-03-01", people: 1, hours: 6 h, closed: [saturday, sunday]}',
            "build:",
            "",
            "# What it is cut from and how, for example:",
            f"# cuts: {{kerf: {self.ruler.thin(0.003)}, joint: floor-and-top-through}}",
            "cuts:",
            "",
            "# Your own needs, beside the catalogue's or in place of one, each with its source:",
            '# - {quantity: uvi, low: 1, high: 3, site: basking, source: "my own choice"}',
            "needs: []",
        ]


def _quoted(name: str) -> str:
    """A name as YAML reads it back: one line, not too long, in quotation marks where needed."""
    clean = name.encode("utf-8", "replace").decode("utf-8")
    clean = "".join(c if c.isprintable() else " " for c in clean).strip()[:80].strip()
    clean = clean or "new habitat"
    if _PLAIN.fullmatch(clean) and clean.lower() not in _WORDS:
        return clean
    return json.dumps(clean, ensure_ascii=False)
