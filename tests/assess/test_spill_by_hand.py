"""What runs of water come to, worked out by hand: the sill or drain that keeps them in, pans, findings, lines."""

from dataclasses import replace

import pytest

from brimfast.assess.network.build import ADDED_DRAIN
from brimfast.assess.network.model import (
    DRAINED,
    MAINS,
    OUTSIDE,
    OVER_RIM,
    OVER_SILL,
    ROOM,
    SEWER,
    SUPPLIED,
    Catch,
    Event,
    Link,
    Network,
    Node,
)
from brimfast.assess.network.runs import run
from brimfast.assess.spill.contain import Contained, contained
from brimfast.assess.spill.pans import caught
from brimfast.shared.constants import INCH
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


def test_what_stays_in_by_itself():
    """0.9 m³ on 20 m² behind 50 mm. One that could not be followed to its end is no sure answer."""
    assert kept([], 0.9, sill=0.05) == Contained(None, None, already=True, sure=True)
    network = Network((Node("tank", 10.0, 10.0, 0.0, 1.0), floor()), (Link("d", OVER_SILL, ROOM, OUTSIDE, width=0.9),))
    one = run(network, [NOTHING_WRONG])[0]
    assert not contained(network, [one, replace(one, finished=False)]).sure


def test_what_a_pan_has_to_hold():
    """0.1 L/s for 1000 s into a tank with 0.02 m³ of room: 0.08 run over, of which the pan holds 1 m² · 60 mm; 0.02 run on. For 500 s
    0.03 run over. The most of them is 0.08; nothing of what comes by a hose onto the floor."""
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
        Event("long", "k", "s", "all of it"),
        Event("none", "k", "s", "nothing", {"hose": {"on": False}}),
    ]
    short, long, none = run(network, events)
    assert dict(long.paths) == near({"pan, over its rim": 0.02, "other": 0.1}, rel=1e-6)
    assert dict(short.paths) == near({"other": 0.1}, rel=1e-6)
    (one,) = caught(network, [short, long, none])
    assert (one.pan, one.event, one.volume) == ("pan", "all of it", near(0.08, rel=1e-6))
    (one,) = caught(network, [none])
    assert (one.event, one.volume) == ("", 0.0)
