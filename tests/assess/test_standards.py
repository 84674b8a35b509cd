"""Every standard through the whole chain: one form, its own inputs, names and limits."""

import re

import numpy as np
import pytest

from brimfast.assess.demand import nzs1170_5
from brimfast.assess.demand.inputs import file_problems
from brimfast.assess.demand.places import distance, place_named, place_nearest
from brimfast.assess.demand.standard import standard_named, standards
from brimfast.data_tables.loader import PROVENANCES, table, table_named
from brimfast.data_tables.rows import Place
from brimfast.shared.errors import InputError
from brimfast.shared.installation.site import Site
from tests.builders import RACK, TIERS, WEIGHED, assessed, dry, found

ASCE = ("asce7-16", "asce7-22")
ELSEWHERE = ("eurocode8", "nbc2015", "nbc2020", "nzs1170.5")
BASES = {
    "asce7-16": "ASCE 7-16 section 13.3.1",
    "asce7-22": "ASCE 7-22 section 13.3.1",
    "eurocode8": "EN 1998-1:2004 section 4.3.5",
    "nbc2015": "NBC 2015, article 4.1.8.18",
    "nbc2020": "NBC 2020, article 4.1.8.18",
    "nzs1170.5": "NZS 1170.5:2004 section 8",
}
HUNG = "hung:\n  - {name: light, from: ceiling, mass: 12 lb, drop: 20 in, clearance: 9 in}\n"
ANCHORED = WEIGHED.replace("holds: 50 gal", "anchors: {count: 4, tension: 400 lb, shear: 300 lb, source: t}")


def under(text, standard, more=""):
    """The text with the site of a standard, by the example of its own."""
    site = f"site: {{standard: {standard}, {standards()[standard].example}{more}}}"
    return text.replace("site: {standard: asce7-16, S_DS: 1.0}", site)


def test_all_are_found_and_the_default_is_one_of_them():
    assert set(standards()) == {*ASCE, *ELSEWHERE}
    assert Site.model_fields["standard"].default in standards()
    with pytest.raises(TypeError):
        standards()["mine"] = standards()["asce7-16"]
    with pytest.raises(InputError, match="did you mean 'eurocode8'"):
        standard_named("eurocode 8")


@pytest.mark.parametrize("name", ELSEWHERE)
def test_own_tables_have_sources(name):
    for row_class, table_name in standards()[name].tables:
        for row in table_named(row_class, table_name):
            assert row.provenance in PROVENANCES
            assert len(row.source) > 10
            assert row.confirm_in


@pytest.mark.parametrize("name", [*ASCE, *ELSEWHERE])
@pytest.mark.parametrize("text", [WEIGHED + HUNG, ANCHORED, RACK, TIERS], ids=["weighed", "anchored", "rack", "tiers"])
def test_every_standard_answers_every_question(name, text):
    assessment, same = assessed(under(text, name)), assessed(under(text, "asce7-16"))
    # whether a frame gives way, something begins to tip, and whether an attachment is asked for, depends on the shaking
    asked, of_asce = ({one.id for one in each.findings if one.topic != "sway"} for each in (assessment, same))
    assert all(one.startswith(("attachment/", "falls/")) for one in asked ^ of_asce)
    for force in assessment.forces.values():
        assert force.horizontal > 0
        assert force.vertical == pytest.approx(assessment.motion.vertical.share * force.weight)
        assert force.overstrength >= 1
        assert force.sways >= 1
        assert force.basis.startswith(BASES[name])


@pytest.mark.parametrize("name", ELSEWHERE)
def test_no_text_names_a_quantity_of_the_other_country(name):
    """S_DS and chapters 13 and 15 are ASCE 7's; what is taken over from it is named as a source, by table or equation."""
    assessment = assessed(under(TIERS + HUNG, name))
    texts = [*assessment.assumptions, *(caution.text for caution in assessment.cautions), assessment.motion.how]
    for finding in assessment.findings:
        texts += [finding.basis, finding.reason, *finding.details.values()]
        for line in finding.steps:
            texts += [line.expression, line.note, line.symbol, *line.inputs]
        texts += [value.name for value in finding.values]
    for text in texts:
        assert not re.search(r"S_DS|chapter 1[35]|seismic design category", text), text


@pytest.mark.parametrize("name", ELSEWHERE)
@pytest.mark.parametrize("ratio", [0.3, 1.0])
def test_higher_floors_shake_no_less(name, ratio):
    ground, upstairs = (assessed(under(WEIGHED, name, more)) for more in ("", f", height_ratio: {ratio}"))
    assert upstairs.forces["tank"].horizontal >= ground.forces["tank"].horizontal
    H, line = standards()[name].height(Site(standard=name, **_example(name)), ratio)
    assert H > 1
    assert (line.symbol, line.result.value) == ("H_f", H)  # the name by which swings and waves take it up


def _example(name):
    return {
        key.strip(): value.strip() for key, value in (part.split(":") for part in standards()[name].example.split(","))
    }


@pytest.mark.parametrize(
    ("name", "more", "coefficient"),
    [
        ("eurocode8", "", 2.5 * 0.25 * 1.15 / 2),  # in resonance at grade, q_a 2
        ("eurocode8", ", height_ratio: 1", 5.5 * 0.25 * 1.15 / 2),
        ("eurocode8", ", S: 1.3", 2.5 * 0.25 * 1.3 / 2),
        ("nzs1170.5", "", 0.4 * 1.33 * 2),
        ("nzs1170.5", ", R_u: 1.3", 0.52 * 1.33 * 2),
        ("nzs1170.5", ", height_ratio: 0.5", 0.4 * 1.33 * 3 * 2),
        ("nzs1170.5", ", height_ratio: 0.5, height: 3 m", 0.4 * 1.33 * 1.5 * 2),
        ("nbc2015", "", 0.3 * 0.85),
        ("nbc2015", ", height_ratio: 1, I_E: 1.5", 0.3 * 0.85 * 1.5 * 3),
        ("nbc2020", "", 0.3 * 0.85),
    ],
)
def test_weighed_tank(name, more, coefficient):
    assert dry(under(WEIGHED, name, more)).forces["tank"].coefficient == pytest.approx(coefficient)


@pytest.mark.parametrize(
    ("name", "factors", "times"),
    [
        ("eurocode8", "q_a: 1, gamma_a: 1.5", 3.0),
        ("nzs1170.5", "C_ph: 0.55", 0.55),
        ("nzs1170.5", "mu_p: 1.5, R_p: 2", 1.5),
        ("nzs1170.5", "T_p: 1.5 s", 0.25),
        ("nbc2015", "R_p: 1.25", 2.0),
        ("nbc2020", "A_r: 1", 0.7),  # 0.4 is raised to 0.7
    ],
)
def test_factors_can_be_chosen(name, factors, times):
    plain = under(WEIGHED, name)
    chosen = plain.replace("holds: 50 gal", f"holds: 50 gal, component: {{{factors}, reason: the engineer of record}}")
    one, other = dry(plain).forces["tank"], dry(chosen).forces["tank"]
    assert other.coefficient / one.coefficient == pytest.approx(times)
    assert "the engineer of record" in other.row
    assert any(value.provenance == "given in the file" for value in other.values)


@pytest.mark.parametrize("name", ELSEWHERE)
def test_rigid_racks_and_known_periods_never_push_more(name):
    flexible = assessed(under(RACK, name, ", building: {period: 0.5 s}"))
    text = RACK.replace("    beam_runs: each bay", "    beam_runs: each bay\n    period: 0.05 s")
    rigid = assessed(under(text, name, ", building: {period: 0.5 s}"))
    assert rigid.forces["rack r"].horizontal <= flexible.forces["rack r"].horizontal * (1 + 1e-12)


@pytest.mark.parametrize("name", ELSEWHERE)
def test_in_the_open_the_elastic_plateau(name):
    assessment = assessed(under(WEIGHED, name, ", setting: in the open"))
    force = assessment.forces["tank"]
    assert force.coefficient == pytest.approx(assessment.motion.plateau)
    assert found(assessment, "attachment/tank").verdict == "not assessed"


@pytest.mark.parametrize("name", ELSEWHERE)
def test_stronger_shaking_pushes_lifts_and_swings_more(name):
    key = standards()[name].example.split(":")[0]
    texts = [re.sub(rf"{key}: [0-9.]+", f"{key}: {value}", under(WEIGHED + HUNG, name)) for value in (0.1, 0.3)]
    weak, strong = (assessed(text) for text in texts)
    assert strong.forces["tank"].horizontal > weak.forces["tank"].horizontal
    assert strong.motion.vertical.share > weak.motion.vertical.share
    assert found(strong, "hung/light/swing").demand > found(weak, "hung/light/swing").demand


def test_near_a_fault_slow_things_swing_more_and_stiff_ones_do_not():
    far, near = (assessed(under(WEIGHED + HUNG, "nzs1170.5", f", near_fault: {said}")) for said in ("no", "yes"))
    assert pytest.approx(nzs1170_5.N_MAX * far.motion.corner.T_S) == near.motion.corner.T_S
    assert near.forces["tank"].horizontal == pytest.approx(far.forces["tank"].horizontal)
    unsaid = assessed(under(WEIGHED + HUNG, "nzs1170.5"))
    assert pytest.approx(near.motion.corner.T_S) == unsaid.motion.corner.T_S


def test_longer_periods_of_the_canadian_spectrum():
    short = assessed(under(WEIGHED, "nbc2020"))
    known = assessed(under(WEIGHED, "nbc2020", ", S_05: 0.7, S_10: 0.4, S_20: 0.2"))
    assert known.motion.corner.T_S < short.motion.corner.T_S  # not known: the safe side
    assert any(value.provenance == "common practice, no source" for value in short.motion.corner.values)


LOW = ", S_05: 0.2, S_10: 0.12, S_20: 0.06"


@pytest.mark.parametrize(
    ("S_02", "more", "asked"),
    [
        (0.34, LOW, False),
        (0.36, LOW, True),
        (0.34, "", True),  # S(1.0) is not known
        (0.34, ", S_05: 0.33, S_10: 0.28, S_20: 0.2", True),  # the category by S(1.0) is higher
        (0.2, LOW + ", I_E: 1.5", True),  # a building that must serve after an earthquake
    ],
)
def test_weak_shaking_in_canada_asks_for_no_attachment(S_02, more, asked):
    assessment = assessed(under(WEIGHED, "nbc2020", more).replace("S_02: 0.85", f"S_02: {S_02}"))
    assert any(one.id == "attachment/tank" for one in assessment.findings) == asked
    assert any("asks for no attachment of: tank" in text for text in assessment.assumptions) != asked


def test_the_canadian_spectrum_beyond_two_seconds_is_bounded():
    """S straight from S(2.0) 0.257 to S(5.0) 0.080 (Vancouver, from memory): never above what is used."""
    motion = dry(under(WEIGHED, "nbc2015", ", S_05: 0.751, S_10: 0.425, S_20: 0.257")).motion
    T = np.linspace(2.0, 5.0, 31)
    assert (motion.plateau * motion.corner.T_S / T >= np.interp(T, [2.0, 5.0], [0.257, 0.080])).all()


# Stiff across by X braces, soft along by its joints alone: two periods far apart.
TWO_PERIODS = RACK.replace(
    "    beam_runs: each bay",
    "    beam_runs: each bay\n    braces: [{face: left, kind: x, member: 2x4}, {face: right, kind: x, member: 2x4}]",
).replace(
    "pumps:",
    "  - {rack: r, where: brace to post, fasteners: {kind: through-bolt, diameter: 0.5 in, length: 6 in}}\npumps:",
)


def of_force(assessment, symbol):
    return next(line for line in assessment.forces["rack r"].steps if line.symbol == symbol)


def test_where_force_falls_with_the_period_the_shorter_of_the_frames_counts():
    assessment = assessed(under(TWO_PERIODS, "nzs1170.5"))
    along, across = assessment.frames["r"].periods
    assert along > 1.5 * across
    assert of_force(assessment, "C_i").inputs["T_p"].value == pytest.approx(across)


@pytest.mark.parametrize("T_1", [0.1, None, 3.0])
def test_of_all_periods_of_the_frame_the_one_nearest_to_the_buildings_counts(T_1):
    """T_1 between the two (None: their mean): in resonance."""
    along, across = dry(under(TWO_PERIODS, "eurocode8")).frames["r"].periods
    period = T_1 or (along + across) / 2
    assessment = assessed(under(TWO_PERIODS, "eurocode8", f", building: {{period: {period:.4f} s}}"))
    expected = min(max(round(period, 4), across), along)
    assert of_force(assessment, "S_a").inputs["T_a"].value == pytest.approx(expected)


@pytest.mark.parametrize(
    ("more", "C_Hi"),
    [
        (", height: 0 m, height_ratio: 0.9", 3.0),
        (", height: 9 m", 2.5),
        (", height: 20 m", 3.0),
        (", height: 3 m, height_ratio: 0.5", 1.5),
    ],
)
def test_of_two_heights_that_do_not_agree_the_higher_counts(more, C_Hi):
    """NZS 1170.5:2004 8.3(1): 1 + 9/6 = 2.5; 8.3(3): 3.0."""
    force = dry(under(WEIGHED, "nzs1170.5", more)).forces["tank"]
    assert next(line for line in force.steps if line.symbol == "C_Hi").result.value == pytest.approx(C_Hi)


def test_very_strong_shaking_is_no_undefined_number():
    """Lightened to nothing by the vertical earthquake, and held by what does not slide (warnings are errors here)."""
    assert assessed(under(TWO_PERIODS, "nbc2020", ", I_E: 1.5, height_ratio: 1").replace("S_02: 0.85", "S_02: 4"))


def test_what_is_taken_over_is_said():
    for name in ELSEWHERE:
        said = " ".join(assessed(under(WEIGHED, name)).assumptions)
        assert "Load combinations are those of ASCE 7" in said
        assert "NDS at allowable level" in said


def test_values_from_memory_are_listed_to_confirm():
    names = {value.name for value in assessed(under(RACK, "eurocode8")).values_to_confirm()}
    assert any("behaviour factor" in name for name in names)
    names = {value.name for value in assessed(under(RACK, "nzs1170.5")).values_to_confirm()}
    assert any("ductility of the part" in name for name in names)


def problems(site, component=""):
    raw = {"site": site, "vessels": [{"name": "t", "component": component or None}]}
    return [(one.code, one.path, one.message) for one in file_problems(raw)]


def test_only_its_own_keys_go_with_a_standard():
    (code, path, message), *more = problems(
        {"standard": "eurocode8", "a_g": 0.2, "ground": "C", "spectrum": "type 1", "S_DS": 1}
    )
    assert (code, path, more) == ("E-KEY-001", ("site", "S_DS"), [])
    assert "which asce7-16, asce7-22 have; eurocode8 takes: a_g" in message
    (code, path, message), *more = problems({"standard": "nzs1170.5", "Z": 0.4})
    assert (code, path, more) == ("E-KEY-002", ("site",), [])
    assert "'soil' of nzs1170.5: site subsoil class" in message
    assert "Z: 0.4, soil: C" in message
    found = problems({"standard": "nzs1170.5", "Z": 0.4, "sole": "C"})
    assert [one[0] for one in found] == ["E-KEY-001"]
    assert "did you mean 'soil'" in found[0][2]
    assert problems({"standard": "nzs1170.5", "Z": 0.4, "soil": "C", "building": {"R": 5}})[0][0] == "E-KEY-001"


def test_inputs_of_other_standards_and_factors():
    site = {"standard": "nbc2020", "S_02": 0.9}
    assert problems({**site, "also": {"nzs1170.5": {"Z": 0.4, "soil": "C"}}}) == []
    assert problems({**site, "also": {"nzs1170.5": {"Z": 4, "soil": "C"}}})[0][1] == ("site", "also", "nzs1170.5", "Z")
    assert problems({**site, "also": {"nbc2020": {"S_02": 0.4}}})[0][0] == "E-KEY-003"
    assert problems({**site, "also": {"nbc1995": {}}})[0][0] == "E-WORD-001"
    assert problems(site, {"R_p": 2.5, "q_a": 2, "reason": "t"}) == []  # q_a stays for Eurocode 8
    assert problems(site, {"R_q": 2.5, "reason": "t"})[0][:2] == ("E-KEY-001", ("vessels", 0, "component", "R_q"))
    assert problems(site, {"R_p": 0.2, "reason": "t"})[0][0] == "E-RANGE-001"


@pytest.mark.parametrize("raw", [None, [], "x", {"site": None}, {"site": []}, {"site": {"standard": 3}}])
def test_what_is_no_group_of_keys_is_for_others_to_refuse(raw):
    assert file_problems(raw) == []


def test_places_are_a_hint():
    assert place_named("seattle").row.values == "S_S: 1.399, S_1: 0.488"
    near = place_nearest(47.7, -122.3)
    assert (near.row.place, near.distance) == ("Seattle", pytest.approx(10.5, abs=1.0))
    # a degree of latitude is 111.2 km; half way around the globe 20,015 km
    assert float(distance(0, 0, 1, 0)) == pytest.approx(111.2, abs=0.05)
    assert np.asarray(distance(0, 0, [0, 10], [180, 0])) == pytest.approx([20015, 1112], abs=1)
    for row in table(Place):
        assert row.standard in standards()
        keys = {part.split(":")[0].strip() for part in row.values.split(",")}
        assert keys <= set(standards()[row.standard].inputs.model_fields)


@pytest.mark.parametrize("name", ELSEWHERE)
def test_units_do_not_matter(name):
    """The same installation written in feet and pounds, and in metres and kilograms."""
    metric = (
        WEIGHED.replace("length: 12 ft, width: 10 ft, sill: 1 in", "length: 3.6576 m, width: 3.048 m, sill: 25.4 mm")
        .replace("mass: 500 lb", "mass: 226.796185 kg")
        .replace("centre_of_mass: 30 in", "centre_of_mass: 0.762 m")
        .replace("footprint: 48 in x 18 in", "footprint: 121.92 cm x 45.72 cm")
    )
    one, other = (assessed(under(text, name, ", height_ratio: 0.4")) for text in (WEIGHED, metric))
    assert other.forces["tank"].horizontal == pytest.approx(one.forces["tank"].horizontal)
    for finding, same in zip(one.findings, other.findings, strict=True):
        assert (finding.id, finding.verdict) == (same.id, same.verdict)
        assert (finding.ratio or 0.0) == pytest.approx(same.ratio or 0.0, rel=1e-6)


@pytest.mark.parametrize("name", ELSEWHERE)
def test_doubling_the_weight_doubles_the_force(name):
    light, heavy = (dry(under(WEIGHED.replace("500 lb", f"{lb} lb"), name)).forces["tank"] for lb in (500, 1000))
    assert heavy.horizontal == pytest.approx(2 * light.horizontal)
    assert heavy.vertical == pytest.approx(2 * light.vertical)
