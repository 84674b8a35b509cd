"""What runs of water come to, worked out by hand: the sill or drain that keeps them in, pans, findings, lines."""

import math
from dataclasses import replace

import pytest

from brimfast.assess.network.build import ADDED_DRAIN
from brimfast.assess.network.model import (
    DRAINED,
    MAINS,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    ROOM,
    RUNS,
    SEWER,
    SUPPLIED,
    Catch,
    Event,
    Link,
    Network,
    Node,
)
from brimfast.assess.network.runs import run
from brimfast.assess.spill import contain
from brimfast.assess.spill.assess import floods
from brimfast.assess.spill.contain import Contained, contained
from brimfast.assess.spill.drains import drain_capacity
from brimfast.assess.spill.lines import run_lines
from brimfast.assess.spill.pans import caught
from brimfast.assess.spill.room import RoomBasin
from brimfast.shared.constants import FOOT, GALLON, INCH
from brimfast.shared.findings import step
from brimfast.shared.installation.site import Drain
from tests.builders import PANNED, RACK, WEIGHED, assessed, found
from tests.networks import NOTHING_WRONG, floor

near = pytest.approx


def kept(links, volume=0.0, area=20.0, system="us", sill=0.0, more=()):
    """Of so much (m³) at once and what links bring, in a room with one door and a drain that could be added."""
    tank = Node("tank", 10.0, 10.0, 0.0, 1.0)
    door = Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=sill, width=0.9)
    network = Network((tank, floor(area), *more), (*links, Link(ADDED_DRAIN, DRAINED, ROOM, SEWER, False), door))
    runs = run(network, [Event("e", "k", "s", "t", at_once={"tank": volume})])
    return contained(network, runs, system)


@pytest.mark.parametrize(
    ("volume", "system", "sill"),
    [
        (0.25, "us", 0.0127),
        (0.61, "us", 0.0381),
        (0.59, "si", 0.03),
        (0.61, "si", 0.04),
        (9.04, "us", 0.4572),
        (9.2, "us", None),
        (8.9, "si", 0.45),
        (9.04, "si", None),
    ],
)
def test_the_sill_that_keeps_a_burst_in(volume, system, sill):
    """On 20 m²: 12.5 mm need half an inch, 30.5 mm 1 1/2 in (38.1), 29.5 mm 3 cm, 30.5 mm 4 cm; 452 mm the highest of 18 in (457.2), 460 mm
    none; 445 mm 45 cm; 452 mm none in whole centimetres up to 18 in."""
    assert kept([], volume, system=system).sill == (None if sill is None else near(sill))


def test_a_sill_higher_than_the_one_there_is():
    """20.5 mm over a sill of 20 mm: 3 cm, the next there is; 30.5 mm: 4 cm. 0.05 m³ on half a square metre, 100 mm: 8 half inches."""
    assert kept([], 0.41, system="si", sill=0.02).sill == near(0.03)
    assert kept([], 0.61, system="si", sill=0.02).sill == near(0.04)
    assert kept([], 0.05, 0.5).sill == near(0.1016)


def test_a_sill_leaves_the_drains_as_they_are():
    """1 L/s for an hour; a drain takes 0.4 of it: 2.16 m³ on 20 m², 108 mm: 9 half inches, 114.3 mm. Without it they would be 180 mm."""
    hose = Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=3600.0)
    drain = Link("drain", DRAINED, ROOM, SEWER, rim=1000.0, opening=1000.0, pipe_flow=4e-4)
    assert kept([hose, drain]).sill == near(0.1143)


def test_a_sill_is_one_for_all_doors_of_the_room():
    """2 m³ on 20 m², 100 mm: 4 in keep them from the hall too, whose own way out stays."""
    hall = Node("hall", 10.0, 0.0, is_room=True)
    ways = [
        Link("to", OVER_SILL, ROOM, "hall", z_in=0.02, width=0.9),
        Link("from", OVER_SILL, "hall", ROOM, z_in=0.02, width=0.9),
        Link("out", OVER_SILL, "hall", OUTSIDE, z_in=0.3, width=0.9),
    ]
    assert kept(ways, 2.0, more=(hall,)).sill == near(0.1016)
    # 101 mm behind a door of 60 mm and one of 120 mm into the hall: the door decides
    ways = [replace(one, z_in=0.12) if one.name != "out" else one for one in ways]
    assert kept(ways, 2.0, sill=0.06, more=(hall,)).sill == near(0.1016)


@pytest.mark.parametrize(("flow", "bore"), [(3e-4, 2), (5e-4, 3), (2e-3, 6), (3.5e-3, None)])
def test_the_drain_that_keeps_a_hose_in(flow, bore):
    """Six hours of it behind a sill of 50 mm. Half open, half blocked, its grate as wide as its bore, its opening decides:
    0.67 · π/4 · D² · 0.25 · √(19.6133 · 0.05) = 3.36196e-4, 7.56441e-4, 1.344784e-3, 3.025763e-3 m³/s for 2, 3, 4, 6 in."""
    hose = Link("hose", SUPPLIED, MAINS, ROOM, flow=flow, until=6 * 3600.0)
    assert kept([hose], sill=0.05).drain == (None if bore is None else near(bore * INCH))


@pytest.mark.parametrize("needed", range(3, 13))
def test_the_least_that_keeps_all_in(monkeypatch, needed):
    """Of 3 to 11 the first that does, and none where 11 does not."""
    monkeypatch.setattr(contain, "anything_leaves", lambda network, events: events[0].changes["d"]["z_in"] < needed)
    runs = run(Network((floor(),), ()), [NOTHING_WRONG])
    found = contain._smallest(None, runs, 3, 11, lambda number: {"d": {"z_in": number}})
    assert found == (needed if needed <= 11 else None)


def tried(monkeypatch, needs, system, found=(None, None)):
    """What is asked of the sill and of the drain, where so much (m³) was to be held on 20 m² by doors of 20 and 60 mm."""
    seen = []

    def smallest(network, runs, low, high, changes):
        seen.append((names(runs), low, high, changes))
        return found[len(seen) - 1]

    monkeypatch.setattr(contain, "_smallest", smallest)
    links = (
        Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.02, width=0.9),
        Link("to", OVER_SILL, ROOM, "hall", z_in=0.06, width=0.9),
        Link("from", OVER_SILL, "hall", ROOM, z_in=0.06, width=0.9),
        Link("out", OVER_SILL, "hall", OUTSIDE, z_in=0.3, width=0.9),
        Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-3, until=1.0),
        Link(ADDED_DRAIN, DRAINED, ROOM, SEWER, False),
    )
    network = Network((floor(), Node("hall", 10.0, 0.0, is_room=True)), links)
    base = run(network, [NOTHING_WRONG])[0]
    runs = [
        replace(base, event=replace(NOTHING_WRONG, id=str(need)), leaves=leaves, need=need)
        for need, leaves in (*((need, 0.1) for need in needs), (50.0, 0.0))
    ]
    return contained(network, runs, system), seen


def names(runs):
    return [one.event.id for one in runs]


@pytest.mark.parametrize(
    ("need", "system", "low", "high"),
    [
        (0.61, "si", 3, 4),
        (0.1, "si", 3, 3),
        (8.0, "si", 3, 41),
        (99.0, "si", 3, 45),
        (1.0, "us", 2, 4),
        (99.0, "us", 2, 36),
    ],
)
def test_which_sills_are_tried(monkeypatch, need, system, low, high):
    """Above 20 mm: from 3 cm, or 1 in (two half inches). 0.61 m³ stand 30.5 mm: up to 4 cm; 8 m³ 400 mm: 41; 1 m³ 50 mm: four half inches; never
    more than 18 in, 45 cm or 36 half inches. Only what leaves is asked about."""
    answer, (sill, drain) = tried(monkeypatch, [0.05, need], system)
    assert sill[:3] == (["0.05", str(need)], low, high)
    assert drain[:3] == (["0.05", str(need)], 0, 3)
    assert (answer.sill, answer.drain, answer.already) == (None, None, False)


def test_sills_and_drains_as_changes(monkeypatch):
    """4 cm: the door that is lower, not those to the hall of 6, nor the hall's own way out. 3 in, half open and half blocked: π · 76.2 mm · 0.5 of rim,
    π/4 · 76.2² · 0.25 of opening."""
    answer, ((*_, sill), (*_, drain)) = tried(monkeypatch, [1.0], "si", (4, 1))
    assert sill(4) == {name: {"z_in": near(z)} for name, z in {"door": 0.04, "to": 0.06, "from": 0.06}.items()}
    assert sill(7) == {name: {"z_in": near(0.07)} for name in ("door", "to", "from")}
    (changes,) = drain(1).values()
    assert changes["on"]
    assert (changes["rim"], changes["opening"]) == near((0.1196947, 1.140092e-3), rel=1e-6)
    assert (answer.sill, answer.drain) == near((0.04, 0.0762))


def test_what_drains_take():
    """First: 50 + 4 mm of water over 110 mm, 40 % open, 30 % blocked: weir 5.038942e-3, opening 1.834764e-3, pipe of 50 mm at 1 % (Manning, n
    0.011) 9.614142e-4. Second, 20 mm, all open: weir 1.166119e-3, opening 2.084419e-4. Third, 300 mm under 2 mm, half blocked: weir
    6.996715e-5. Together 1.2398e-3."""
    drains = [
        Drain(bore="50 mm", grate="110 mm", open_share=0.4, blocked=0.3, slope=0.01, height="-4 mm"),
        Drain(bore="50 mm", grate="20 mm", open_share=1.0, blocked=0.0, slope=0.01),
        Drain(bore="50 mm", grate="300 mm", open_share=0.5, blocked=0.5, slope=0.01, height="48 mm"),
    ]
    found = drain_capacity(drains, 0.05)
    assert found.flow == near(9.614142e-4 + 2.084419e-4 + 6.996715e-5, rel=1e-6)
    assert found.governs == "pipe, opening, weir"
    assert len(found.values) == 3
    results = {line.symbol: line.result.value for line in found.steps}
    assert results == near(
        {
            "Q_weir_1": 5.038942e-3,
            "Q_open_1": 1.834764e-3,
            "Q_pipe_1": 9.614142e-4,
            "Q_weir_2": 1.166119e-3,
            "Q_open_2": 2.084419e-4,
            "Q_pipe_2": 9.614142e-4,
            "Q_weir_3": 6.996715e-5,
            "Q_open_3": 2.344971e-3,
            "Q_pipe_3": 9.614142e-4,
        },
        rel=1e-6,
    )
    depths = [line.inputs["d"].value for line in found.steps if "d" in line.inputs]
    assert depths == near([0.054, 0.054, 0.05, 0.05, 0.002, 0.002])
    assert (drain_capacity([], 0.05).flow, drain_capacity([], 0.05).values) == (0.0, ())


def test_lines_begin_with_those_of_the_event():
    """Two vessels burst, as the event's own line says; then a hose: of the largest way that is no burst the rate at first is said."""
    tank, other = Node("tank", 1.0, 0.5, 0.0, 0.6), Node("other", 1.0, 0.5, 0.0, 0.6)
    hose = Link("hose", SUPPLIED, MAINS, ROOM, flow=1e-4, until=1000.0)
    network = Network((tank, other, floor()), (hose,))
    line = step("V_0", "V_1 + V_2", {"V_1": 0.5, "V_2": 0.5}, 1.0)
    event = Event("e", "k", "s", "t", at_once={"tank": 0.5, "other": 0.5}, steps=(line,))
    found = run_lines(run(network, [event])[0], network, ROOM_30)
    assert found[0] is line
    assert found[1].note == "V_1: at once; V_2: hose"
    assert step_of(found, "Q_0")[0] == near(1e-4)


@pytest.mark.parametrize("table", [(), ((2.0, 0.0), (-9.0, 1e-3))])
def test_lines_of_a_pump(table):
    """By flow its rate is said; by a curve it changes from the first."""
    tank = Node("tank", 1.0, 0.5, 0.0, 0.6)
    pump = Link("pump", PUMPED, "tank", ROOM, flow=1e-3, table=table)
    network = Network((tank, floor()), (pump,))
    found = run_lines(run(network, [NOTHING_WRONG])[0], network, ROOM_30)
    assert [line.result.value for line in found if line.symbol == "Q_0"] == ([] if table else [1e-3])


def test_what_stays_in_by_itself():
    """0.9 m³ on 20 m² behind 50 mm. One that could not be followed to its end is no sure answer."""
    assert kept([], 0.9, sill=0.05) == Contained(None, None, already=True, sure=True)
    network = Network((Node("tank", 10.0, 10.0, 0.0, 1.0), floor()), (Link("d", OVER_SILL, ROOM, OUTSIDE, width=0.9),))
    one = run(network, [NOTHING_WRONG])[0]
    assert not contained(network, [one, replace(one, finished=False)]).sure


def test_what_a_pan_has_to_hold():
    """0.1 L/s for 1000 s into a tank with 0.02 m³ of room: 0.08 run over, of which the pan holds 1 m² · 60 mm; 0.02 run on. For 500 s
    0.03 run over, for 700 s 0.05. The most of them is 0.08; nothing of what comes by a hose onto the floor."""
    nodes = (Node("tank", 1.0, 0.48, 0.0, 0.5), Node("pan", 1.0, 0.0, 0.0, 0.06), floor())
    links = (
        Link("hose", SUPPLIED, MAINS, "tank", flow=1e-4, until=1000.0),
        Link("other", SUPPLIED, MAINS, ROOM, flow=1e-4, until=1000.0),
        Link("tank, over its rim", OVER_RIM, "tank", "pan"),
        Link("pan, over its rim", OVER_RIM, "pan", ROOM),
    )
    network = Network(nodes, links, (), {"tank": Catch("pan", 1.0, 1e-4, 0.1, 0.2)})
    events = [
        Event("short", "k", "s", "half as long", {"hose": {"until": 500.0}}),
        Event("middle", "k", "s", "a little longer", {"hose": {"until": 700.0}}),
        Event("long", "k", "s", "all of it"),
        Event("none", "k", "s", "nothing", {"hose": {"on": False}}),
    ]
    short, middle, long, none = run(network, events)
    assert dict(long.paths) == near({"pan, over its rim": 0.02, "other": 0.1}, rel=1e-6)
    assert dict(short.paths) == near({"other": 0.1}, rel=1e-6)
    (one,) = caught(network, [short, middle, long, none])
    assert (one.pan, one.event, one.volume) == ("pan", "all of it", near(0.08, rel=1e-6))
    (one,) = caught(network, [none])
    assert (one.event, one.volume) == ("", 0.0)


def step_of(lines, symbol):
    (one,) = [line for line in lines if line.symbol == symbol]
    return one.result.value, {name: number.value for name, number in one.inputs.items()}


ROOM_30 = RoomBasin(20.0, 0.03, 0.6, drain_capacity([], 0.03))


def test_lines_of_many_ways():
    """Eight hoses of 0.1 to 0.8 L/s for 1000 s: 3.6 m³, the six largest named, 0.2 + 0.1 more; a drain takes 1 L/s, 1.0 of them meanwhile;
    2.6 m³ were to hold, 20 m² · 30 mm = 0.6 are held. The largest brings 0.8 L/s at first."""
    hoses = tuple(Link(f"hose {n}", SUPPLIED, MAINS, ROOM, flow=n * 1e-4, until=1000.0) for n in range(1, 9))
    drain = Link("drain", DRAINED, ROOM, SEWER, rim=1e4, opening=1e4, pipe_flow=1e-3)
    network = Network((floor(),), (*hoses, drain))
    lines = run_lines(run(network, [NOTHING_WRONG])[0], network, ROOM_30)
    came, parts = step_of(lines, "V_came")
    assert came == near(3.6, rel=1e-6)
    assert parts == near(
        {"V_1": 0.8, "V_2": 0.7, "V_3": 0.6, "V_4": 0.5, "V_5": 0.4, "V_6": 0.3, "V_more": 0.3}, rel=1e-6
    )
    assert step_of(lines, "V_need") == (near(2.6, rel=1e-3), near({"V_came": 3.6, "V_drained": 1.0}, rel=1e-3))
    assert step_of(lines, "V_hold") == (near(0.6), near({"A": 20.0, "h_s": 0.03}))
    assert step_of(lines, "Q_0") == (near(8e-4), near({"Q": 8e-4}))
    # six and no more: nothing is left over
    six = Network((floor(),), hoses[:6])
    assert "V_more" not in step_of(run_lines(run(six, [NOTHING_WRONG])[0], six, ROOM_30), "V_came")[1]


def lines_of(link, z=1.4):
    """Of a vessel with water at 1.4 m, from which all comes by one link."""
    vessel = Node("v", 2.0, 2.0 * (z - 0.5), 0.5, 2.0)
    network = Network((vessel, floor(1e6)), (link,))
    return run_lines(run(network, [NOTHING_WRONG])[0], network, ROOM_30)


def test_lines_of_a_pipe():
    """As in test_water_by_hand: 0.9 m of head, 30 mm of steel, 4 m, K 3.2: f = 0.0326997, V = 1.528047 m/s · 7.068583e-4 m² = 1.080113e-3 m³/s
    (two passes: within 0.1 %). With 50 mm over its mouth of 0.2 m and 5e-4 m²: min(3.711873e-3, 3.317456e-4)."""
    pipe = Link("p", RUNS, "v", ROOM, True, 0.6, 0.5, 0.03, 4.0, 3.2, 0.00015, 9.0, 9.0)
    Q, sizes = step_of(lines_of(pipe), "Q_pipe")
    assert near(1.080113e-3, rel=1e-3) == Q
    assert sizes == near(
        {"A": 7.068583e-4, "g": 9.80665, "H": 0.9, "K": 3.2, "f": 0.0326997, "L": 4.0, "D": 0.03}, rel=2e-3
    )
    assert not any(line.symbol == "Q_mouth" for line in lines_of(pipe))
    narrow = replace(pipe, z_in=1.35, rim=0.2, opening=5e-4)
    Q, sizes = step_of(lines_of(narrow), "Q_mouth")
    assert near(3.317456e-4, rel=1e-6) == Q
    assert sizes == near({"C_w": 1.66, "P": 0.2, "d": 0.05, "C_o": 0.67, "A_m": 5e-4, "g": 9.80665})
    wider = replace(narrow, opening=1e-3)  # 0.67 · 1e-3 · √(19.6133 · 0.05) = 6.634912e-4, still less than the pipe
    assert step_of(lines_of(wider), "Q_mouth")[0] == near(6.634912e-4, rel=1e-6)
    short = lines_of(replace(pipe, length=0.8))
    assert [line.source for line in short if line.symbol == "Q_pipe"] == ["Darcy-Weisbach; f by Churchill 1977"]
    Q, sizes = step_of(short, "Q_pipe")
    assert sizes["L"] == near(0.8)
    assert 0.03 < sizes["f"] < 0.035
    assert math.sqrt(2 * 9.80665 * 0.9 / (3.2 + sizes["f"] * 0.8 / 0.03)) * sizes["A"] == near(Q)
    # as a siphon it is full from the start
    assert not any(line.symbol == "Q_mouth" for line in lines_of(replace(narrow, siphon=True)))


def test_lines_of_a_hole():
    """No length: Torricelli. 6.4516e-4 m², K 2.601457, 0.9 m: 6.4516e-4 · √(19.6133 · 0.9/2.601457) = 1.680567e-3."""
    hole = Link("h", RUNS, "v", ROOM, True, 0.5, 0.5, 0.02866083, 0.0, 2.601457, 0.0, 9.0, 9.0)
    Q, sizes = step_of(lines_of(hole), "Q_pipe")
    assert near(1.680567e-3, rel=1e-5) == Q
    assert sizes == near({"A": 6.4516e-4, "g": 9.80665, "H": 0.9, "K": 2.601457}, rel=1e-6)
    assert [line.source for line in lines_of(hole) if line.symbol == "Q_pipe"] == ["Torricelli; K = 1/C²"]


def test_lines_of_a_burst():
    """1.5 m², gravel 0.25 m deep, water to 0.29: 1.5 · (0.4 · 0.25 + 0.04) = 0.21 m³. Two vessels at once: no such line."""
    bed, tank = Node("bed", 1.5, 0.21, 0.7, 1.0, 0.4, 0.25), Node("tank", 1.0, 0.5, 0.0, 0.6)
    network = Network((bed, tank, floor()), ())
    one, both = run(
        network, [Event("e", "k", "s", "t", at_once=at_once) for at_once in ({"bed": 0.21}, {"bed": 0.21, "tank": 0.5})]
    )
    V, sizes = step_of(run_lines(one, network, ROOM_30), "V")
    assert near(0.21) == V
    assert sizes == near({"A": 1.5, "n": 0.4, "h_w": 0.29, "h_f": 0.25})
    assert not any(line.symbol == "V" for line in run_lines(both, network, ROOM_30))


def test_findings_of_a_rack():
    """Tank 28.274 ft³, bed 6 ft³, room 371.04 ft², 92.76 ft³ below its sill (test_spill). The tank bursts and the bed's 3.75 ft³ above its pipe
    follow: 32.024; the earthquake 34.274: 0.3452 and 0.3695 of it. That lies 0.092373 ft deep, 28.155 mm, and weighs 276.11 N/m²; planned is for
    40 lb/ft² = 1915.2: 0.1442."""
    known = assessed(RACK)
    single, quake, weight = (found(known, f"spill/{what}") for what in ("single", "earthquake", "weight"))
    assert single.capacity / FOOT**3 == near(92.76, abs=0.01)
    assert (single.demand / FOOT**3, single.ratio) == near((32.024, 0.3452), rel=5e-3)
    assert (quake.demand / FOOT**3, quake.ratio) == near((34.274, 0.3695), rel=2e-4)
    assert (weight.demand, weight.capacity, weight.ratio) == near((276.11, 1915.2, 0.14417), rel=2e-4)
    assert known.spill.pair is None
    assert not any(one.id == "spill/pair" for one in known.findings)
    spill = known.spill
    assert all(one.reached > 0 for one in spill.runs)
    assert [one.reached for one in spill.runs] == sorted((one.reached for one in spill.runs), reverse=True)
    assert spill.earthquake.event.id == "earthquake"
    # neither stands, so neither splashes: 34.274 ft³
    assert (spill.failing, spill.splashing, spill.splash_volume) == (("bed", "tank"), (), 0)
    assert spill.failing_volume / FOOT**3 == near(34.274, rel=1e-4)


def test_the_drain_of_a_weighed_tank():
    """50 gal over 48 · 18 in stand 339.548 mm: a torn seam lets 6.4516e-4 · √(19.6133 · 0.339548/2.601457) = 1.032251e-3 m³/s out at first.

    Its grate of 4 in, half open, half blocked, takes 0.67 · π/4 · 0.1016² · 0.25 · √(19.6133 · 0.0254) = 9.584828e-4 at the sill of 1 in.
    """
    drained = assessed(WEIGHED.replace("sill: 1 in", "sill: 1 in, drains: [{bore: 2 in, grate: 4 in}]"))
    one = found(drained, "spill/drains")
    assert (one.demand, one.capacity, one.ratio) == near((1.032251e-3, 9.584828e-4, 1.076964), rel=1e-4)
    assert one.verdict == "short"
    without = found(assessed(WEIGHED), "spill/drains")
    assert (without.verdict, without.demand) == ("not assessed", near(1.032251e-3, rel=1e-4))


def test_findings_of_pans():
    """24.086 ft³ pumped less 2.625 of room in the bed, 21.461 in 13 · 6 ft · 4 in = 26 ft³: 0.8254. 2 in high: 1.6508. Nothing runs into the other."""
    known = assessed(PANNED)
    one, other = found(known, "spill/pan under rack r"), found(known, "spill/pan under tank")
    assert (one.demand / FOOT**3, one.capacity / FOOT**3, one.ratio) == near((21.461, 26.0, 0.8254), rel=2e-4)
    assert one.reason == ""
    assert other.demand == 0
    low = found(assessed(PANNED.replace("height: 4 in", "height: 2 in")), "spill/pan under rack r")
    assert (low.ratio, low.verdict) == (near(1.6508, rel=2e-4), "short")
    assert "runs on" in low.reason


def test_what_is_carried_on():
    """The worst single mishap and the earthquake; each with clogged drains beside it; what would keep each in."""
    spill = assessed(RACK.replace("sill: 3 in,", "sill: 0.5 in, drains: [{bore: 2 in}],")).spill
    assert spill.worst in spill.singles
    assert spill.pair.event.id.endswith("drains clogged")
    assert spill.pair.event.kind not in ("earthquake", "slosh")
    assert spill.pair.leaves > spill.worst.leaves
    assert not any(one.event.pair or one.event.kind in ("earthquake", "slosh") for one in spill.singles)
    clogged = spill.clogged(spill.worst)
    assert clogged.event.id == f"{spill.worst.event.id}, drains clogged"
    assert spill.clogged(clogged) is None
    assert clogged not in spill.with_open_drains
    assert spill.worst in spill.with_open_drains
    assert list(spill.floods) == ["single", "earthquake"]
    kept_in = spill.contained("us")
    assert set(kept_in) == {"single", "earthquake"}
    assert 0.5 * INCH < kept_in["single"].sill <= kept_in["earthquake"].sill
    assert spill.contained("us") is kept_in


def test_the_lowest_sill_counts():
    """12 by 10 ft less 48 · 18 in: 114 ft². Next to a hall over 2 in, its own door 1 in: 1/12 ft · 114 = 9.5 ft³; without a door out 19 ft³."""
    hall = "next: [{name: hall, length: 10 ft, width: 6 ft, sill: 2 in}]"
    texts = ("sill: 1 in, door: 32 in, " + hall, "sill: 1 in, " + hall, "sill: 1 in")
    basins = [assessed(WEIGHED.replace("sill: 1 in", text)).spill.room for text in texts]
    assert [one.area / FOOT**2 for one in basins] == near([114.0] * 3)
    assert [one.sill / INCH for one in basins] == near([1.0, 2.0, 1.0])
    assert [one.held / FOOT**3 for one in basins] == near([9.5, 19.0, 9.5])


def test_a_slab_on_the_ground_carries_what_lies_on_it():
    """17.871 mm (as below) weigh 9806.65 · 0.017871 = 175.26 N/m²; nothing says what the floor is planned for."""
    one = found(assessed(WEIGHED), "spill/weight")
    assert (one.verdict, one.demand) == ("not assessed", near(175.26, rel=1e-4))
    assert {name: number.value for name, number in one.steps[0].inputs.items()} == near(
        {"rho_g": 9806.65, "d": 0.017871}, rel=1e-4
    )


def test_two_mishaps_that_are_no_worse_than_one():
    """The power fails and the check valve sticks: 0.608 ft³ (test_spill); a burst alone is worse."""
    text = RACK.replace("deck_height: 26 in", "deck_height: 40 in").replace(
        "outlet: 3 in}", "outlet: 3 in, check_valve: yes}"
    )
    spill = assessed(text).spill
    assert any(one.event.id == "power cut, unguarded/pump" for one in spill.runs)
    assert spill.pair is None


def test_floors_that_get_wet():
    """50 gal on 114 ft²: 6.684 ft³ stand 0.05863 ft, 17.871 mm, deep; over 1/4 in part of it goes into a hall of 60 ft², that stays drier."""
    hall = "sill: 1 in, next: [{name: hall, length: 10 ft, width: 6 ft, sill: 0.25 in}]"
    known = assessed(WEIGHED.replace("sill: 1 in", hall))
    flood = floods(known.spill, known.installation)["single"]
    here, there = flood.wet
    assert (flood.volume / GALLON, flood.leaves) == near((50.0, 0.0), rel=1e-6)
    assert (here.area / FOOT**2, here.depth, here.here) == (near(114.0), near(0.017871, rel=1e-3), True)
    assert (there.room, there.area / FOOT**2, there.here) == ("hall", near(60.0), False)
    # in the end both floors lie alike: (6.684 ft³)/(174 ft²) = 11.709 mm; the hall holds 60 ft² of that at most at any time
    assert there.depth == near(0.011709, rel=0.02)
    dry_hall = assessed(WEIGHED.replace("sill: 1 in", hall.replace("0.25 in", "0.8 in")))
    assert len(floods(dry_hall.spill, dry_hall.installation)["single"].wet) == 1


def test_sockets_against_the_deepest_water():
    """17.871 mm (as above): one at 12 mm gets wet at once, one on the floor too; one at 19 mm stays dry: 0.9406 of its height."""
    sockets = "sockets: [{name: low, height: 12 mm}, {name: high, height: 19 mm}, {name: floor, height: 0 mm}]"
    known = assessed(WEIGHED.replace("sill: 1 in", f"sill: 1 in, {sockets}"))
    low, high, on_floor = (found(known, f"spill/socket/{name}") for name in ("low", "high", "floor"))
    assert (low.demand, low.capacity, low.ratio) == near((0.017871, 0.012, 1.4893), rel=1e-3)
    assert low.reason == "wet at once at the earliest"
    assert (high.ratio, high.reason) == (near(0.9406, rel=1e-3), "")
    assert (on_floor.verdict, on_floor.capacity) == ("short", 0.0)
    (line,) = high.steps
    assert line.result.value == near(0.017871, rel=1e-3)
    assert {name: number.value for name, number in line.inputs.items()} == near(
        {"V_d": 50 * GALLON, "A": 114 * FOOT**2}, rel=1e-3
    )


def test_a_network_that_spills_by_itself():
    """600 gal/h into a bed whose return, half an inch wide, takes less at the rim: what reaches the floor, against none."""
    text = (
        RACK + "pipes:\n  - {name: q, from: bed, to: tank, bore: 1/2 in, intake: 8 in, outlet: 28 in, length: 4 ft}\n"
    )
    one = found(assessed(text), "spill/as described")
    run_of_it = next(run for run in assessed(text).spill.runs if run.event.id == "as described")
    assert (one.demand, one.capacity, one.verdict) == (run_of_it.reached, 0.0, "short")
    assert one.demand > 0.1
    assert not any(finding.id == "spill/as described" for finding in assessed(RACK).findings)
