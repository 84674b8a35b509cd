"""The machine-readable contract."""

import json
import math

import pytest

from brimfast.reports.json_face import as_json
from brimfast.shared.demo import DEMOS
from brimfast.shared.findings import verdict_of
from tests.builders import assessed_demo


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("system", ["us", "si"])
def test_contract(name, system):
    result = json.loads(as_json(assessed_demo(name), system))
    for key in ("brimfast", "installation", "site", "weights", "demand", "findings", "spill", "fixes", "cautions"):
        assert key in result
    ids = [finding["id"] for finding in result["findings"]]
    assert len(ids) == len(set(ids))
    for finding in result["findings"]:
        needed = {"id", "subject", "question", "demand", "capacity", "unit", "ratio", "verdict", "basis"}
        assert needed <= set(finding)
        if finding["ratio"] is not None:
            assert math.isfinite(finding["ratio"])
            assert finding["verdict"] == verdict_of(finding["ratio"])
            if finding["ratio"] > 0:
                assert finding["demand"] / finding["capacity"] == pytest.approx(finding["ratio"], rel=1e-9)
        else:
            assert finding["verdict"] in ("short", "not assessed")
            assert finding["reason"]
        for value in finding["values"]:
            assert value["source"]
            assert value["provenance"]


def test_both_systems_agree():
    assessment = assessed_demo("nursery")
    us, si = (json.loads(as_json(assessment, system)) for system in ("us", "si"))
    assert us["weights"]["total"] * 0.45359237 == pytest.approx(si["weights"]["total"])
    assert [f["ratio"] for f in us["findings"]] == [f["ratio"] for f in si["findings"]]


def test_confirm_list_has_every_unpublished_value_and_no_published_one():
    result = json.loads(as_json(assessed_demo("nursery"), "si"))
    listed = {value["name"] for value in result["confirm"]}
    for finding in result["findings"]:
        for value in finding["values"]:
            unpublished = value["provenance"] in ("from memory", "common practice, no source")
            assert (value["name"] in listed) == unpublished
    assert all(value["confirm_in"] for value in result["confirm"])
