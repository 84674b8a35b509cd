"""Installations at random, as plain values of a file: what people may write, sensible or not."""

from hypothesis import strategies as st

LUMBER = ("2x4", "2x6", "2x8", "4x4", "4x6", "45x145 mm", "95x95 mm")
SPECIES = ("", " hem-fir No.2", " douglas fir-larch No.1", " spruce-pine-fir Stud", " C24", " redwood")
FILLS = ("gravel", "expanded clay", "lava rock", "perlite", "sand")
NAMES = ("tank", "carp & co", "bed <b>", "Теплица", "鯉", "a/b", "x" * 60)


def inches(low, high):
    return st.integers(low * 4, high * 4).map(lambda quarters: f"{quarters / 4:g} in")


def feet(low, high):
    return st.integers(low * 2, high * 2).map(lambda halves: f"{halves / 2:g} ft")


def timber(sizes=LUMBER):
    return st.tuples(st.sampled_from(sizes), st.sampled_from(SPECIES)).map("".join)


def maybe(**fields):
    return st.fixed_dictionaries({}, optional=fields)


def with_(required, optional):
    return st.fixed_dictionaries(required, optional=optional)


SITE = st.one_of(
    with_(
        {"standard": st.sampled_from(["asce7-16", "asce7-22"]), "S_DS": st.integers(1, 25).map(lambda n: n / 10)},
        {"S_1": st.integers(1, 9).map(lambda n: n / 10), "height_ratio": st.sampled_from([0, 0.5, 1])},
    ),
    st.fixed_dictionaries(
        {
            "standard": st.just("eurocode8"),
            "a_g": st.sampled_from([0.05, 0.25, 0.4]),
            "ground": st.sampled_from("ABCDE"),
            "spectrum": st.sampled_from(["type 1", "type 2"]),
        }
    ),
    st.fixed_dictionaries(
        {"standard": st.just("nzs1170.5"), "Z": st.sampled_from([0.13, 0.4]), "soil": st.sampled_from("ABCD")}
    ),
)
ROOM = with_(
    {"length": feet(18, 40), "width": feet(14, 30), "sill": inches(0, 6)},
    {
        "floor": st.fixed_dictionaries({"kind": st.sampled_from(["slab on grade", "timber floor", "concrete floor"])}),
        "drains": st.lists(
            with_({"bore": st.sampled_from(["2 in", "3 in"])}, {"blocked": st.sampled_from(["0 %", "50 %", "100 %"])}),
            max_size=2,
        ),
        "sockets": st.lists(st.fixed_dictionaries({"name": st.just("strip"), "height": inches(0, 20)}), max_size=1),
        "use": st.sampled_from(["dwelling", "garage", "attic with storage"]),
    },
)
FASTENERS = st.one_of(
    st.fixed_dictionaries(
        {
            "kind": st.sampled_from(["through-bolt", "lag screw", "wood screw", "structural screw"]),
            "diameter": st.sampled_from(["3/16 in", "1/4 in", "3/8 in", "1/2 in", "5/8 in"]),
            "length": inches(2, 8),
            "count": st.integers(1, 6),
        }
    ),
    st.fixed_dictionaries(
        {
            "kind": st.just("nail"),
            "nail": st.sampled_from(["0.131 in x 2.5 in", "0.162 in x 3.5 in"]),
            "count": st.integers(1, 8),
        }
    ),
)
BRACE = with_(
    {"face": st.sampled_from(["front", "back", "left", "right"]), "member": timber(("2x4", "2x6"))},
    {"kind": st.sampled_from(["single", "x"])},
)
GUSSET = st.fixed_dictionaries(
    {
        "face": st.sampled_from(["front", "back"]),
        "bay": st.integers(1, 2),
        "leg": inches(8, 16),
        "thickness": st.just("15/32 in"),
        "nail": st.just("0.131 in x 2.5 in"),
        "nails": st.sampled_from([4, 8, 12]),
    }
)
RACK = with_(
    {
        "bays": st.integers(2, 3),
        "bay_length": feet(2, 5),
        "width": inches(16, 48),
        "deck_height": inches(18, 60),
        "post": timber(("4x4", "4x6", "2x4", "95x95 mm")),
        "beam": timber(("2x6", "2x8", "45x145 mm")),
        "joist": with_(
            {"size": timber(("2x4", "2x6")), "spacing": inches(8, 24)},
            {"seat": st.sampled_from(["on beams", "between beams"])},
        ),
        "deck": st.sampled_from(["23/32 in plywood", "15/32 in plywood", "1/2 in osb"]),
    },
    {
        "beam_seat": st.sampled_from(["on top", "on the side"]),
        "beam_runs": st.sampled_from(["each bay", "whole length"]),
        "braces": st.lists(BRACE, max_size=4),
        "gussets": st.lists(GUSSET, max_size=2),
        "upper_tiers": st.lists(st.fixed_dictionaries({"deck_height": inches(70, 100)}), max_size=1),
        "feet": st.just({"anchored": "yes", "tension": "500 lb", "shear": "500 lb", "source": "a table"}),
        "pan": st.fixed_dictionaries({"length": feet(15, 18), "width": feet(4, 8), "height": inches(1, 4)}),
    },
)
FILL = st.one_of(
    st.sampled_from(FILLS), st.just({"porosity": "45 %", "grain_density": "1500 kg/m3"}), st.just("wood chips")
)
LID = st.sampled_from(
    [
        {"fastenings": 8},
        {"fastenings": 12, "allowable": "200 lb", "source": "t"},
        {"fastenings": 20, "allowable": "20 lb", "source": "t", "opening": "4 in x 4 in", "mass": "9 lb"},
    ]
)
MEASURED = with_(
    {
        "kind": st.sampled_from(["bed", "tank", "sump", "barrel"]),
        "length": feet(1, 8),
        "width": inches(8, 48),
        "depth": inches(9, 40),
        "water": inches(1, 11),
    },
    {
        "fill": st.sampled_from(FILLS),
        "fill_depth": inches(1, 36),
        "lid": LID,
        "stand": st.just({"height": "20 in", "mass": "30 lb"}),
    },
)
ROUND = st.fixed_dictionaries(
    {"kind": st.just("tank"), "diameter": feet(1, 6), "depth": inches(18, 40), "water": inches(1, 20)}
)
WEIGHED = with_(
    {
        "kind": st.just("tank"),
        "mass": st.integers(20, 3000).map(lambda pounds: f"{pounds} lb"),
        "centre_of_mass": inches(4, 60),
        "footprint": st.tuples(inches(8, 60), inches(8, 60)).map(" x ".join),
    },
    {
        "holds": st.just("2 gal"),
        "anchors": st.just({"count": 4, "tension": "300 lb", "shear": "300 lb", "source": "a table"}),
    },
)


@st.composite
def installations(draw):
    """Racks, what stands on them, pumps between: many fit, many do not."""
    racks = {f"r{n}": draw(RACK) for n in range(draw(st.integers(0, 2)))}
    vessels = []
    for number in range(draw(st.integers(1, 3))):
        vessel = draw(st.one_of(MEASURED, ROUND, WEIGHED))
        vessel["name"] = f"{draw(st.sampled_from(NAMES))} {number}"
        if racks and draw(st.booleans()):
            vessel["on"] = draw(st.sampled_from(sorted(racks)))
            if "length" in vessel:
                vessel |= {"length": draw(feet(1, 2)), "width": draw(inches(8, 16))}
        vessels.append(vessel)
    found = {"installation": "random", "site": draw(SITE), "room": draw(ROOM), "racks": racks, "vessels": vessels}
    found["joints"] = [
        {"rack": name, "where": where, "fasteners": draw(FASTENERS)}
        for name in racks
        for where in ("beam to post", "joist to beam", *(["brace to post"] if racks[name].get("braces") else []))
        if draw(st.booleans())
    ]
    if len(vessels) > 1 and draw(st.booleans()):
        pump = {"name": "pump", "from": vessels[0]["name"], "to": vessels[1]["name"], "flow": "300 gal/h"}
        found["pumps"] = [pump | draw(maybe(intake=inches(0, 12), outlet=inches(0, 30), float_switch=st.just("yes")))]
    return found
