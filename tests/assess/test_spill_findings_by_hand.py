"""Which runs count as the worst, and what findings say of them: by hand, of runs that are made up."""

from dataclasses import replace
from types import SimpleNamespace

import pytest

from brimfast.assess.network.model import (
    DRAINED,
    MAINS,
    OUTSIDE,
    OVER_SILL,
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
from brimfast.assess.parts import FloorParts
from brimfast.assess.spill.assess import Question, assess_spill, floods
from brimfast.assess.spill.findings import spill_findings
from brimfast.assess.spill.pans import Caught, pan_findings
from brimfast.assess.spill.room import basin
from brimfast.data_tables.loader import factor_used
from brimfast.shared.findings import Value
from brimfast.shared.installation.site import Drain

near = pytest.approx
NETWORK = Network(
    (Node("tank", 2.0, 1.0, 0.0, 1.0), Node("bed", 1.0, 0.5, 1.0, 1.6), Node(ROOM, 20.0, 0.0, is_room=True)),
    (Link("door", OVER_SILL, ROOM, OUTSIDE, z_in=0.05, width=0.9),),
)
BASE = run(NETWORK, [Event("as described", "k", "s", "t")])[0]
PLANNED = FloorParts(1915.2, Value("live load", "40 psf", "a table", "published"))


def came(id, volume=1.0, *, kind="rupture", pair=False, text="", **more):
    """A run that puts so much (m³) on the 20 m² of the room, from made-up mishaps."""
    event = Event(id, kind, more.pop("subject", "tank"), text or f"what {id} does", pair=pair)
    figures = {"need": volume, "depth": volume / 20, "leaves": 0.0, "rate": 0.0, **more}
    return replace(BASE, event=event, reached=volume, **figures)


def house(drains=(), sockets=(), next_rooms=(), sill=0.05):
    room = SimpleNamespace(sill=sill, door=None, next=list(next_rooms), drains=list(drains), sockets=list(sockets))
    return SimpleNamespace(room=room, exposure=SimpleNamespace(flooring="oak"))


def spill_of(*runs, failing=(), splashes=(), network=NETWORK, installation=None):
    weights = {"tank": SimpleNamespace(water_volume=1.0), "bed": SimpleNamespace(water_volume=0.5)}
    question = Question(network, tuple(one.event for one in runs), (), splashes)
    return assess_spill(installation or house(), weights, question, runs, failing)


def findings_of(*runs, installation=None, floor=PLANNED, network=NETWORK):
    at = installation or house()
    return {one.id: one for one in spill_findings(spill_of(*runs, installation=at, network=network), at, floor)}


def names(runs):
    return [one.event.id for one in runs]


QUAKE = came("earthquake", 1.5, kind="earthquake")


def test_which_runs_count():
    """Those that wet the floor, most first, and those that were given up; a splash and an earthquake are no mishaps."""
    dry, open_end = came("dry", 0.0), came("open end", 0.0, finished=False)
    splash = came("slosh/tank", 0.2, kind="slosh")
    spill = spill_of(came("little", 0.1), came("much", 1.2), dry, open_end, splash, QUAKE)
    assert names(spill.runs) == ["earthquake", "much", "slosh/tank", "little", "open end"]
    assert spill.tried == 6
    assert names(spill.singles) == ["much", "little", "open end"]
    assert (spill.worst.event.id, spill.earthquake.event.id) == ("much", "earthquake")
    assert spill.pair is None
    assert spill_of(came("much", 1.2)).earthquake is None


@pytest.mark.parametrize("kind", ["earthquake", "slosh"])
def test_clogged_drains_in_an_earthquake_are_no_pair(kind):
    spill = spill_of(came("single", 1.0), came("clogged", 5.0, kind=kind, pair=True))
    assert spill.pair is None
    assert spill.worst.event.id == "single"


def test_the_lowest_sill_of_those_there_are():
    """20 m² behind 60 mm to the hall hold 1.2 m³; the door out of 50 mm only counts where it is in the file, or no room is next: 1 m³."""
    hall = SimpleNamespace(name="hall", length=3.0, width=2.0, sill=0.06, flooring=None)
    at = house(next_rooms=[hall])
    assert basin(at, NETWORK).held == near(1.2)
    at.room.door = 0.9
    assert basin(at, NETWORK).held == near(1.0)
    assert basin(house(), NETWORK).held == near(1.0)


def test_the_worst_is_what_leaves_then_what_was_to_hold_then_the_depth():
    spill = spill_of(came("deep", 3.0), came("leaves", 1.0, leaves=0.1), came("less", 2.0, leaves=0.05))
    assert spill.worst.event.id == "leaves"
    assert spill_of(came("less", 2.0, need=0.5), came("more", 1.0)).worst.event.id == "more"
    assert spill_of(came("flat"), came("high", depth=0.06)).worst.event.id == "high"
    assert spill_of(came("a", 3.0), QUAKE, came("b", leaves=0.1)).most.event.id == "b"


@pytest.mark.parametrize(("volume", "counts"), [(2.0, True), (1.0, False), (0.9, False)])
def test_a_pair_counts_where_it_is_worse_than_the_worst_single_one(volume, counts):
    spill = spill_of(came("single", 1.0), came("both", volume, pair=True))
    assert (spill.pair is not None) == counts
    assert spill_of(came("both", 0.3, pair=True)).pair.event.id == "both"  # where there is no other


def test_what_breaks_and_what_splashes():
    """The tank, 1 m³, does not stand; the bed does, and splashes 0.03 m³."""
    splashes = (
        Event("slosh/tank", "slosh", "tank", "t", at_once={"tank": 0.2}),
        Event("slosh/bed", "slosh", "bed", "t", at_once={"bed": 0.03}),
    )
    spill = spill_of(came("much", 1.2), failing=("tank",), splashes=splashes)
    assert (spill.failing, spill.failing_volume) == (("tank",), 1.0)
    assert (spill.splashing, spill.splash_volume) == (("bed",), near(0.03))


def test_the_same_with_clogged_drains_stands_beside_it():
    single, clogged, other = came("a"), came("a, drains clogged", 1.1, pair=True), came("b")
    spill = spill_of(single, clogged, other)
    assert spill.clogged(single) is spill.runs[0] is clogged
    assert spill.clogged(other) is None
    assert names(spill.with_open_drains) == ["a", "b"]


def test_what_would_keep_it_in_is_tried_once(monkeypatch):
    asked = []

    def contained(network, runs, system):
        asked.append((names(runs), system))
        return len(asked)

    monkeypatch.setattr("brimfast.assess.spill.assess.contained", contained)
    spill = spill_of(came("much", 1.2), came("little", 0.1), QUAKE)
    assert spill.contained("us") == {"single": 1, "earthquake": 2}
    assert spill.contained("us") == {"single": 1, "earthquake": 2}
    assert spill.contained("si") == {"single": 3, "earthquake": 4}
    assert asked == [
        (["much", "little"], "us"),
        (["earthquake"], "us"),
        (["much", "little"], "si"),
        (["earthquake"], "si"),
    ]
    assert spill_of(came("much", 1.2)).contained("us") == {"single": 5}


def test_which_floors_get_wet():
    """The room by its free floor, the next ones by theirs, 3 by 2 m, where more than a tenth of a millimetre comes."""
    rooms = [SimpleNamespace(name=name, length=3.0, width=2.0, sill=0.06, flooring=None) for name in ("hall", "bath")]
    rooms[1].flooring = "tile"
    at = house(next_rooms=[*rooms, SimpleNamespace(name="attic", length=1.0, width=1.0, sill=0.07, flooring="")])
    depths = (("hall", 0.01), ("bath", 2e-4), ("attic", 9e-5))
    one = came("much", 1.2, next_rooms=depths, outside=0.4)
    found = floods(spill_of(one, installation=at), at)
    assert list(found) == ["single"]
    flood = found["single"]
    assert (flood.id, flood.text, flood.volume, flood.leaves) == ("much", "what much does", 1.2, 0.4)
    assert [(wet.room, wet.area, wet.depth, wet.flooring, wet.here) for wet in flood.wet] == [
        ("the room", 20.0, near(0.06), "oak", True),
        ("hall", 6.0, 0.01, "oak", False),
        ("bath", 6.0, 2e-4, "tile", False),
    ]


def test_what_the_room_has_to_hold():
    """20 m² · 50 mm hold 1 m³: 0.9 for one mishap, 1.1 for two, 1.5 for the earthquake."""
    found = findings_of(came("single", 0.9), came("both", 1.1, pair=True), QUAKE)
    assert list(found)[:3] == ["spill/single", "spill/pair", "spill/earthquake"]
    ratios = {id: (one.demand, one.capacity, one.ratio) for id, one in list(found.items())[:3]}
    assert ratios == {
        "spill/single": near((0.9, 1.0, 0.9)),
        "spill/pair": near((1.1, 1.0, 1.1)),
        "spill/earthquake": near((1.5, 1.0, 1.5)),
    }
    assert [found[f"spill/{which}"].advice_key for which in ("single", "pair", "earthquake")] == [
        "spill",
        "spill",
        "spill earthquake",
    ]
    assert found["spill/single"].details == {"event": "what single does"}
    assert found["spill/single"].reason == ""
    flat = findings_of(came("single", 0.9), installation=house(sill=0.0))["spill/single"]
    assert "0" in flat.reason
    assert flat.verdict == "short"
    assert "spill/earthquake" not in findings_of(came("single", 0.9))


def test_what_is_named_as_used():
    """Losses of pipes where one leads back, a pump's assumed pipe where a note says so, a float valve's travel where there is one."""

    def used(**more):
        return {
            value.name
            for value in findings_of(came("single", 0.9), network=replace(NETWORK, **more))["spill/single"].values
        }

    def value(*keys):
        return {factor_used(key).name for key in keys}

    plain = value("sill_coefficient", "tear_opening", "tear_discharge", "intake_fades")
    assert used() == plain
    back = Link("pump, back", RUNS, "bed", "tank", False)
    assert used(links=(*NETWORK.links, back)) == plain | value("K_entrance", "K_exit", "K_bend", "water_viscosity")
    assert used(notes=("a note",)) == plain | value("pump_pipe_assumed", "pump_pipe_length_assumed")
    valve = Link("tap", SUPPLIED, MAINS, "tank", float_valve=True)
    assert used(links=(*NETWORK.links, valve)) == plain | value("float_valve_travel")
    assert used(links=(*NETWORK.links, replace(valve, float_valve=False))) == plain


@pytest.mark.parametrize(
    ("count", "said"), [(1, "(one 0)"), (2, "(one 0; one 1)"), (3, "(one 0; one 1 and 1 more)"), (5, "and 3 more)")]
)
def test_what_could_not_be_followed(count, said):
    runs = [came(f"{number}", 0.5, text=f"one {number}", finished=False) for number in range(count)]
    one = findings_of(came("single", 0.9), *runs)["spill/given up"]
    assert said in one.reason
    assert one.verdict == "not assessed"
    assert "spill/given up" not in findings_of(came("single", 0.9))


def test_a_network_that_spills_as_described():
    paths = tuple((f"way {number}", 0.1) for number in range(1, 5))
    spills = came("as described", 0.4, kind="as described", text="all as the file says", paths=paths)
    one = findings_of(spills)["spill/as described"]
    assert (one.demand, one.capacity, one.verdict) == (0.4, 0.0, "short")
    assert "way 1, way 2, way 3)" in one.reason
    assert one.details == {"event": "all as the file says"}
    given_up = came("as described", 0.0, kind="as described", finished=False)
    for other in (came("single", 0.9), given_up):
        assert "spill/as described" not in findings_of(other)


def test_drains_against_what_comes_fastest():
    """A pipe of 50 mm at 1 % takes less than its grate of 0.3 m under 50 mm: π/4 · 0.05² · 0.0125^(2/3) · 0.1/0.011 = 9.614142e-4."""
    slow, fast, at_once = came("slow", rate=1e-4), came("fast", rate=5e-4), came("burst", 0.5)
    shaken = came("earthquake", 1.5, kind="earthquake", rate=9e-3)
    drain = Drain(bore="50 mm", grate="300 mm", open_share=0.5, blocked=0.0, slope=0.01)
    one = findings_of(slow, fast, at_once, shaken, installation=house([drain]))["spill/drains"]
    assert one.demand == 5e-4
    assert (one.capacity, one.ratio) == near((9.614142e-4, 0.520067), rel=1e-5)
    assert one.details == {"event": "what fast does", "governs": "pipe"}
    without = findings_of(slow, fast)["spill/drains"]
    assert (without.verdict, without.demand, without.details) == ("not assessed", 5e-4, {"event": "what fast does"})
    assert "spill/drains" not in findings_of(at_once)
    assert "spill/drains" not in findings_of(shaken)


def socket(name, height):
    return SimpleNamespace(name=name, height=height)


def test_sockets_by_the_deepest_of_all_runs():
    """1.5 m³ on 20 m², 75 mm, in the earthquake. The first gets wet after 45 s at the earliest, the second at once, the third half a second later."""
    sockets = [socket("a", 0.03), socket("b", 0.0), socket("c", 0.1)]
    slow = came("slow", 0.9, wets=(("socket 1", 300.0), ("socket 2", 20.0)))
    quick = came("quick", 0.8, wets=(("socket 1", 45.0), ("socket 2", 0.0), ("socket 3", 0.5)))
    found = findings_of(slow, quick, QUAKE, installation=house(sockets=sockets))
    a, b, c = (found[f"spill/socket/{name}"] for name in "abc")
    assert [one.demand for one in (a, b, c)] == near([0.075] * 3)
    assert [one.capacity for one in (a, b, c)] == [0.03, 0.0, 0.1]
    assert (a.ratio, c.ratio) == near((2.5, 0.75))
    assert (a.reason, b.reason, c.reason) == (
        "wet after 45 s at the earliest",
        "wet at once at the earliest",
        "wet after 0.5 s at the earliest",
    )
    (line,) = a.steps
    assert {name: number.value for name, number in line.inputs.items()} == near({"V_d": 1.5, "A": 20.0})
    assert line.result.value == near(0.075)
    assert c.details == {"event": "what earthquake does"}
    on_floor = findings_of(came("single", 0.9), installation=house(sockets=[socket("low", 0.0), socket("up", 0.01)]))
    assert on_floor["spill/socket/low"].reason == "it lies on the floor"
    assert on_floor["spill/socket/up"].reason == ""
    assert not any(id.startswith("spill/socket") for id in findings_of(installation=house(sockets=sockets)))


def test_what_lies_on_the_floor_and_weighs():
    """The deeper of worst mishap and earthquake: 75 mm weigh 9806.65 · 0.075 = 735.49875 N/m², of 1915.2 0.384032. Dry floors weigh nothing."""
    one = findings_of(came("single", 0.9), QUAKE)["spill/weight"]
    assert (one.demand, one.capacity, one.ratio) == near((735.49875, 1915.2, 0.384032), rel=1e-6)
    assert {name: number.value for name, number in one.steps[0].inputs.items()} == near({"rho_g": 9806.65, "d": 0.075})
    assert findings_of(came("single", 2.0), QUAKE)["spill/weight"].demand == near(980.665)
    assert "spill/weight" not in findings_of(came("nothing deep", 0.5, depth=0.0))
    for floor in (FloorParts(None, PLANNED.value), FloorParts(1915.2, None)):
        one = findings_of(came("single", 0.9), QUAKE, floor=floor)["spill/weight"]
        assert (one.verdict, one.demand) == ("not assessed", near(735.49875))
        assert one.steps[0].result.value == near(735.49875)


PAN, OTHER = Node("pan", 2.0, 0.0, 0.0, 0.05), Node("other pan", 3.0, 0.0, 0.0, 0.04)


def pans(catches, *each):
    network = Network((*NETWORK.nodes, PAN, OTHER), NETWORK.links, (), catches)
    return {one.id: one for one in pan_findings(network, each)}


GOOD = Catch("pan", 0.3, 1e-3, 0.2, 0.25)
JET = replace(GOOD, seam=0.4)
FAR = replace(GOOD, over_rim=0.35, seam=0.4)


def test_what_pans_hold():
    """2 m² · 50 mm hold 0.1 m³: 0.08 run in; nothing into the other, 0.12 m³, which is for the bed."""
    catches = {"tank": GOOD, "bed": replace(GOOD, pan="other pan")}
    found = pans(catches, Caught("pan", 0.08, "the tank runs over"), Caught("other pan", 0.0, ""))
    one, other = found["spill/pan"], found["spill/other pan"]
    assert (one.demand, one.capacity, one.ratio, one.reason) == (0.08, near(0.1), near(0.8), "")
    assert (other.demand, other.capacity, other.ratio) == (0.0, near(0.12), 0.0)
    assert (one.details, other.details) == ({"event": "the tank runs over"}, {})
    assert [line.symbol for line in one.steps] == ["x", "V_pan"]
    assert "tank" in one.steps[0].note
    assert "bed" in other.steps[0].note


@pytest.mark.parametrize(("volume", "runs_on"), [(0.09, False), (0.1, False), (0.11, True), (0.5, True)])
def test_what_a_pan_does_not_hold_is_said(volume, runs_on):
    one = pans({"tank": GOOD}, Caught("pan", volume, "e"))["spill/pan"]
    assert ("runs on" in one.reason) == runs_on


def test_pans_that_do_not_reach_far_enough():
    """A jet that flies past is said; what runs over one of two vessels and past it is too; where it passes of all, the pan is not assessed, and
    the next one is looked at all the same."""
    both = pans({"tank": JET, "bed": GOOD}, Caught("pan", 0.08, "e"))["spill/pan"]
    assert both.details["not counted as caught"] == "a torn seam of tank: its jet can fly past the pan"
    assert both.verdict == "holds"
    one = pans({"tank": FAR, "bed": GOOD}, Caught("pan", 0.08, "e"))["spill/pan"]
    assert one.verdict == "holds"
    assert "not counted as caught" not in pans({"tank": GOOD}, Caught("pan", 0.08, "e"))["spill/pan"].details
    catches = {"tank": FAR, "bed": replace(GOOD, pan="other pan")}
    found = pans(catches, Caught("pan", 0.0, ""), Caught("other pan", 0.03, "e"))
    assert found["spill/pan"].verdict == "not assessed"
    assert "tank" in found["spill/pan"].reason
    assert found["spill/other pan"].ratio == near(0.25)


def test_only_open_floor_drains_of_the_room_drain_it():
    """Two drains of the room took 0.2 and 0.1 m³; one of the hall is not among them."""
    hall = Node("hall", 10.0, 0.5, is_room=True)
    links = [
        Link(f"drain {number}", DRAINED, source, SEWER, rim=9.0, opening=9.0, pipe_flow=1.0, takes=takes)
        for number, (source, takes) in enumerate([(ROOM, 0.2), (ROOM, 0.1), ("hall", 0.4)])
    ]
    tank = Node("tank", 2.0, 1.0, 0.0, 1.0)
    network = Network((tank, Node(ROOM, 20.0, 0.0, is_room=True), hall), tuple(links))
    (one,) = run(network, [Event("e", "k", "s", "t", at_once={"tank": 1.0})])
    assert one.drained == near(0.3, rel=1e-6)
    assert one.lies == near(0.7, rel=1e-6)
