"""The JSON documents hold what scripts may rely on, and keep to their own schemas."""

from __future__ import annotations

import json
import math

import jsonschema
import pytest

from loamwright.engine.findings import State
from loamwright.report.json_out import (
    check_document,
    check_schema,
    dump,
    finite,
    light_document,
    light_schema,
)
from report_sample import SiteLight, finding, findings, habitat, site_lights

HABITAT = habitat()
ENGINES = {"light": (1.234, 0.0003)}


def test_check_document_keeps_to_its_schema() -> None:
    document = json.loads(dump(check_document(HABITAT, findings(), ENGINES)))
    jsonschema.Draft202012Validator.check_schema(check_schema())
    jsonschema.validate(document, check_schema(), jsonschema.Draft202012Validator)
    promised = {
        "need", "about", "quantity", "unit", "value", "low", "high", "margin", "state", "site",
        "when", "why", "source",
    }  # fmt: skip
    assert promised <= set(document["findings"][0])
    assert {"version", "habitat", "findings", "engines"} <= set(document)
    assert document["engines"] == {"light": {"seconds": 1.234, "balance": 0.0003}}


def test_findings_come_worst_first_with_numbers_in_si() -> None:
    document = check_document(HABITAT, findings(), ENGINES, "us")
    assert [f["state"] for f in document["findings"]] == [
        "missed", "close", "not_known", "met", "met"
    ]  # fmt: skip
    first = document["findings"][0]
    assert (first["value"], first["unit"], first["at_m"]) == (4.12, "1", [0.97, 0.38, 1.02])
    assert "24 7/16 in" in first["why"]
    assert first["cure"]["to_m"] == [0.75, 0.40, 1.22]
    assert document["findings"][1]["source_kind"] == "from memory"


def test_light_document_has_one_block_per_facing() -> None:
    document = json.loads(dump(light_document(HABITAT, site_lights(HABITAT))))
    jsonschema.Draft202012Validator.check_schema(light_schema())
    jsonschema.validate(document, light_schema(), jsonschema.Draft202012Validator)
    site = document["sites"]["basking"]
    assert set(site) == {"up", "brightest", "normal"}
    assert set(site["up"]) == {
        "uvi", "uva_w_m2", "uvb_w_m2", "ppfd_umol_m2_s", "lux", "radiant_w_m2", "dli_mol_m2_d"
    }  # fmt: skip
    assert site["up"]["uvi"] == pytest.approx(site_lights(HABITAT)[0].values["up"]["uvi"])


def test_what_is_no_number_is_null() -> None:
    odd = finding(value=math.nan, high=math.inf, margin=-math.inf, state=State.NOT_KNOWN)
    text = dump(check_document(HABITAT, [odd], {"light": (math.nan, math.inf)}))
    assert "NaN" not in text
    assert "Infinity" not in text
    document = json.loads(text)
    assert document["findings"][0]["value"] is None
    assert document["findings"][0]["high"] is None
    jsonschema.validate(document, check_schema())
    dark = SiteLight("a", (0.0, 0.0, math.nan), "probe", {"up": {"uvi": math.nan}})
    light = json.loads(dump(light_document(HABITAT, [dark])))
    assert light["sites"]["a"]["up"]["uvi"] is None
    assert light["sites"]["a"]["normal"]["lux"] is None
    jsonschema.validate(light, light_schema())
    assert finite(None) is None


def test_schema_refuses_a_misspelt_key_or_state() -> None:
    document = check_document(HABITAT, findings(), ENGINES)
    document["findings"][0]["state"] = "fine"
    with pytest.raises(jsonschema.ValidationError, match="'fine' is not one of"):
        jsonschema.validate(document, check_schema())
    document = check_document(HABITAT, findings(), ENGINES)
    document["findings"][0]["vlaue"] = document["findings"][0].pop("value")
    with pytest.raises(jsonschema.ValidationError, match=r"vlaue|'value' is a required"):
        jsonschema.validate(document, check_schema())


def test_hostile_names_stay_inside_their_strings() -> None:
    bad = 'a"\n\x1b[2J\u202e</script>'
    text = dump(check_document(habitat(name=bad), [finding(site=bad)], ENGINES))
    assert "\x1b" not in text
    assert "\u202e" not in text
    assert json.loads(text)["habitat"] == bad
