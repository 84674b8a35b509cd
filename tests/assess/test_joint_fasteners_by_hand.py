"""Fasteners of a joint at numbers where each term counts: places, distances, slip, pull, plates; by hand."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from brimfast.assess.joints.capacity import Sides, lateral
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.joints.pull import PullCapacity, pull_capacity
from brimfast.assess.joints.sheet_steel import strap_tension, tie_steel
from brimfast.assess.joints.stiffness import (
    beam_joint_stiffness,
    brace_stiffness,
    fastener_slip,
    gusset_stiffness,
    joints_unknown,
)
from brimfast.assess.resolve import resolve
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.geometry import Distances
from brimfast.assess.timber.service import Service
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.installation.joint import Fasteners
from brimfast.shared.installation.rack import Gusset
from tests.builders import RACK, read
from tests.printed import again

LB = POUND_FORCE
WHOLE = RACK.replace("each bay", "whole length")


@cache
def rack_of(text=WHOLE):
    """The rack of a text and its timbers: posts 4x4, beams 2x8, Douglas fir-larch (G 0.50, E 1.6 million psi)."""
    installation = read(text).installation
    return installation.racks["r"], resolve(installation).racks["r"], installation.joints_of("r")


def fasteners(kind="through-bolt", **keys):
    return Fasteners.model_validate({"kind": kind, **keys})


def bolts(count=1, diameter="0.5 in", **keys):
    return fasteners(diameter=diameter, length="6 in", count=count, **keys)


def laid(one, text=WHOLE, leans=False, **timbers):
    rack, parts, _ = rack_of(text)
    return beam_to_post_layout(rack, replace(parts, **timbers), one, leans)


def checks(layout):
    """What is how far and must be how far (in, diameters)."""
    return {one.what: (one.actual / INCH, one.distances) for one in layout.checks}


# Distances


def test_four_bolts_in_two_columns():
    """2x8 (7.25 in), 4x4 (3.5 in), spread 3 in, gauge 1.5 in: edges (7.25 − 3)/2 = 2.125, (3.5 − 1.5)/2 = 1.0, between 3.0 in.

    Least, NDS 2018 Tables 12.5.1A to D: loaded edge 4 D, edge along the grain 1.5 D (4 D where the rack leans on the post), in
    a row 3 D (4 D in full), columns by l/D = 1.5/0.5 = 3: (5 · 3 + 10)/8 = 3.125 D.
    """
    four = bolts(4, columns=2, gauge="1.5 in", spread="3 in")
    found = checks(laid(four))
    assert found == {
        "from the beam's edge": (pytest.approx(2.125), Distances(4.0, 4.0)),
        "from the post's edge": (pytest.approx(1.0), Distances(1.5, 1.5)),
        "between columns": (pytest.approx(1.5), Distances(3.125, 3.125)),
        "between fasteners": (pytest.approx(3.0), Distances(3.0, 4.0)),
    }
    assert checks(laid(four, leans=True))["from the post's edge"][1] == Distances(4.0, 4.0)
    places = np.array([[x, y] for x in (-0.75, 0.75) for y in (-1.5, 1.5)]) * INCH
    assert laid(four).places == pytest.approx(places)


def test_five_bolts_stand_in_three_rows():
    """Five in two columns: 3 + 2, so 4 in of spread leaves 4/2 = 2 in = 4 D between them: full value."""
    layout = laid(bolts(5, columns=2, gauge="1.5 in", spread="4 in"))
    assert checks(layout)["between fasteners"][0] == pytest.approx(2.0)
    assert layout.C_Delta == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("diameter", "thinner", "k"), [("1 in", 1.5, 2.5), ("0.6 in", 1.5, 2.8125), ("0.375 in", 1.5, 3.75),
                                   ("0.375 in", 1.125, 3.125), ("0.3 in", 1.8, 5.0), ("0.25 in", 1.6, 5.0)]
)  # fmt: skip
def test_between_columns_by_slenderness(diameter, thinner, k):
    """NDS 2018 Table 12.5.1D across the grain: 2.5 D at l/D up to 2, (5 l/D + 10)/8 between, 5 D from 6 on.

    l the thinner wood: 1.5/1 = 1.5; 1.5/0.6 = 2.5; 1.5/0.375 = 4; 1.125/0.375 = 3; 1.8/0.3 = 6; 1.6/0.25 = 6.4.
    """
    _, parts, _ = rack_of()
    one = bolts(2, diameter, columns=2, gauge="2 in")
    thin, thick = (replace(parts.beam, thickness=t * INCH) for t in (thinner, 3.5))
    for beam, post in ((thin, thick), (thick, thin)):
        post = replace(post, width=3.5 * INCH)
        assert checks(laid(one, beam=beam, post=post))["between columns"][1] == Distances(k, pytest.approx(k))


def test_nails_keep_the_recommended_distances():
    """Under 1/4 in: edges 2.5 D, columns 5 D, ends 10 D (15 D); no factor and no distance in a row to check."""
    nails = fasteners(
        "nail", nail="0.162 in x 3.5 in", count=4, columns=2, gauge="1 in", spread="2 in", end_distance="1 in"
    )
    layout = laid(nails, leans=True)
    assert checks(layout) == {
        "from the beam's edge": (pytest.approx(2.625), Distances(2.5, 2.5)),
        "from the post's edge": (pytest.approx(1.25), Distances(2.5, 2.5)),
        "between columns": (pytest.approx(1.0), Distances(5.0, 5.0)),
        "from the beam's end": (pytest.approx(1.0), Distances(10.0, 15.0)),
    }
    assert (layout.C_Delta, layout.C_Delta_along) == (1.0, 1.0)
    # of 4 in at the end it is 0.4, of 0.5 in at the beam's edge 2.5 · 0.162 = 0.405 in 0.81: the tightest
    wide = nails.model_copy(update={"spread": 6.25 * INCH, "end_distance": 4 * INCH})
    edge = laid(wide, leans=True).findings("id", "s")[0]
    assert (edge.demand, edge.capacity) == (pytest.approx(0.405 * INCH), pytest.approx(0.5 * INCH))
    # 10 · 0.162 = 1.62 in against 1 in there: the tightest
    end = layout.findings("id", "s")[0]
    assert (end.demand, end.capacity) == (pytest.approx(1.62 * INCH), pytest.approx(1 * INCH))
    assert "recommended without predrilling" in end.basis
    assert end.steps[0].note == "from the beam's end: 1.00 in there (given in the file)"


def test_a_quarter_inch_is_a_bolt():
    """Exactly 1/4 in: the distances of bolts, loaded edge 4 D."""
    assert checks(laid(bolts(2, "0.25 in")))["from the beam's edge"][1] == Distances(4.0, 4.0)


def test_geometry_factor_of_ends_and_rows():
    """End 1.5 in of 1/2 in bolts: 1.5/(4 · 0.5) = 0.75 across; towards the end 2.5 in: 2.5/(7 · 0.5) = 0.714; row 1.75/(4 · 0.5) = 0.875.

    NDS 2018 section 12.5.1: the smallest counts; below 3.5 D = 1.75 in nothing counts along.
    """
    near = laid(bolts(2, spread="4 in", end_distance="1.5 in"))
    assert near.C_Delta == pytest.approx(0.75) and np.isnan(near.C_Delta_along)
    far = laid(bolts(2, spread="4 in", end_distance="2.5 in"))
    assert far.C_Delta == pytest.approx(1.0) and far.C_Delta_along == pytest.approx(2.5 / 3.5)
    rows = laid(bolts(3, spread="3.5 in", end_distance="4 in"))
    assert rows.C_Delta == pytest.approx(0.875) and rows.C_Delta_along == pytest.approx(0.875)


def test_where_beams_meet_the_post_gives_the_end():
    """3.5/2 − 1.5 · 0.375 − 0.5 = 0.6875 in with two columns 0.5 in apart; three: 0.1875; in one piece no end."""
    for columns, end in ((2, 0.6875), (3, 0.1875)):
        found = checks(laid(bolts(columns, "0.375 in", columns=columns, gauge="0.5 in"), RACK))
        assert found["from the beam's end"][0] == pytest.approx(end)
        assert found["from the beam's end, pulled along"] == (pytest.approx(end), Distances(3.5, 7.0))
        assert found["from the post's edge"][0] == pytest.approx((3.5 - 0.5 * (columns - 1)) / 2)
    assert "from the beam's end" not in checks(laid(bolts(2)))


@pytest.mark.parametrize(("beam", "count", "spread"), [("2x8", 2, 3.25), ("2x12", 2, 5.0), ("2x8", 1, 0.0)])
def test_spread_that_is_not_given(beam, count, spread):
    """4 diameters of 1/2 in from either edge: 7.25 − 4 = 3.25 in; of 11.25 − 4 = 7.25 in 5 in at most; one alone has none."""
    layout = laid(bolts(count), WHOLE.replace("beam: 2x8", f"beam: {beam}"))
    assert np.ptp(layout.places[:, 1]) == pytest.approx(spread * INCH)
    assert layout.note == f"spread assumed: {spread:.1f} in; end distance assumed at the minimum for full value"
    depth = 11.25 if beam == "2x12" else 7.25
    assert checks(layout)["from the beam's edge"][0] == pytest.approx((depth - spread) / 2)


def test_a_beam_too_low_for_its_bolts_has_no_spread():
    """2x4 and 1/2 in: 3.5 − 8 · 0.5 = −0.5 in, so none, not a negative one."""
    _, parts, _ = rack_of()
    layout = laid(bolts(2), beam=replace(parts.beam, width=3.5 * INCH))
    assert np.ptp(layout.places[:, 1]) == 0.0


def test_the_tightest_distance_is_reported():
    """3/8 in, spread 4 in: edge 1.625 in of 1.5 asked, post's edge 1.75 of 0.5625, row 4 of 1.125: the edge, 1.5/1.625 = 0.923."""
    found = laid(bolts(2, "0.375 in", spread="4 in")).findings("id", "s")
    assert len(found) == 1
    assert found[0].demand == pytest.approx(1.5 * INCH) and found[0].capacity == pytest.approx(1.625 * INCH)
    assert "from the beam's edge" in found[0].question and "12.5.1A to C" in found[0].basis
    line = found[0].steps[0]
    assert line.result.value == pytest.approx(1.5) == again(line)


def test_past_the_edge_there_is_nothing():
    """Spread 8 in on 7.25 in: the distance is −0.375 in, and counts as none."""
    edge = laid(bolts(2, spread="8 in")).findings("id", "s")[0]
    assert edge.capacity == 0.0 and edge.verdict == "short"


@pytest.mark.parametrize(
    ("one", "counts"),
    [
        (bolts(2, spread="5 in"), False),
        (bolts(2, spread="5.1 in"), True),
        (fasteners("nail", nail="0.2 in x 4 in", count=2, spread="5.1 in"), False),
        (bolts(2, "0.25 in", spread="5.1 in"), True),
    ],
)
def test_wood_shrinks_between_bolts_over_5_in_apart(one, counts):
    """NDS 2018 section 12.5.1.3: 5 in at most across the grain, for fasteners of 1/4 in and more."""
    found = laid(one, WHOLE.replace("beam: 2x8", "beam: 2x12")).findings("id", "s")[1:]
    assert len(found) == int(counts)
    if counts:
        assert (found[0].demand, found[0].capacity) == (pytest.approx(5.1 * INCH), pytest.approx(5 * INCH))


def test_group_action():
    """Three 1/2 in bolts 2 in apart: post 1.6e6 · 12.25, beam across its grain 1.6e6 · 1.5 · 3 D = 3.6e6 lb.

    NDS 2018 (11.3-1) by hand with γ = 180,000 · 0.5^1.5: 0.95381. With two columns 1.8 in apart the beam counts with 1.8 in:
    0.96230. A steel plate (γ 270,000, EA 29e6 · t · 1.5 in): 1/4 in on the beam 0.94233, 1/16 in on the post 0.91159; with 1/8 in
    (0.95805, 0.96249) the timbers remain the worst.
    """
    three = {"spread": "4 in", "end_distance": "4 in"}
    assert laid(bolts(3, **three)).C_g == pytest.approx(0.953805, rel=1e-5)
    assert laid(bolts(6, columns=2, gauge="1.8 in", **three)).C_g == pytest.approx(0.962298, rel=1e-5)
    assert laid(bolts(3, plate="0.25 in", **three)).C_g == pytest.approx(0.942328, rel=1e-5)
    assert laid(bolts(3, plate="0.125 in", **three)).C_g == pytest.approx(0.953805, rel=1e-5)  # the timbers themselves
    assert laid(bolts(3, plate="0.0625 in", **three)).C_g == pytest.approx(0.911588, rel=1e-5)
    assert laid(bolts(1, **three)).C_g == 1.0


def test_group_action_of_timber_whose_E_is_not_known():
    """E of 800,000 or 1,700,000 psi, the softest and the stiffest of the tables; unlike timbers share worst.

    (11.3-1) with post and beam soft and soft 0.91452, soft and stiff 0.96462, stiff and soft 0.90705, stiff and stiff 0.95631; the
    beam alone 0.90747 or 0.95678; the post alone 0.96160 or 0.95335.
    """
    _, parts, _ = rack_of()
    three = bolts(3, spread="4 in", end_distance="4 in")
    beam, post = replace(parts.beam, strength=None), replace(parts.post, strength=None)
    for timbers, C_g in (
        ({"beam": beam, "post": post}, 0.907055),
        ({"beam": beam}, 0.907469),
        ({"post": post}, 0.953347),
    ):
        layout = laid(three, **timbers)
        assert layout.C_g == pytest.approx(C_g, rel=1e-5)
        assert "E not in the tables" in layout.note
    assert "E not" not in laid(three).note
    assert laid(bolts(1), beam=beam, post=post).C_g == 1.0


def test_what_has_no_distances():
    """Ties and typed-in fasteners: no factor, nothing to check."""
    tie = fasteners("framing tie", nails="4 + 4", nail="0.148 in x 1.5 in", diameter="0.5 in", length="4 in")
    typed = bolts(2, allowable="300 lb", source="t", end_distance="0.2 in")
    for one in (tie, typed, fasteners("structural screw", count=3, allowable="300 lb", source="t")):
        layout = laid(one, leans=True)
        assert (layout.C_g, layout.C_Delta, layout.C_Delta_along, layout.checks) == (1.0, 1.0, 1.0, ())
        assert layout.findings("id", "s") == []
    assert np.ptp(layout.places[:, 1]) == pytest.approx(5 * INCH)  # of no known diameter


# How much they give


def test_slip_of_a_fastener():
    """EN 1995-1-1 Table 7.1: G 0.50 at 12 %: 62.4 · 0.5/1.054 · 1.12 lb/ft³ = 531.07 kg/m³; 531.07^1.5 · 12.7/23 = 6757.8 N/mm.

    By the lighter wood, G 0.43: 460.02 kg/m³, 5448.1 N/mm. A nail of 0.131 in: 460.02^1.5 · 3.3274^0.8/30 = 860.46 N/mm.
    """
    _, parts, _ = rack_of()
    light = replace(parts.beam, G=0.43)
    assert fastener_slip(bolts(), parts.beam, parts.post) == pytest.approx(6757.80e3, rel=1e-5)
    assert fastener_slip(bolts(), light, parts.post) == pytest.approx(5448.06e3, rel=1e-5)
    assert fastener_slip(bolts(), parts.post, light) == pytest.approx(5448.06e3, rel=1e-5)
    nail = fasteners("nail", nail="0.131 in x 3 in")
    assert fastener_slip(nail, light, parts.post) == pytest.approx(860.457e3, rel=1e-5)
    assert fastener_slip(fasteners("nail", allowable="99 lb", source="t"), light, light) is None


PAIRED = WHOLE.replace("whole length", "whole length\n    beam_pairs: shared")


def test_slip_and_turn_of_a_beams_joint():
    """Three bolts of 6757.80 N/mm, 2 in apart: 20,273.4 N/mm; Σr² = 2 · 50.8² mm²: 34,879 N·m/rad. Two planes twice; K_u two thirds."""
    one, pair = rack_of(), rack_of(PAIRED)
    joint = one[2]["beam to post"].model_copy(update={"fasteners": bolts(3, spread="4 in")})
    for (rack, parts, _), soft, times in ((one, False, 1), (pair, False, 2), (one, True, 2 / 3), (pair, True, 4 / 3)):
        found = beam_joint_stiffness(rack, parts, joint, soft)
        assert found.slip == pytest.approx(times * 20_273.4e3, rel=1e-5)
        assert found.rotation == pytest.approx(times * 34_878.8, rel=1e-5)
    rack, parts, _ = rack_of(WHOLE.replace("whole length", "whole length\n    beam_seat: on top"))
    assert beam_joint_stiffness(rack, parts, joint).rotation == 0.0
    tie = fasteners("framing tie", nails="4 + 4", nail="0.148 in x 1.5 in", count=2, spread="4 in")
    assert beam_joint_stiffness(*one[:2], joint.model_copy(update={"fasteners": tie})).rotation == 0.0


def test_a_joint_that_is_not_known_is_hinged():
    """10 kN/mm at most, 2 kN/mm at least, and no turn held."""
    rack, parts, joints = rack_of()
    typed = joints["beam to post"].model_copy(
        update={"fasteners": fasteners("structural screw", count=2, allowable="300 lb", source="t")}
    )
    for joint in (None, typed):
        for soft, slip in ((False, 1e7), (True, 2e6)):
            found = beam_joint_stiffness(rack, parts, joint, soft)
            assert (found.slip, found.rotation) == (slip, 0.0)


def test_a_brace_gives_at_both_ends():
    """EA 40 MN over 2 m gives 50 nm/N; two ends of three bolts of 6757.80 N/mm: 2/20.2734e6 = 98.651 nm/N: k = 6.7271 MN/m.

    By K_u: 147.977 nm/N: 5.0510 MN/m. Ends not known: nothing, or 2/2e6 = 1000 nm/N: 20 and 0.95238 MN/m.
    """
    _, parts, _ = rack_of()
    ends = (bolts(3), parts.beam, parts.post)
    assert brace_stiffness(40e6, 2.0, *ends) == pytest.approx(6.72713e6, rel=1e-5)
    assert brace_stiffness(40e6, 2.0, *ends, soft=True) == pytest.approx(5.05105e6, rel=1e-5)
    typed = fasteners("structural screw", count=2, allowable="300 lb", source="t")
    for unknown in (None, typed):
        assert brace_stiffness(40e6, 2.0, unknown, *ends[1:]) == pytest.approx(20e6)
        assert brace_stiffness(40e6, 2.0, unknown, *ends[1:], soft=True) == pytest.approx(0.952381e6, rel=1e-5)


GUSSET = Gusset.model_validate(
    {"face": "front", "bay": 1, "leg": "14 in", "thickness": "15/32 in", "nail": "0.131 in x 2.5 in", "nails": 10}
)


def test_slip_and_turn_of_a_gussets_leg():
    """Nails of 0.131 in in G 0.50 (post), 0.43 (beam): 1067.31, 860.457 N/mm; ten of them; half where the beam is at the side.

    On the post 14 − 7.25/2 − 0.75 − 1.5 = 8.125 in of nails, rows 1.75 in apart: Σr² = 10 · 0.875² + 4 · (4.0625² + 2.03125²) =
    90.176 in² = 58,178 mm²; on the beam 14 − 1.75 − 2.25 = 10 in, rows 3.625 in apart: 10 · 1.8125² + 4 · (5² + 2.5²) =
    157.852 in² = 101,840 mm².
    """
    side, parts, _ = rack_of()
    top = side.model_copy(update={"beam_seat": "on top"})
    parts = replace(parts, beam=replace(parts.beam, G=0.43))
    for rack, times in ((side, 0.5), (top, 1.0)):
        slip, turn = gusset_stiffness(rack, parts, GUSSET, on_post=True)
        assert slip == pytest.approx(times * 10.6731e6, rel=1e-5)
        assert turn == pytest.approx(times * 1067.314e3 * 0.0581779, rel=1e-5)
        slip, turn = gusset_stiffness(rack, parts, GUSSET, on_post=False)
        assert slip == pytest.approx(8.60457e6, rel=1e-5)
        assert turn == pytest.approx(860.457e3 * 0.1018395, rel=1e-5)


def test_joints_on_which_stiffness_hangs():
    """Beams always, braces where there are any; known by a diameter or by a nail."""
    rack, _, joints = rack_of()
    braced = rack.model_copy(update={"braces": [object()]})
    known = joints["beam to post"]
    nailed = known.model_copy(update={"fasteners": fasteners("nail", nail="0.131 in x 3 in")})
    typed = known.model_copy(update={"fasteners": fasteners("nail", allowable="99 lb", source="t")})
    assert not joints_unknown(rack, {"beam to post": known})
    assert not joints_unknown(rack, {"beam to post": nailed})
    assert joints_unknown(rack, {"beam to post": typed})
    assert joints_unknown(rack, {})
    assert joints_unknown(braced, {"beam to post": known})
    assert not joints_unknown(braced, {"beam to post": known, "brace to post": nailed})


# How hard they can be pulled


def pulled(one, side=1.5, G_main=0.50, G_side=0.43, wet=True, main=3.5, pairs=False, heat="100"):
    sides = Sides(side * INCH, G_side, main * INCH, G_main)
    return pull_capacity(one, lateral(one, sides, "earthquake", Service(wet, heat)), G_main, G_side, pairs)


def lag(length, **keys):
    return fasteners("lag screw", diameter="0.375 in", length=length, **keys)


def test_pull_of_a_lag_screw():
    """NDS 2018 (12.2-1): 1800 · 0.5^1.5 · 0.375^0.75 = 304.966 lb/in; 1.6 · 0.7 wet; tip 7/32 in.

    5 in behind 1.5 in: 3.281 in are in the post, of them the thread's 5/2 + 0.5 − 0.219 = 2.781 in: 949.97 lb; 3.9 in
    long: 2.181 in: 745.03 lb; 10 in in a post of 3.5 in: the thread's 5.281 in at most 3.5 in: 1195.47 lb; thread given as 2 in: 1.781 in: 608.41 lb.
    """
    for length, more, pounds in (("5 in", {}, 949.968), ("3.9 in", {}, 745.031), ("10 in", {}, 1195.465), ("5 in", {"thread": "2 in"}, 608.406)):  # fmt: skip
        found = pulled(lag(length, **more))
        assert found.each == pytest.approx(pounds * LB, rel=1e-5)
        assert not found.nail
        for line in found.steps:
            assert again(line) == pytest.approx(line.result.value)
    assert [one.name for one in pulled(lag("5 in")).values if one.name.startswith("thread")] == [
        "thread of a lag screw"
    ]
    assert pulled(lag("5 in"), wet=False).each == pytest.approx(949.968 / 0.7 * LB, rel=1e-5)
    assert pulled(lag("5 in"), heat="125").each == pytest.approx(949.968 * 0.7 * LB, rel=1e-5)  # Table 11.3.4, wet


def test_no_thread_in_the_post_holds_nothing():
    for thread in ("0.21 in", "0.21875 in"):
        with pytest.raises(NotAssessableError, match="no thread"):
            pulled(lag("6 in", thread=thread))


def test_pull_of_a_nail():
    """NDS 2018 (12.2-3): 1380 · 0.5^2.5 · 0.162 = 39.520 lb/in, 3.5 − 1.5 = 2 in, 1.6, wet 0.25: 31.616 lb."""
    nail = pulled(fasteners("nail", nail="0.162 in x 3.5 in"))
    assert nail.each == pytest.approx(31.6162 * LB, rel=1e-5) and nail.nail
    assert "not assessed" in nail.reason
    assert all(again(line) == pytest.approx(line.result.value) for line in nail.steps)


def test_a_head_pulls_through_a_thin_side():
    """#12, head 0.414 in (NDS Table L3): W = 2850 · 0.25 · 0.216 = 153.9 lb/in.

    NDS 2018 (12.2-6a), side of 0.75 in, G 0.43, up to 2.5 · 0.414 = 1.035 in: 690 π · 0.414 · 0.43² · 0.75 · 1.6 · 0.7 = 139.385 lb;
    (12.2-6b), 1.5 in: 1725 π · 0.414² · 0.43² · 1.12 = 192.351 lb, under 153.9 · 1.5 · 1.12 = 258.55 lb of the thread.
    """
    screw = fasteners("wood screw", diameter="0.216 in", length="3 in")
    for side, pounds in ((0.75, 139.3848), (1.5, 192.3511)):
        found = pulled(screw, side)
        assert found.each == pytest.approx(pounds * LB, rel=1e-5)
        assert found.reason == "pull-through of the head governs"
        line = found.steps[-1]
        assert line.result.value == pytest.approx(pounds, rel=1e-5)
        assert again(line) == pytest.approx(pounds, rel=1e-5)
    wide = pulled(fasteners("wood screw", diameter="0.216 in", length="3 in", head="0.6 in"), 1.5)
    assert wide.each == pytest.approx(258.552 * LB, rel=1e-5)  # 690 π · 0.6 · 0.43² · 1.5 · 1.12 = 404.0 lb
    assert wide.reason == "withdrawal governs"
    assert wide.steps[-1].result.value == pytest.approx(404.014, rel=1e-5) == again(wide.steps[-1])
    # 1.5 in are over 2.5 heads of 0.3 and 0.5 in: 1725 π · 0.3² · 0.43² · 1.12 and 280.57 lb
    assert pulled(lag("5 in", head="0.3 in"), 1.5).each == pytest.approx(101.004 * LB, rel=1e-5)
    thick = pulled(lag("5 in", head="0.5 in"), 1.5)
    assert thick.each == pytest.approx(280.565 * LB, rel=1e-5)
    assert "t" not in thick.steps[-1].inputs
    assert again(thick.steps[-1]) == pytest.approx(280.565, rel=1e-5)


def test_pull_that_is_not_by_withdrawal():
    """Typed in, toe-nails, ties, bolts: no value."""
    typed = fasteners("nail", nail="0.162 in x 3.5 in", allowable="99 lb", source="t")
    toe = fasteners("nail", nail="0.162 in x 3.5 in", toe_nailed="yes")
    tie = fasteners("framing tie", nails="4 + 4", nail="0.148 in x 1.5 in")
    for one, words in ((typed, "typed-in"), (toe, "toe-nails"), (tie, "framing tie"), (bolts(), "washers")):
        found = pulled(one)
        assert found.each is None and words in found.reason and "both sides" not in found.reason
    assert "both sides" in pull_capacity(bolts(), lateral(bolts(), Sides(0.038, 0.5, 0.088, 0.5), "earthquake", Service(True)), 0.5, 0.5, True).reason  # fmt: skip


def test_nails_and_screws_under_both():
    """Z 200, W 100 N at 45°: screws 20,000/150 = 133.33 N (12.4-1), nails 20,000/(300 · 0.70711) = 94.281 N (12.4-2)."""
    screw, nail = (PullCapacity(100.0, is_nail, (), (), "") for is_nail in (False, True))
    assert float(screw.combine(200.0, np.pi / 4)) == pytest.approx(133.333, rel=1e-5)
    assert float(nail.combine(200.0, np.pi / 4)) == pytest.approx(94.281, rel=1e-5)
    given = {"W_p": 100.0, "Z_each": 200.0, "alpha": np.pi / 4, "cos": np.cos, "sin": np.sin}
    assert eval(screw.expression, dict(given)) == pytest.approx(133.333, rel=1e-5)
    assert eval(nail.expression, dict(given)) == pytest.approx(94.281, rel=1e-5)
    assert "12.4-2" in nail.source and "12.4-1" in screw.source


# What one may carry


def test_the_weaker_of_two_woods_with_a_plate():
    """1/4 in plate (F_e 87,000 psi), 1/2 in bolt: a post of 3.5 in across its grain (12.3-5) 512.96 lb, a beam of 1.5 in along it (12.3-3)

    582.92 lb: the post. The other way round 825.73 and 314.14 lb: the beam.
    """
    sides = Sides(1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    plate = lateral(bolts(plate="0.25 in"), sides, "earthquake", Service(False))
    for side, main, pounds in ((0.0, np.pi / 2, 512.958), (np.pi / 2, 0.0, 314.143)):
        assert float(plate.each(side, main)) == pytest.approx(1.6 * pounds * LB, rel=1e-4)
        lines = plate.steps(side, main)[1]
        assert [one.result.value for one in lines if one.symbol == "Z"] == [pytest.approx(pounds, rel=1e-4)]
        assert lines[-1].result.value == pytest.approx(1.6 * pounds, rel=1e-4) == again(lines[-1])


def test_factors_that_are_one_are_not_printed():
    """Dry, cool, one: Z · 1.6 · 1.0. With all of them: C_t 0.7 (wet, 125 °F), C_g and C_Δ given, end grain 0.67."""
    sides = Sides(1.5 * INCH, 0.5, 3.5 * INCH, 0.5)
    plain = lateral(bolts(), sides, "earthquake", Service(False))
    assert plain.steps(0.0, 0.0)[1][-1].expression == "Z*C_D*C_M"
    assert float(plain.each(0.0, 0.0)) == pytest.approx(1.6 * float(plain.data.modes(0.0, 0.0).least()))
    more = lateral(bolts(), sides, "permanent", Service(True, "125"), C_g=0.9, C_Delta=0.8, end_grain=True)
    assert float(more.each(0.0, 0.0)) == pytest.approx(
        float(plain.each(0.0, 0.0)) / 1.6 * 0.9 * 0.7 * 0.7 * 0.9 * 0.8 * 0.67
    )
    assert "dry service" in plain.steps(0.0, 0.0)[1][-1].note and "wet service" in more.steps(0.0, 0.0)[1][-1].note
    assert len(lateral(bolts(), sides, "earthquake", Service(True)).values) == len(plain.values) + 1
    assert more.steps(0.0, 0.0)[1][-1].expression == "Z*C_D*C_M*C_t*C_g*C_Delta*C_eg"


def test_two_beams_on_a_bolt():
    """Two of 1.5 in and 3.5 in: 6.5 in of bolt. NDS 2018 (12.3-9): 732.72 lb across the beams; nails and plates are not assessed so."""
    sides = Sides(1.5 * INCH, 0.5, 3.5 * INCH, 0.5, True)

    def both(one):
        return lateral(one, sides, "earthquake", Service(False))

    through = fasteners(diameter="0.5 in", length="6.5 in")
    assert float(both(through).each(np.pi / 2, 0.0)) == pytest.approx(1.6 * 732.719 * LB, rel=1e-4)
    with pytest.raises(NotAssessableError, match="shorter"):
        both(fasteners(diameter="0.5 in", length="6.4 in"))
    with pytest.raises(NotAssessableError, match="through-bolts only"):
        both(lag("8 in"))
    with pytest.raises(NotAssessableError, match="plate"):
        both(fasteners(diameter="0.5 in", length="8 in", plate="0.25 in"))


@pytest.mark.parametrize(
    ("given", "permanent", "earthquake"),
    [("permanent", 1.0, 1.0), ("normal", 0.9, 1.0), ("earthquake", 0.5625, 1.0)],
)
def test_typed_in_for_another_duration(given, permanent, earthquake):
    """Lowered by C_D for a longer load, 0.9/1.6 = 0.5625, never raised; 1000 N, wet 0.7."""
    typed = fasteners("nail", allowable="1000 N", allowable_for=given, source="t")
    for duration, share in (("permanent", permanent), ("earthquake", earthquake)):
        found = lateral(typed, Sides(0.038, 0.5, 0.089, 0.5), duration, Service(True))
        assert found.each([0.0, 1.0], 0.0) == pytest.approx([share * 700.0] * 2)
        assert found.values[-1].text.startswith("225 lb each") and found.values[-1].source == "t"
        line = found.steps(0.0, 0.0)[1][0]
        assert line.source == "t"
        assert again(line) == pytest.approx(line.result.value) == share * 700.0 / LB


def test_steel_of_ties_and_straps():
    """33 and 45 ksi: 0.6 · 33 · w t against 0.5 · 45 · (w − D) t. 1.25 x 0.05 in, hole 0.1: 1237.5 lb; hole 0.2: 1181.25 lb; hole 2: 0.

    A tie not described is 0.75 x 0.048 in (18 gauge) less a nail of 0.148 in: 22.5 · 0.602 · 0.048 = 650.16 lb.
    """
    for hole, pounds in ((0.1, 1237.5), (0.2, 1181.25), (2.0, 0.0)):
        force, line, _ = strap_tension("T", 1.25 * INCH, 0.05 * INCH, hole * INCH)
        assert force == pytest.approx(pounds * LB)
        assert again(line) == pytest.approx(pounds) == line.result.value
    tie = {"nails": "4 + 4", "nail": "0.148 in x 1.5 in"}
    assert tie_steel(fasteners("framing tie", **tie))[0] == pytest.approx(650.16 * LB)
    given = fasteners("framing tie", steel="0.06 in", steel_width="1 in", **tie)
    assert len(tie_steel(fasteners("framing tie", **tie))[2]) == len(tie_steel(given)[2]) + 1
    assert tie_steel(given)[0] == pytest.approx(22_500 * 0.06 * 0.852 * LB)
    assert tie_steel(fasteners("framing tie", allowable="99 lb", source="t"))[0] == pytest.approx(
        33_000 * 0.6 * 0.036 * LB
    )
