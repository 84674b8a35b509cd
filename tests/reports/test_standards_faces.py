"""Standards as a user meets them: the list, the hint at a place, two standards side by side, files of other countries."""

import json

import jsonschema
import pytest

from brimfast.reports.run import installation_schema
from brimfast.shared.yaml_text import load
from tests.builders import RACK, WEIGHED
from tests.commands import run

NZ = WEIGHED.replace("asce7-16, S_DS: 1.0", "nzs1170.5, Z: 0.4, soil: C")
ALSO = WEIGHED.replace("S_DS: 1.0", "S_DS: 1.0, also: {nzs1170.5: {Z: 0.4, soil: C}}")
NAMES = ("asce7-16", "asce7-22", "eurocode8", "nbc2015", "nbc2020", "nzs1170.5")


@pytest.fixture
def path(tmp_path):
    return tmp_path / "mine.yaml"


def test_list_of_standards():
    out = run("standards").stdout
    assert all(name in out for name in NAMES)
    assert all(len(line) <= 80 for line in out.splitlines())
    listed = json.loads(run("standards", "--json").stdout)
    assert [one["name"] for one in listed] == list(NAMES)
    assert [one["name"] for one in listed if one["default"]] == ["asce7-22"]
    keys = {key["key"]: key for one in listed if one["name"] == "nzs1170.5" for key in one["site_keys"]}
    assert keys["Z"]["required"]
    assert not keys["R_u"]["required"]
    assert all(key["what"] for one in listed for key in one["site_keys"])


def test_hint_at_a_place():
    done = run("standards", "--near", "wellington")
    assert "A hint, not a design value: Wellington, New Zealand" in done.stdout
    assert "No computation uses this figure" in done.stdout
    far = run("standards", "--near", "-45, 160").stdout
    assert "That is far" in far
    found = json.loads(run("standards", "--near", "37.7, -122.4", "--json").stdout)
    assert (found["place"], found["hint_only"], found["values"]) == ("San Francisco", True, {"S_S": 1.5, "S_1": 0.6})
    for wrong in ("Atlantis", "95, 10", ""):
        done = run("standards", "--near", wrong)
        assert (done.returncode, done.stdout, done.stderr.count("\n")) == (2, "", 1)


@pytest.mark.parametrize("given", [[], ["--with", "Z=0.4", "--with", "soil=C"]], ids=["in the file", "by options"])
def test_side_by_side(path, given):
    path.write_text(ALSO if not given else WEIGHED)
    done = run("check", path, "--standard", "NZS1170.5", *given)
    assert done.returncode == 1, done.stderr
    assert "asce7-16 beside nzs1170.5" in done.stdout
    assert all(len(line) <= 80 for line in done.stdout.splitlines())
    found = json.loads(run("check", path, "--standard", "nzs1170.5", *given, "--json").stdout)
    assert found["standards"] == ["asce7-16", "nzs1170.5"]
    force = found["forces"][0]
    assert force["asce7-16"]["coefficient"] == pytest.approx(0.3)
    assert force["nzs1170.5"]["coefficient"] == pytest.approx(1.064)
    path.write_text(NZ)
    alone = json.loads(run("check", path, "--json").stdout)
    assert alone["demand"][0]["coefficient"] == pytest.approx(force["nzs1170.5"]["coefficient"])
    assert {one["id"]: one["verdict"] for one in alone["findings"]}.items() >= {
        one["id"]: one["nzs1170.5"]["verdict"] for one in found["findings"]
    }.items()


def test_editions_of_one_standard_share_their_inputs(path):
    path.write_text(WEIGHED.replace("S_DS: 1.0", "S_DS: 1.0, building: {R: 6}"))
    done = run("check", path, "--standard", "asce7-22")
    assert "asce7-22 is given the same inputs as asce7-16" in done.stdout
    other = run("check", path, "--standard", "nbc2020", "--with", "S_02=1.0")
    assert other.returncode == 1, other.stderr


def test_factors_of_the_same_name_are_not_taken_along(path):
    path.write_text(WEIGHED.replace("holds: 50 gal", "holds: 50 gal, component: {R_p: 5, a_p: 1, reason: t}"))
    done = run("check", path, "--standard", "nbc2020", "--with", "S_02=1.0", "--json")
    found = json.loads(done.stdout)
    assert found["forces"][0]["nbc2020"]["coefficient"] == pytest.approx(0.3)
    assert "(R_p) stand for asce7-16 only" in found["notes"][0]


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (
            ["--standard", "nzs1170.5"],
            "it needs Z, soil; give them in the file, 'also: {nzs1170.5: {Z: 0.4, soil: C}}'",
        ),
        (["--standard", "nzs1170.5", "--with", "Z=0.4"], "missing the key 'soil'"),
        (["--standard", "nzs1170.5", "--with", "Z=9", "--with", "soil=C"], "from 0.05 to 0.6"),
        (["--standard", "nzs1170.5", "--with", "Z"], "expected KEY=VALUE"),
        (["--standard", "asce7-16"], "is asce7-16 already"),
        (["--standard", "eurocode"], "did you mean 'eurocode8'"),
        (["--with", "Z=0.4"], "expected --standard NAME"),
    ],
)
def test_what_cannot_be_compared_is_one_line(path, arguments, words):
    path.write_text(WEIGHED)
    done = run("check", path, *arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.count("\n") == 1
    assert words in done.stderr


def test_problems_of_the_standard_are_listed_with_the_others(path):
    path.write_text(NZ.replace("soil: C", "soil: X").replace("mass: 500 lb", "mass: 500 ft"))
    lines = run("check", path).stderr.splitlines()
    assert ["E-WORD-001" in lines[0], "E-UNIT-002" in lines[1]] == [True, True]
    assert f"{path}:3:" in lines[0]


@pytest.mark.parametrize(
    "site",
    [
        "eurocode8, a_g: 0.2, ground: B, spectrum: type 2",
        "nzs1170.5, Z: 0.3, soil: D",
        "nbc2015, S_a_02: 0.7, F_a: 1.1",
        "nbc2020, S_02: 0.7",
    ],
)
def test_reports_of_other_countries(tmp_path, path, site):
    pypdf = pytest.importorskip("pypdf")
    path.write_text(RACK.replace("asce7-16, S_DS: 1.0", site))
    target = tmp_path / "out.pdf"
    assert run("report", path, "-o", target).returncode == 0
    text = "\n".join(page.extract_text() for page in pypdf.PdfReader(target).pages)
    assert "SDS" not in text.replace("its cap over S_DS", "")
    assert "chapter 13" not in text
    result = json.loads(run("check", path, "--json").stdout)
    assert result["site"]["standard"] == site.split(",")[0]
    assert "S_DS" not in result["site"]
    assert result["site"]["plateau"] > 0


def test_schema_knows_the_keys_of_every_standard():
    schema = installation_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    good, _ = load(ALSO, "t.yaml")
    assert list(validator.iter_errors(good)) == []
    for old, new in (("Z: 0.4, soil: C", "Z: 0.4, soil: Q"), ("S_DS: 1.0", "S_DSS: 1.0"), ("asce7-16", "asce7-99")):
        bad, _ = load(ALSO.replace(old, new), "t.yaml")
        assert list(validator.iter_errors(bad)), new


def test_an_input_given_twice_is_refused(path):
    path.write_text(WEIGHED)
    done = run("check", path, "--standard", "nzs1170.5", "--with", "Z=0.4", "--with", "Z=0.2", "--with", "soil=C")
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert "'Z' twice" in done.stderr


def test_an_acceleration_in_metres_is_not_taken_for_shares_of_gravity(path):
    path.write_text(WEIGHED.replace("asce7-16, S_DS: 1.0", "eurocode8, a_g: 2.5, ground: C, spectrum: type 1"))
    done = run("check", path)
    assert done.returncode == 2 and "share of gravity from 0.01 to 1.2" in done.stderr
