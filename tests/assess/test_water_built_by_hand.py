"""The water network of a file, every height, bore and share of it worked out by hand; and pans."""

import math
from dataclasses import astuple, fields

import pytest

from brimfast.assess.network.build import free_floor
from brimfast.assess.network.faults import faults
from brimfast.assess.network.model import (
    HOUSE,
    MAINS,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    PUMPED,
    RETURNED,
    ROOM,
    RUNS,
    SUPPLIED,
    Catch,
    Link,
    Node,
)
from brimfast.assess.network.pans import catches, fastest, pan_volume, seam_throw, throw_step
from tests.builders import RACK, dry

near = pytest.approx

TEXT = """
installation: t
units: si
site: {standard: asce7-16, S_DS: 1.0}
room:
  length: 6 m
  width: 4 m
  sill: 120 mm
  door: 800 mm
  drains:
    - {bore: 50 mm, grate: 110 mm, open_share: 40 %, blocked: 30 %, slope: 1 %, height: -4 mm, backs_up_after: 300 L}
  next: [{name: hall, length: 3 m, width: 1.5 m, door: 700 mm, sill: 20 mm}]
vessels:
  - {name: sump, kind: tank, length: 1.2 m, width: 0.8 m, depth: 600 mm, water: 450 mm}
  - name: bed
    kind: bed
    length: 1.5 m
    width: 1 m
    depth: 300 mm
    water: 200 mm
    fill: gravel
    fill_depth: 250 mm
    stand: {height: 700 mm}
  - {name: barrel, kind: tank, mass: 150 kg, centre_of_mass: 400 mm, footprint: 0.6 m x 0.5 m, holds: 90 L}
pumps:
  - name: lift
    from: sump
    to: bed
    curve: [0 L/h at 5 m, 2268 L/h at 4 m, 4320 L/h at 1 m]
    intake: 50 mm
    outlet: 270 mm
    pipe: 25 mm
    length: 6 m
    bends: 3
    material: steel
    check_valve: yes
    float_switch: yes
pipes:
  - name: return
    from: bed
    to: sump
    bore: 60 mm
    intake: 180 mm
    outlet: 650 mm
    length: 2 m
    bends: 4
    blocked: 40 %
    material: steel
  - name: waste
    from: bed
    to: house drain
    bore: 40 mm
    intake: 30 mm
    starts_at: 220 mm
    outlet: 100 mm
    length: 3 m
    bends: 1
    passes: wall
supplies:
  - {name: tap, to: sump, flow: 6 L/min, unattended: 2 h, float_valve: yes}
"""


def links(text=TEXT):
    return {link.name: link for link in dry(text).question.network.links}


def events(text=TEXT):
    return {event.id: event for event in dry(text).question.events}


def test_vessels_and_floors():
    """Bed: 1.5 m² · 0.4 · 0.2 = 0.12 m³, its base at 0.7, its rim at 1.0 m. The barrel, only weighed, is a column of 90 L over
    0.6 · 0.5 m: 0.3 m. Floor: 6 · 4 less sump 1.21905 · 0.81905, bed 1.5762 · 1.0762 (walls 3/8 and 1 1/2 in) and barrel: 21.00523."""
    network = dry(TEXT).question.network
    expected = {
        "sump": Node("sump", 0.96, 0.432, 0.0, 0.6),
        "bed": Node("bed", 1.5, 0.12, 0.7, 1.0, 0.4, 0.25),
        "barrel": Node("barrel", 0.3, 0.09, 0.0, 0.3),
        ROOM: Node(ROOM, 21.00523, 0.0, is_room=True),
        "hall": Node("hall", 4.5, 0.0, is_room=True),
    }
    assert [node.name for node in network.nodes] == list(expected)
    for node in network.nodes:
        assert astuple(node)[1:] == near(astuple(expected[node.name])[1:], rel=1e-6), node.name
    assert [node.name for node in network.vessels] == ["sump", "bed", "barrel"]
    assert network.notes == ()


def test_heights_in_pores_and_above():
    """1.5 m², porosity 0.4 up to 0.25 m: 0.15 m³ in the pores; 0.12 m³ stand 0.12/0.6 = 0.2 up, 0.21 m³ 0.25 + 0.06/1.5 = 0.29."""
    bed = Node("bed", 1.5, 0.12, 0.7, 1.0, 0.4, 0.25)
    assert [bed.level(V) for V in (0.0, 0.12, 0.15, 0.21)] == near([0.7, 0.9, 0.95, 0.99])
    assert [bed.volume(z) for z in (0.3, 0.9, 0.95, 0.99)] == near([0.0, 0.12, 0.15, 0.21])


def test_a_pump_with_its_pipe():
    """Intake 0.05, outlet 0.7 + 0.27. The switch stops it 1 cm below the rim at 1.0 m, 3 cm lower it starts again.

    Steel 0.15 mm, entrance, exit, three bends, valve: 0.5 + 1 + 2.7 + 2 = 6.2. At 1.2 L/s of 1 m 4.35943 are lost, at 0.63 of 4 1.22639
    (see test_water_by_hand). As a siphon its valve does not count: 4.2.
    """
    link = links()["lift"]
    assert (link.kind, link.source, link.target, link.on) == (PUMPED, "sump", "bed", True)
    assert (link.z_in, link.z_out, link.stops_at, link.again_at) == near((0.05, 0.97, 0.99, 0.96))
    heads = {round(flow * 1e6, 6): head for head, flow in link.table}
    assert [heads[at] for at in (0.0, 630.0, 1200.0)] == near([5.0, 2.773615, -3.359435], rel=1e-6)
    ends = {
        "lift, back": ("bed", "sump", 0.97, 0.05),
        "lift, on": ("sump", "bed", 0.05, 0.97),
        "lift, back to the floor": ("bed", ROOM, 0.97, 0.0),
    }
    for name, (source, target, z_in, z_out) in ends.items():
        one = links()[name]
        assert (one.kind, one.source, one.target, one.on, one.siphon) == (RUNS, source, target, False, True)
        pipe = (one.z_in, one.z_out, one.bore, one.length, one.losses, one.roughness)
        assert pipe == near((z_in, z_out, 0.025, 6.0, 4.2, 0.00015))
    assert link.flow == near(1.2e-3)


@pytest.mark.parametrize(
    ("water", "stop"), [("200 mm", 0.99), ("284 mm", 0.992), ("300 mm", 0.99)], ids=["room", "little", "none"]
)
def test_where_a_float_switch_stops(water, stop):
    """1 cm below the rim at 1.0 m; half way to it where less than 2 cm are left (1.6: at 0.992); 3 cm lower it starts again."""
    one = links(TEXT.replace("water: 200 mm", f"water: {water}"))["lift"]
    assert (one.stops_at, one.again_at) == near((stop, stop - 0.03))


def test_a_pump_of_which_little_is_known():
    """A pipe of 1 in and 1 m, two bends: K 3.3; open in the bottom; what it brings to 0.7 + 0.2 m runs back."""
    part = TEXT[TEXT.index("pipes:") : TEXT.index("supplies:")]
    text = TEXT.replace(part, "").replace(TEXT[TEXT.index("    curve:") : TEXT.index("pipes:")], "    flow: 360 L/h\n")
    found = links(text)
    one, back = found["lift, back"], found["lift, way back"]
    assert (one.bore, one.length, one.losses, one.z_in, one.z_out) == near((0.0254, 1.0, 3.3, 0.7, 0.0))
    assert (found["lift"].flow, found["lift"].table) == (near(1e-4), ())
    assert math.isnan(found["lift"].stops_at) and math.isnan(found["lift"].again_at)
    assert (back.kind, back.source, back.target, back.follows) == (RETURNED, "bed", "sump", "lift")
    assert back.z_in == near(0.9)
    bore, runs_back = dry(text).question.network.notes
    assert "1 in" in bore
    assert "runs back" in runs_back or "run back" in runs_back


PIPE = {
    "return": ("bed", "sump", True, 0.88, 0.65, False),
    "return, broken above": ("bed", ROOM, False, 0.7, 0.7, False),
    "return, broken below": ("bed", ROOM, False, 0.88, 0.65, False),
    "return, back": ("sump", "bed", True, 0.88, 0.88, False),
    "waste": ("bed", HOUSE, False, 0.73, 0.1, True),
    "waste, broken above": ("bed", ROOM, False, 0.73, 0.73, False),
    "waste, broken below": ("bed", ROOM, False, 0.73, 0.1, False),
}


@pytest.mark.parametrize("name", PIPE)
def test_pipes_whole_and_broken(name):
    """60 mm, 60 % of it free: bore 60 √0.6 = 46.4758 mm, rim π · 0.06 · 0.6 = 0.113097 m, opening π/4 · 0.06² · 0.6 = 1.696460e-3 m²;
    four bends: 0.5 + 1 + 3.6 = 5.1. 40 mm, all free: 0.125664 m, 1.256637e-3 m²; one bend: 2.4. Heights: 0.7 + 0.18, 0.65;
    0.7 + 0.03, 0.1. Broken above it leaves at the bottom, 0.7, the other by the wall, at its intake. Backwards over the higher end."""
    one = links()[name]
    assert (one.source, one.target, one.on, one.z_in, one.z_out, one.siphon) == (
        *PIPE[name][:3],
        near(PIPE[name][3]),
        near(PIPE[name][4]),
        PIPE[name][5],
    )
    wide = name.startswith("return")
    sizes = (
        (0.0464758, 2.0, 5.1, 0.00015, 0.113097, 1.69646e-3)
        if wide
        else (0.04, 3.0, 2.4, 1.5e-6, 0.125664, 1.256637e-3)
    )
    assert (one.bore, one.length, one.losses, one.roughness, one.rim, one.opening) == near(sizes, rel=3e-6)
    assert one.starts == near(0.92 if name == "waste" else math.nan, nan_ok=True)


def test_which_pipes_lead_back():
    """None with a valve, none that only starts as a siphon, none to the house drain. The valve adds 2.0 to 5.1."""
    assert "waste, back" not in links()
    valved = links(TEXT.replace("blocked: 40 %", "blocked: 40 %\n    check_valve: yes"))
    assert "return, back" not in valved
    assert valved["return"].losses == near(7.1)
    assert valved["return, broken above"].losses == near(5.1)
    assert "return, back" not in links(TEXT.replace("blocked: 40 %", "blocked: 40 %\n    starts_at: 190 mm"))


def test_supplies_and_seams():
    """6 L/min for 2 h up to 0.45 m. A hole of 1 in² = 6.4516e-4 m²: √(4 · 6.4516e-4/π) = 28.66083 mm, rim π times that = 90.0407 mm;
    C 0.62: K = 1/0.62² = 2.601457."""
    found = links()
    for name, target, on in (("tap", "sump", True), ("tap, torn", ROOM, False)):
        one = found[name]
        assert (one.kind, one.source, one.target, one.on, one.float_valve) == (SUPPLIED, MAINS, target, on, on)
        assert (one.z_in, one.flow, one.until) == near((0.45, 1e-4, 7200.0))
    for name, base in (("sump", 0.0), ("bed", 0.7)):
        seam = found[f"{name}, torn seam"]
        assert (seam.source, seam.target, seam.on, seam.siphon) == (name, ROOM, False, False)
        sizes = (seam.z_in, seam.z_out, seam.bore, seam.length, seam.losses, seam.roughness, seam.rim, seam.opening)
        assert sizes == near((base, base, 0.02866083, 0.0, 2.601457, 0.0, 0.0900407, 6.4516e-4), rel=1e-6)


def test_doors_and_drains():
    """Out of the hall only deeper than 1 ft, through 36 in; the drain as in test_water_by_hand, backed up after 300 L."""
    found = links()
    ways = {name: (one.source, one.target, one.z_in, one.width) for name, one in found.items() if one.kind == OVER_SILL}
    assert {name: way[:2] for name, way in ways.items()} == {
        "the door": (ROOM, OUTSIDE),
        "other ways out of hall": ("hall", OUTSIDE),
        "door to hall": (ROOM, "hall"),
        "door from hall": ("hall", ROOM),
    }
    sizes = [size for name in ways for size in ways[name][2:]]
    assert sizes == near([0.12, 0.8, 0.3048, 0.9144, 0.02, 0.7, 0.02, 0.7])
    drain = found["drain 1 of the room"]
    assert (drain.z_in, drain.takes, drain.rim, drain.opening, drain.pipe_flow) == near(
        (-0.004, 0.3, 0.2419026, 0.002660929, 9.614142e-4), rel=1e-6
    )
    endless = links(TEXT.replace(", backs_up_after: 300 L", ""))["drain 1 of the room"]
    assert endless.takes == math.inf


def test_a_door_is_36_in_wide_and_there_where_no_room_is_next():
    bare = TEXT.replace("  door: 800 mm\n", "")
    assert "the door" not in links(bare)
    assert len(dry(bare).question.network.notes) == 1
    other = links(bare)["other ways out"]
    assert (other.source, other.target, other.z_in, other.width) == (ROOM, OUTSIDE, near(0.3048), near(0.9144))
    alone = links(bare.replace("  next: [{name: hall, length: 3 m, width: 1.5 m, door: 700 mm, sill: 20 mm}]\n", ""))
    assert (alone["the door"].z_in, alone["the door"].width) == near((0.12, 0.9144))


def same(changes, expected):
    """NaN is NaN."""
    return repr(changes) == repr(expected)


OFF = {"on": False, "stops_at": math.nan, "again_at": math.nan}
SHUT = {"on": False, "starts": math.nan}
TO_THE_FLOOR = {"target": ROOM, "z_out": 0.0, "stops_at": math.nan, "again_at": math.nan, "bare": False}
TORN_OFF = {"tap": {"on": False}, "tap, torn": {"on": True}}
CHANGES = {
    "as described": {},
    "rupture/sump": {"lift, back": {"target": ROOM}, "return": {"target": ROOM}, **TORN_OFF},
    "tear/sump": {"sump, torn seam": {"on": True}},
    "tear/bed": {"bed, torn seam": {"on": True}},
    "rupture/bed": {"lift": TO_THE_FLOOR, "lift, on": {"target": ROOM}, "return, back": {"target": ROOM}},
    "line off/lift": {"lift": TO_THE_FLOOR},
    "line torn/lift": {"lift": {**TO_THE_FLOOR, "bare": True}, "lift, back to the floor": {"on": True}},
    "power cut": {"lift": OFF, "lift, on": {"on": True}},
    "power cut, unguarded/lift": {"lift": OFF, "lift, on": {"on": True}, "lift, back": {"on": True}},
    "clogged/waste": {"waste": SHUT},
    "sheared above/return": {"return": SHUT, "return, broken above": {"on": True}},
    "sheared below/return": {"return": SHUT, "return, broken below": {"on": True}},
    "sheared below/waste": {"waste": SHUT, "waste, broken below": {"on": False, "siphon": True, "starts": 0.92}},
    "supply/tap": {"tap": {"on": True, "float_valve": False}},
    "supply off/tap": TORN_OFF,
    "runs on/lift": {"return": SHUT, "waste": SHUT, "lift": {"stops_at": math.nan, "again_at": math.nan}},
    "as described, drains clogged": {"drain 1 of the room": {"on": False}},
}


@pytest.mark.parametrize("id", CHANGES)
def test_what_each_mishap_changes(id):
    event = events()[id]
    assert same(dict(event.changes), CHANGES[id])
    assert event.pair == (id.startswith(("runs on", "power cut, un")) or "clogged" in id.partition(",")[2])
    assert dict(event.at_once) == near(
        {id[8:]: {"sump": 0.432, "bed": 0.12}[id[8:]]} if id.startswith("rupture") else {}
    )


def test_which_mishaps_there_are():
    """One pump alone does not stop while others run; with a switch it does not run on by one mishap; the sump has no other way out."""
    found = {id for id in events() if not id.endswith("drains clogged")}
    each = {f"{what}/{name}" for what in ("rupture", "tear") for name in ("sump", "bed", "barrel")}
    pipes = {f"{what}/{name}" for what in ("clogged", "sheared above", "sheared below") for name in ("return", "waste")}
    rest = {
        "as described",
        "line off/lift",
        "line torn/lift",
        "power cut",
        "supply/tap",
        "supply off/tap",
        "earthquake",
    }
    assert found == each | pipes | rest | {"runs on/lift", "power cut, unguarded/lift", "slosh/sump"}
    assert sum(id.endswith("drains clogged") for id in events()) == len(found)
    assert events()["earthquake"].at_once == near({"sump": 0.432, "bed": 0.12, "barrel": 0.09})
    assert events()["earthquake"].volume == near(0.642)


def test_what_an_earthquake_changes():
    """Nothing holds water, so nothing is pumped, and all that still runs reaches the floor; the supply is torn off."""
    changes = dict(events()["earthquake"].changes)
    assert same(changes.pop("lift"), OFF)
    onto = ("lift, back", "lift, on", "return", "return, back")
    assert changes == {**{name: {"target": ROOM} for name in onto}, **TORN_OFF}


def test_an_unguarded_pump():
    """No hole, no valve: it siphons back when it stops, when its sump tears and it draws air, and onto the floor when that bursts."""
    found = events(TEXT.replace("    check_valve: yes\n", ""))
    after = {"lift, back": {"after": "lift"}}
    assert same(dict(found["power cut"].changes), {"lift": OFF, "lift, on": {"on": True}, "lift, back": {"on": True}})
    assert same(dict(found["tear/sump"].changes), {"sump, torn seam": {"on": True}} | after)
    assert same(dict(found["tear/bed"].changes), {"bed, torn seam": {"on": True}})
    burst = dict(found["rupture/sump"].changes)
    assert same(burst.pop("lift"), OFF)
    assert burst.pop("lift, back") == {"target": ROOM, "on": True, "z_out": 0.0}
    assert burst == {"return": {"target": ROOM}, **TORN_OFF}
    assert "power cut, unguarded/lift" not in found
    holed = events(TEXT.replace("check_valve: yes", "anti_siphon: yes"))
    assert same(dict(holed["power cut"].changes), {"lift": OFF})
    assert same(dict(holed["line torn/lift"].changes), {"lift": {**TO_THE_FLOOR, "bare": True}})


def test_a_pump_without_a_switch_or_a_known_way_back():
    """It runs on when all that runs out clogs, a single mishap; where nothing is known of how the water runs back, that goes with the pump."""
    one = events(TEXT.replace("    float_switch: yes\n", ""))
    assert not one["return clogged/lift"].pair
    assert same(dict(one["return clogged/lift"].changes), {"return": SHUT, "waste": SHUT})
    assert "runs on/lift" not in one
    part = TEXT[TEXT.index("pipes:") : TEXT.index("supplies:")]
    bare = events(TEXT.replace(part, ""))
    gone = {"lift, way back": {"on": False}}
    assert same(dict(bare["line off/lift"].changes), {"lift": TO_THE_FLOOR} | gone)
    assert dict(bare["rupture/sump"].changes) == {"lift, back": {"target": ROOM}, **TORN_OFF}
    assert same(dict(bare["power cut"].changes), {"lift": OFF} | gone | {"lift, on": {"on": True}})
    assert same(dict(bare["runs on/lift"].changes), gone | {"lift": {"stops_at": math.nan, "again_at": math.nan}})


def test_a_supply_into_a_vessel_with_a_way_out():
    """Both may fail at once: it runs on, and what runs out clogs."""
    found = events(TEXT.replace("name: tap, to: sump", "name: tap, to: bed"))
    one = found["supply clogged/tap"]
    assert one.pair
    assert same(dict(one.changes), {"return": SHUT, "waste": SHUT, "tap": {"on": True, "float_valve": False}})
    assert "supply clogged/tap" not in events()


def test_two_pumps_stop_one_by_one_and_lead_back():
    second = (
        "  - {name: down, from: bed, to: sump, flow: 360 L/h, intake: 20 mm, outlet: 590 mm, anti_siphon: yes}\npipes:"
    )
    text = TEXT.replace("pipes:", second, 1)
    found = events(text)
    assert same(dict(found["stops/lift"].changes), {"lift": OFF, "lift, on": {"on": True}})
    assert same(dict(found["stops/down"].changes), {"down": OFF})
    assert {"lift", "down", "lift, back", "down, back"} <= set(links(text))
    both = {"lift": OFF, "lift, on": {"on": True}, "down": OFF}
    assert same(dict(found["power cut"].changes), both)
    # both bring nothing more to what bursts, but the floor
    burst = dict(
        events(text.replace("from: bed, to: sump, flow", "from: barrel, to: bed, flow"))["rupture/bed"].changes
    )
    assert {"lift", "down", "lift, on", "return, back"} <= set(burst)
    # without a hole the second draws the bed dry where the return shears off, and siphons back into it
    free = events(text.replace("anti_siphon: yes", "anti_siphon: no"))
    assert dict(free["sheared above/return"].changes)["down, back"] == {"after": "down"}
    assert "down, back" not in free["sheared below/return"].changes
    part = text[text.index("pipes:") : text.index("supplies:")]
    assert not any(link.kind == RETURNED for link in links(text.replace(part, "")).values())
    assert len(faults(dry(text).installation, dry(text).question.network)) > 20


PANS = TEXT.replace("water: 450 mm}", "water: 450 mm, pan: {length: 1.8 m, width: 1.3 m, height: 60 mm}}")


def test_a_pan_under_a_tank():
    """1.8 · 1.3 m less 1.21905 · 0.81905 = 1.341537 m², 60 mm high: 0.0804922 m³. (1.3 − 0.81905)/2 = 0.240475 m beyond it.

    The most that comes: 0.1 L/s, 1.2 of the pump's none (it leads away), the return under 1.0 − 0.65 = 0.35 m (K 5.1, opening 1.69646e-3:
    1.69646e-3 · √(19.6133 · 0.35/5.1) = 1.96818e-3) or that and the pipe of the pump as a siphon under 1.0 − 0.05 = 0.95 m (K 4.2, π/4 · 0.025²
    = 4.90874e-4: · √(19.6133 · 0.95/4.2) = 1.03391e-3): 3.00210e-3, and the supply: 3.10210e-3 m³/s. Over 0.1 m of rim 0.6 m up:
    ∛(9.80665 · 0.0310210) · √(1.2/9.80665) = 0.672552 · 0.349808 = 0.235264 m: caught. A jet flies 0.45 m: not caught.
    """
    network = dry(PANS).question.network
    pan = network.node("pan under sump")
    assert (pan.area, pan.rim, pan.base, pan.start) == near((1.341537, 0.06, 0.0, 0.0), rel=1e-6)
    volume, line = pan_volume(pan)
    assert (volume, line.result.value) == near((0.0804922, 0.0804922), rel=1e-6)
    one = network.catches["sump"]
    assert (one.fastest, one.over_rim, one.seam) == near((3.10210e-3, 0.235264, 0.45), rel=1e-5)
    assert one.overflow
    assert not one.torn_seam
    found = links(PANS)
    assert found["sump, over its rim"].target == "pan under sump"
    assert found["sump, torn seam"].target == ROOM
    assert found["bed, over its rim"].target == ROOM
    wide = links(
        PANS.replace("length: 1.8 m, width: 1.3 m", "length: 2.3 m, width: 1.9 m")
    )  # 0.54 m beyond: the jet too
    assert wide["sump, torn seam"].target == "pan under sump"
    assert (found["pan under sump, over its rim"].kind, found["pan under sump, over its rim"].target) == (
        OVER_RIM,
        ROOM,
    )
    assert network.node(ROOM).area == near(21.00523 - 1.341537, rel=1e-6)
    step = throw_step(network.node("sump"), one)
    assert step.result.value == near(0.235264, rel=1e-5)
    assert {name: number.value for name, number in step.inputs.items()} == near(
        {"g": 9.80665, "Q": 3.10210e-3, "b": 0.1, "y": 0.6}, rel=1e-5
    )


def test_the_most_that_can_run_into_a_vessel():
    """Supplies 1e-4 and 2e-4; pumps 5e-4 and the most of a curve, 9e-4; an open pipe under 1.0 − 0.4 = 0.6 m, K 2.5, 1e-3 m²:
    1e-3 · √(19.6133 · 0.6/2.5) = 2.16960e-3; a siphon (K counts as 1 at least) under 0.8: 2e-4 · √(19.6133 · 0.8) = 7.92226e-4; one from
    lower down brings none. Pumps and open pipe 3.56960e-3 are more than all pipes, 2.96183e-3: 3.86960e-3 with the supplies.
    Without the pumps the siphon counts: 3e-4 + 2.96183e-3 = 3.26183e-3."""
    vessel = Node("v", 1.0, 0.1, 0.0, 0.5)
    high = Node("high", 1.0, 0.5, 0.3, 1.0)
    ways = [
        Link("a", SUPPLIED, MAINS, "v", flow=1e-4),
        Link("b", SUPPLIED, MAINS, "v", flow=2e-4),
        Link("c", PUMPED, "high", "v", flow=5e-4),
        Link("d", PUMPED, "high", "v", flow=1e-4, table=((3.0, 0.0), (1.0, 9e-4), (-1.0, 8e-4))),
        Link("e", RUNS, "high", "v", z_out=0.4, opening=1e-3, losses=2.5),
        Link("f", RUNS, "high", "v", on=False, z_out=0.2, opening=2e-4, losses=0.7),
        Link("g", RUNS, "high", "v", z_out=1.3, opening=1.0, losses=2.0),
        Link("h", RUNS, "high", ROOM, z_out=0.0, opening=1.0, losses=2.0),
    ]
    each = {"v": vessel, "high": high}
    assert fastest(vessel, each, ways) == near(3.8696e-3, rel=1e-5)
    assert fastest(vessel, each, [way for way in ways if way.kind != PUMPED]) == near(3.26183e-3, rel=1e-5)


def test_a_high_jet_and_one_from_the_bottom():
    """0.6 m of water 0.2 above the pan: 0.8 m; 0.3 m of water 0.9 above it, from the bottom 2 √0.27 = 1.03923 m; either at 0.3: 0.6."""
    assert seam_throw([0.6, 0.3, 0.3], [0.2, 0.9, 0.3]) == near([0.8, 1.03923, 0.6], rel=1e-5)


def test_a_pan_that_reaches_just_so_far_catches():
    assert Catch("p", 0.24, 1e-3, 0.24, 0.25).overflow
    assert not Catch("p", 0.24, 1e-3, 0.24, 0.25).torn_seam
    assert Catch("p", 0.25, 1e-3, 0.26, 0.25).torn_seam
    assert {one.name for one in fields(Catch)} == {"pan", "margin", "fastest", "over_rim", "seam"}


def test_a_vessel_that_stands_up_off_its_pan():
    """0.3 m of water, its base 0.4 up, rim 1.0 up: nothing runs in, so nothing flies over; a jet from the bottom 2 √0.12 = 0.69282 m."""
    vessel = Node("v", 2.0, 0.6, 0.4, 1.0)
    pan = Node("pan", 1.0, 0.0, 0.0, 0.1)
    one = catches({"pan": (pan, 0.5, ("v",))}, {"v": vessel}, [])["v"]
    assert (one.margin, one.fastest, one.over_rim, one.seam) == near((0.5, 0.0, 0.0, 0.692820), rel=1e-5)


def test_a_pan_under_a_stand():
    """A stand of 1.5 · 0.9 m is larger than the sump, 1.21905 · 0.81905: (1.8 − 1.5)/2 = 0.15 m at its ends, (1.3 − 0.9)/2 = 0.2 at its sides."""
    text = PANS.replace("pan: {", "stand: {height: 100 mm, footprint: 1.5 m x 0.9 m}, pan: {")
    assert dry(text).question.network.catches["sump"].margin == near(0.15)


def test_a_pan_no_larger_than_its_tank():
    """1.2 · 0.8 m is what the tank takes inside, less than its walls: nothing is free; a hundredth of it, 0.0096 m², counts."""
    text = PANS.replace("length: 1.8 m, width: 1.3 m", "length: 1.2 m, width: 0.8 m")
    assert dry(text).question.network.node("pan under sump").area == near(0.0096)


def test_a_rack_that_comes_down():
    """22.5 ft² · 8 in · 0.4 = 6 ft³ = 0.169901 m³ of the bed at once; what the pump brings to it reaches the floor; the tank stands."""
    one = events(RACK)["collapse/r"]
    assert {"as described", "rupture/bed", "tear/tank", "power cut", "line off/pump"} <= set(events(RACK))
    assert one.at_once == near({"bed": 0.169901}, rel=1e-5)
    assert same(
        dict(one.changes), {"pump": TO_THE_FLOOR, "pump, way back": {"on": False}, "pump, on": {"target": ROOM}}
    )
    assert not one.pair
    tank = RACK.replace("name: bed, kind: bed, on: r, length: 9 ft", "name: bed, kind: bed, on: floor, length: 9 ft")
    assert "collapse/r" not in events(tank)


def test_ways_into_a_vessel_that_stands_up():
    """The sump on a stand of 100 mm: intake 0.15, the return's end 0.75, the seam 0.1, the supply up to 0.55 m."""
    found = links(
        TEXT.replace("depth: 600 mm, water: 450 mm}", "depth: 600 mm, water: 450 mm, stand: {height: 100 mm}}")
    )
    heights = (
        found["lift"].z_in,
        found["lift, back"].z_out,
        found["return"].z_out,
        found["sump, torn seam"].z_in,
        found["tap"].z_in,
    )
    assert heights == near((0.15, 0.15, 0.75, 0.1, 0.55))


def test_pumps_that_do_not_lead_back():
    """From the sump into the bed, from a tank into the sump: neither bed nor sump leads back to where its pump draws; a third, from the bed
    into that tank, closes the round for all."""
    part = TEXT[TEXT.index("pipes:") : TEXT.index("supplies:")]
    tank = "  - {name: tank, kind: tank, length: 1 m, width: 0.5 m, depth: 500 mm, water: 300 mm}\npumps:"
    side = "  - {name: side, from: tank, to: sump, flow: 360 L/h}\nsupplies:"
    text = TEXT.replace(part, "").replace("pumps:", tank).replace("supplies:", side)

    def back(text):
        return {name for name, one in links(text).items() if one.kind == RETURNED}

    assert back(text) == {"lift, way back", "side, way back"}
    assert back(text.replace("supplies:", "  - {name: third, from: bed, to: tank, flow: 360 L/h}\nsupplies:")) == set()


def test_a_floor_that_pans_cover_altogether():
    """A hundredth of 6 · 4 m counts at least: 0.24 m². With a pan of 1 m² it is 21.00523 less 1."""
    known = dry(TEXT)
    assert free_floor(known.installation, known.vessels, [Node("pan", 30.0, 0.0)]) == near(0.24)
    assert free_floor(known.installation, known.vessels, [Node("pan", 1.0, 0.0)]) == near(20.00523, rel=1e-6)


def test_what_mishaps_say():
    """What follows a burst: pumps into the vessel, and supplies that a float valve opens; of what stands beside it nothing."""
    bursts = {id: one for id, one in events().items() if id.startswith("rupture") and "," not in id}
    ends = {id[8:]: one.text.partition("at once")[2] for id, one in bursts.items()}
    assert ends == {"sump": ", and what tap brings follows", "bed": ", and what lift brings follows", "barrel": ""}
    second = TEXT.replace("pipes:", "  - {name: other, from: bed, to: sump, flow: 360 L/h}\npipes:")
    text = events(second)["rupture/sump"].text
    assert text.endswith("at once, and what other and tap bring follows")
    by_hand = TEXT.replace(", float_valve: yes", "")
    assert events(by_hand)["rupture/sump"].text.endswith("at once")
    assert {one.note for one in bursts.values()} == {""}
    unknown = events(TEXT.replace(", holds: 90 L", ""))
    assert "holds is not given" in unknown["rupture/barrel"].note
    assert "holds is not given" in unknown["tear/barrel"].note
    assert unknown["rupture/sump"].note == ""
    assert "at its lower end" in events()["sheared below/waste"].text
    assert "at sump" in events()["sheared below/return"].text


def test_a_rack_with_nothing_but_a_dry_bed_wets_no_floor():
    dry_bed = RACK.replace("water: 8 in", "water: 0 in")
    assert "collapse/r" not in events(dry_bed)
