"""Which keys a site takes, what messages about them name, and what the notes beside a force say."""

import pytest

from brimfast.assess.demand.inputs import check_inputs, file_problems
from brimfast.assess.demand.period import swing
from brimfast.assess.demand.standard import standard_named
from brimfast.shared.errors import InputError
from brimfast.shared.installation.rack import ComponentFactors
from brimfast.shared.installation.site import Building, Site
from tests.assess.test_demand_by_hand import A_G, Z, force, motion
from tests.builders import RACK, read

NZ = {"standard": "nzs1170.5", **Z}


def said(**raw):
    return [one.message for one in file_problems(raw)]


def test_what_is_no_group_of_keys_has_no_wrong_ones():
    assert file_problems(["site"]) == file_problems(None) == []


def test_a_misspelt_key_is_one_of_the_site_or_of_the_standard():
    """Keys that every standard knows stand in the site alone, not among those of a standard beside it."""
    takes = "unknown key; nzs1170.5 takes: Z, soil, R_u, near_fault, height, part"
    beside = {name: value for name, value in NZ.items() if name != "standard"}
    assert said(site={**NZ, "settng": "x"}) == ["unknown key; did you mean 'setting'?"]
    assert said(site={**NZ, "qqq": "x"}) == [takes]
    other = {"standard": "asce7-16", "S_DS": 1, "also": {"nzs1170.5": {**beside, "settng": "x", "prt": "P.2"}}}
    assert said(site=other) == [takes, "unknown key; did you mean 'part'?"]


def test_a_key_of_the_building_names_those_who_use_it():
    """Of the standards only ASCE 7 has R of the building."""
    (message,) = said(site={**NZ, "building": {"R": 5}})
    assert message == "nzs1170.5 does not use it (asce7-16, asce7-22 do); of the building it takes: period"


def test_a_misspelt_factor_of_a_component():
    near, far = ({"reason": "t", key: 1} for key in ("R_pp", "xyz"))
    hints = said(site=NZ, racks={"r": {"component": near}}, vessels=[{"component": far}])
    assert hints == ["unknown key; did you mean 'R_p'?", "unknown key; nzs1170.5 takes: C_ph, mu_p, R_p, T_p"]


def test_a_name_of_a_standard_is_cut_in_the_message():
    with pytest.raises(InputError) as refused:
        standard_named("x" * 50)
    assert refused.value.problems[0].message.startswith(f"found {'x' * 40!r};")


def test_an_installation_is_asked_as_its_file_is():
    """Building, rack and vessel each with one wrong key; a vessel beside it with none."""
    good = read(RACK).installation
    check_inputs(good)
    wrong = ComponentFactors(reason="t", xyz=1)
    site = Site(**NZ, building=Building(R=5))
    vessels = [good.vessels[0], good.vessels[1].model_copy(update={"component": wrong})]
    racks = {"r": good.racks["r"].model_copy(update={"component": wrong})}
    with pytest.raises(InputError) as refused:
        check_inputs(good.model_copy(update={"site": site, "racks": racks, "vessels": vessels}))
    assert [one.path for one in refused.value.problems] == [
        ("site", "building", "R"),
        ("racks", "r", "component", "xyz"),
        ("vessels", 1, "component", "xyz"),
    ]


# Notes and sources


def note(steps, symbol):
    return next(one.note for one in steps if one.symbol == symbol)


@pytest.mark.parametrize(("z_h", "at_grade"), [(0, True), (0.5, False), (1, False)])
def test_at_grade(z_h, at_grade):
    assert ("at or below grade" in note(force("asce7-22", S_DS=1.0, height_ratio=z_h).steps, "F_p")) == at_grade


def test_older_coefficients_are_said_where_the_standard_has_none():
    """ASCE 7-22 has neither F_a nor F_v; 7-16 has both."""
    keys = {"S_S": 0.6, "S_1": 0.2, "site_class": "C"}
    newer, older = (motion(name, **keys) for name in ("asce7-22", "asce7-16"))
    assert [one.title for one in newer.cautions] == ["Ground motion by the older site coefficient"]
    assert older.cautions == ()
    assert note(newer.corner.steps, "S_D1") == "7-22 has no F_v: estimate by 7-16"
    assert note(older.corner.steps, "S_D1") == ""


@pytest.mark.parametrize(
    ("T_1", "T_a", "missing", "ends"),
    [
        (None, None, "T_a and T_1 not known", "resonance governs"),
        (None, (0.2, 0.3), "T_1 not known", "T_a by the frame 0.2 s along, 0.3 s across"),
        ("1 s", None, "T_a not known", "resonance governs"),
        ("1 s", (0.2, 0.3), "", "T_a by the frame 0.2 s along, 0.3 s across, the one nearest to T_1"),
    ],
)
def test_periods_that_eurocode_8_lacks(T_1, T_a, missing, ends):
    building = {"building": {"period": T_1}} if T_1 else {}
    steps = force("eurocode8", "unbraced rack", swing(None, T_a), **A_G, **building).steps
    assert note(steps, "S_a").partition(":")[0] == missing
    assert note(steps, "F_a").endswith(ends)


def test_values_behind_a_force_of_eurocode_8():
    """Soil and vertical share of the ground stay beside q_a and gamma_a."""
    names = [one.name.partition(",")[0] for one in force("eurocode8", **A_G).values]
    soil, upright = "recommended soil values", "vertical over horizontal ground acceleration"
    assert names == [soil, upright, "behaviour factor", "importance of the element"]


@pytest.mark.parametrize(("Z_", "R_u", "cut"), [(0.4, 1.8, True), (0.5, 1.4, False), (0.4, 1.0, False)])
def test_the_most_of_hazard_and_return_period(Z_, R_u, cut):
    """0.72 is cut to 0.7; 0.70 is not."""
    steps = motion("nzs1170.5", Z=Z_, soil="C", R_u=R_u).steps
    for symbol in ("C_0", "C_max"):
        assert note(steps, symbol) == ("Z R_u no more than 0.7" if cut else "")


@pytest.mark.parametrize(
    ("R_u", "fault", "ends"),
    [
        (1.0, {}, "(Table 3.7), as the file does not say that there is none"),
        (1.0, {"near_fault": True}, "N: the most there is near a major fault (Table 3.7)"),
        (1.0, {"near_fault": False}, "no more than C_hlong/T"),
        (0.75, {}, "no more than C_hlong/T"),
    ],
)
def test_near_a_fault_or_not_said(R_u, fault, ends):
    """N is 1.72 unless there is no fault or the earthquake is one that returns often."""
    (corner,) = motion("nzs1170.5", Z=0.4, soil="C", R_u=R_u, **fault).corner.steps
    assert corner.note.startswith("the spectrum is no more than C_hlong/T")
    assert corner.note.endswith(ends)
    assert ("N: the most" in corner.note) == (corner.inputs["N"].value == 1.72)


def test_a_given_period_stands_before_the_frames():
    assert swing(0.06, (0.05, 0.2)).said == (
        "0.06 s given in the file; by the frame 0.05 s along, 0.2 s across, which is on the other side of 0.06 s"
    )


def test_where_the_vertical_force_is_from():
    """ASCE 7-22 names its own section; the others the rule of the ground motion."""
    sources = [
        next(one.source for one in force(name, **keys).steps if one.symbol == "E_v")
        for name, keys in (("asce7-22", {"S_DS": 1.0}), ("asce7-16", {"S_DS": 1.0}), ("eurocode8", A_G))
    ]
    newer, older = "ASCE 7-22 section 13.3.1 (as 7-16 section 13.3.1.2)", "ASCE 7-16 section 13.3.1.2"
    assert sources == [newer, older, "EN 1998-1:2004 3.2.2.3 and 4.3.3.5.2(4)"]
