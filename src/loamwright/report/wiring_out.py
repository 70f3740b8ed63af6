"""The wiring for the machine: the ``wiring`` document, with the misting line in it, and its schema."""

from __future__ import annotations

from typing import Any

from loamwright.habitat.enclosure import PANELS
from loamwright.habitat.habitat import Habitat
from loamwright.physics import circuits
from loamwright.plan.bonding import Bond
from loamwright.plan.loads import NEEDED, Device, voltage_of
from loamwright.plan.mist_line import MistLine, Mouth
from loamwright.plan.wiring import LEAKS, Channel, Run, Supply, Wiring
from loamwright.report.json_out import document_schema, finite
from loamwright.report.mist_blocks import mist_cautions
from loamwright.report.strength_out import (
    FLAG,
    NUMBER,
    TEXT,
    TEXTS,
    WHOLE,
    lines_document,
    lines_schema,
    point_schema,
    whole,
)
from loamwright.report.wiring_blocks import BONDED, KINDS, guard_name, protected, wiring_cautions

VERSION = 1
"""Version of the ``wiring`` document; it rises when something a script may rely on changes."""

_DAY = 86400.0


def wiring_document(habitat: Habitat, wiring: Wiring, line: MistLine | None) -> dict[str, Any]:
    """The ``wiring`` document: units in the keys, null where nothing is known; ``mist`` is null
    without misting."""
    mains = wiring.mains
    by = {name: c.by for c in wiring.channels for name in c.feeds}
    return {
        "version": VERSION,
        "habitat": habitat.name,
        "cautions": wiring_cautions(wiring),
        "circuit": {
            "rules": mains.system,
            "voltage_v": finite(mains.voltage),
            "power_w": finite(wiring.power),
            "others_w": finite(mains.others),
            "continuous_a": finite(wiring.continuous),
            "other_a": finite(wiring.other),
            "least_rating_a": finite(wiring.least),
            "standard_rating_a": finite(wiring.standard),
            "fuse_a": finite(mains.fuse),
            "circuits": wiring.circuits,
        },
        "residual_current": {
            "device": guard_name(wiring),
            "trips_at_a": finite(mains.residual),
            "leaks_a": finite(wiring.leakage),
            "leaks_at_most_a": finite(LEAKS * mains.residual),
        },
        "outlet_m": [finite(v) for v in mains.outlet],
        "board_m": [finite(v) for v in mains.board],
        "devices": [_device(wiring, d, by.get(d.name)) for d in wiring.devices],
        "channels": [_channel(c) for c in wiring.channels],
        "supplies": [_supply(s) for s in wiring.supplies],
        "runs": [_run(r) for r in wiring.runs],
        "bonds": [_bond(b) for b in wiring.bonds],
        "buy": lines_document(wiring.lines),
        "mist": None if line is None else _mist(habitat, line),
    }


def _device(wiring: Wiring, d: Device, by: str | None) -> dict[str, Any]:
    voltage = voltage_of(wiring.mains, d)
    return {
        "name": d.name,
        "kind": d.kind,
        "control": d.control if d.kind == "control" else None,
        "switched_by": by,
        "power_w": finite(d.power),
        "voltage_v": finite(voltage),
        "low_voltage": d.low,
        "power_factor": finite(d.factor),
        "current_a": finite(circuits.current_of(d.power, voltage, d.factor)),
        "continuous": d.continuous,
        "earthed": d.earthed,
        "leaks_a": finite(d.leakage),
        "at_m": [finite(v) for v in d.at],
        "panel": d.side or None,
        "place": d.place,
        "protection": d.protection or None,
        "ipx_has": d.water_digit,
        "ipx_needed": d.needs,
        "ipx_to_last": NEEDED[d.place],
        "protected_enough": protected(d),
    }


def _channel(c: Channel) -> dict[str, Any]:
    return {
        "by": c.by,
        "kind": c.kind or None,
        "feeds": list(c.feeds),
        "power_w": finite(c.power),
        "own_limit": c.cut_out,
    }


def _supply(s: Supply) -> dict[str, Any]:
    return {
        "switched_by": s.name,
        "feeds": list(s.feeds),
        "voltage_v": finite(s.voltage),
        "power_w": finite(s.power),
        "size_w": finite(s.size),
        "at_hand": s.given,
        "loaded_pct": finite(100.0 * s.load),
    }


def _run(r: Run) -> dict[str, Any]:
    # A probe comes with its cable, and carries nothing that would be lost.
    probe = r.current == 0.0
    return {
        "to": r.device,
        "probe": probe,
        "low_voltage": r.low,
        "way_m": [[finite(v) for v in corner] for corner in r.way],
        "length_m": finite(r.length),
        "drip_loops": r.loops,
        "conductors": None if probe else 2 if r.low else 3,
        "section_mm2": None if probe else finite(1e6 * r.cable.section),
        "awg": None if probe else r.cable.gauge,
        "bears_a": None if probe else finite(r.cable.bears),
        "voltage_v": None if probe else finite(r.voltage),
        "current_a": None if probe else finite(r.current),
        "drop_v": None if probe else finite(r.voltage * r.drop),
        "drop_pct": None if probe else finite(100.0 * r.drop),
    }


def _bond(b: Bond) -> dict[str, Any]:
    return {
        "metal": b.name,
        "kind": b.kind,
        "to": b.to,
        "length_m": finite(b.length),
        "clamps": b.clamps,
    }


def _mist(habitat: Habitat, line: MistLine) -> dict[str, Any]:
    mist = habitat.mist
    assert mist is not None, "a misting line is made of a habitat's misting"
    return {
        "cautions": mist_cautions(line),
        "pump_keeps_pa": finite(line.pump),
        "pump_said": line.said,
        "flow_ml_min": finite(6e7 * line.flow),
        "draws_at_least_w": finite(line.draws),
        "pump_w": finite(line.power),
        "bore_mm": finite(1000.0 * line.bore),
        "length_m": finite(line.length),
        "trunk_m": [[finite(v) for v in corner] for corner in line.trunk],
        "sprayed_l_d": finite(1000.0 * line.a_day),
        "tank_l": finite(1000.0 * mist.tank),
        "tank_lasts_d": None if line.lasts is None else finite(line.lasts / _DAY),
        "tank_above_nozzle": line.above,
        "nozzles": [_nozzle(m) for m in line.mouths],
        "buy": lines_document(line.lines),
    }


def _nozzle(m: Mouth) -> dict[str, Any]:
    return {
        "name": m.name,
        "at_m": [finite(v) for v in m.at],
        "way_m": [[finite(v) for v in corner] for corner in m.way],
        "length_m": finite(m.length),
        "rise_m": finite(m.rise),
        "lost_pa": finite(m.lost),
        "pressure_pa": finite(m.pressure),
        "made_for_pa": finite(m.needs),
        "flow_ml_min": finite(6e7 * m.flow),
    }


def wiring_schema() -> dict[str, Any]:
    """JSON Schema of the ``wiring`` document."""
    text_or_none = {"type": ["string", "null"]}
    count_or_none = {"type": ["integer", "null"], "minimum": 0}
    way = {"type": "array", "items": point_schema()}
    circuit = whole(
        {
            "rules": {"enum": ["metric", "us"]},
            **dict.fromkeys(
                ("voltage_v", "power_w", "others_w", "continuous_a", "other_a", "least_rating_a",
                 "standard_rating_a", "fuse_a"), NUMBER,
            ),
            "circuits": {"type": "integer", "minimum": 1},
        }
    )  # fmt: skip
    residual = whole(
        {"device": TEXT, **dict.fromkeys(("trips_at_a", "leaks_a", "leaks_at_most_a"), NUMBER)}
    )
    device = whole(
        {
            "name": TEXT, "kind": {"enum": ["lamp", "heater", "fan", "pump", "control"]},
            "control": {"enum": [*(k for k in KINDS if k), None]}, "switched_by": text_or_none,
            "power_w": NUMBER, "voltage_v": NUMBER, "low_voltage": FLAG, "power_factor": NUMBER,
            "current_a": NUMBER, "continuous": FLAG, "earthed": FLAG, "leaks_a": NUMBER,
            "at_m": point_schema(), "panel": {"enum": [*PANELS, None]},
            "place": {"enum": list(NEEDED)}, "protection": text_or_none, "ipx_has": count_or_none,
            "ipx_needed": WHOLE, "ipx_to_last": WHOLE,
            "protected_enough": {"type": ["boolean", "null"]},
        }
    )  # fmt: skip
    channel = whole(
        {
            "by": TEXT, "kind": {"enum": [*(k for k in KINDS if k), None]}, "feeds": TEXTS,
            "power_w": NUMBER, "own_limit": FLAG,
        }
    )  # fmt: skip
    supply = whole(
        {
            "switched_by": TEXT, "feeds": TEXTS, "voltage_v": NUMBER, "power_w": NUMBER,
            "size_w": NUMBER, "at_hand": FLAG, "loaded_pct": NUMBER,
        }
    )  # fmt: skip
    run = whole(
        {
            "to": TEXT, "probe": FLAG, "low_voltage": FLAG, "way_m": way, "length_m": NUMBER,
            "drip_loops": WHOLE, "conductors": {"enum": [2, 3, None]}, "section_mm2": NUMBER,
            "awg": count_or_none,
            **dict.fromkeys(("bears_a", "voltage_v", "current_a", "drop_v", "drop_pct"), NUMBER),
        }
    )  # fmt: skip
    bond = whole(
        {
            "metal": TEXT, "kind": {"enum": list(BONDED)}, "to": TEXT, "length_m": NUMBER,
            "clamps": WHOLE,
        }
    )  # fmt: skip
    nozzle = whole(
        {
            "name": TEXT, "at_m": point_schema(), "way_m": way,
            **dict.fromkeys(
                ("length_m", "rise_m", "lost_pa", "pressure_pa", "made_for_pa", "flow_ml_min"), NUMBER
            ),
        }
    )  # fmt: skip
    mist = whole(
        {
            "cautions": TEXTS, "pump_keeps_pa": NUMBER, "pump_said": FLAG,
            **dict.fromkeys(
                ("flow_ml_min", "draws_at_least_w", "pump_w", "bore_mm", "length_m"), NUMBER
            ),
            "trunk_m": way,
            **dict.fromkeys(("sprayed_l_d", "tank_l", "tank_lasts_d"), NUMBER),
            "tank_above_nozzle": FLAG, "nozzles": {"type": "array", "items": nozzle},
            "buy": lines_schema(),
        }
    )  # fmt: skip
    return document_schema(
        "loamwright wiring",
        {
            "version": {"const": VERSION},
            "habitat": TEXT,
            "cautions": TEXTS,
            "circuit": circuit,
            "residual_current": residual,
            "outlet_m": point_schema(),
            "board_m": point_schema(),
            "devices": {"type": "array", "items": device},
            "channels": {"type": "array", "items": channel},
            "supplies": {"type": "array", "items": supply},
            "runs": {"type": "array", "items": run},
            "bonds": {"type": "array", "items": bond},
            "buy": lines_schema(),
            "mist": {"anyOf": [{"type": "null"}, mist]},
        },
    ) | {"additionalProperties": False}
