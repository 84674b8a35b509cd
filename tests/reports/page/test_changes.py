"""What is typed into a field: put into the file where it is right, kept beside it where it is not."""

import pytest

from brimfast.reports.page.changes import current, edits_of, solved, wrong
from brimfast.reports.page.fields import keys_of
from brimfast.reports.page.form import Form, fields_in, shown
from brimfast.reports.page.form_words import FIRST, FORM_STEPS, LABELS
from brimfast.reports.page.pieces import SI, US, added, adds, removed, reshaped
from brimfast.reports.page.pointer import at, html_id, path_of, pointer
from brimfast.shared.demo import DEMOS, demo
from brimfast.shared.edits import edited
from brimfast.shared.installation.model import Installation
from brimfast.shared.rewriting import rewritten
from brimfast.shared.yaml_text import load

STEPS = [one.id for one in FORM_STEPS if one.id != "text"]


def parts(part=Installation, found=None):
    found = {} if found is None else found
    if part not in found:
        found[part] = keys_of(part)
        for key in found[part].values():
            if key.part is not None:
                parts(key.part, found)
    return found


def test_words_are_for_keys_that_there_are():
    known = {part.__name__: keys for part, keys in parts().items()}
    for name in LABELS:
        part, _, key = name.partition(".")
        assert part == "Inputs" or key in known[part], name
    for part, keys in FIRST.items():
        assert part == "Inputs" or set(keys) <= set(known[part]), part


@pytest.mark.parametrize("name", DEMOS)
def test_every_value_of_a_file_stands_in_a_field_of_its_step(name):
    """All but what only the text shows; and a form that is sent back as it came changes nothing."""
    raw = demo(name).raw
    form = Form(raw)
    fields = {one.name: one.value for step in STEPS for one in fields_in(form.step(step))}

    def leaves(node, path=()):
        if isinstance(node, dict) and node:
            for key, value in node.items():
                yield from leaves(value, (*path, key))
        elif isinstance(node, list) and node and isinstance(node[0], dict):
            for index, value in enumerate(node):
                yield from leaves(value, (*path, index))
        else:
            yield path, node

    for path, value in leaves(raw):
        if path[-1] == "braces":  # 'none' is what an empty list of braces says
            continue
        assert fields[pointer(path)] == shown(value), path
    answers = {name: value for name, value in fields.items() if not name.startswith("rename:")}
    assert solved(raw, answers).edits == ()


def test_fields_have_names_of_their_own_and_a_place_in_the_file():
    raw = demo("nursery").raw
    for step in STEPS:
        names = [one.name for one in fields_in(Form(raw).step(step))]
        assert len(names) == len(set(names)) > 0
        for name in names:
            assert current(raw, name) is not None, name
            assert " " not in html_id(name)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "vessels",
        "/vessels/9/water",
        "/vessels/x/water",
        "/vessels/-1/water",
        "/nothing",
        "/vessels/0/nothing",
        "/racks/north/__class__",
        "/" + "a" * 500,
        "rename:/vessels/0",
        "rename:/racks/none",
    ],
)
def test_what_is_no_field_of_the_file_is_no_field(text):
    assert current(demo("nursery").raw, text) is None


@pytest.mark.parametrize("path", [("racks", "a/b~c", "bays"), ("vessels", 2, "name"), ("prices", "through-bolt 1/2")])
def test_pointers_lead_back(path):
    tree = {"racks": {"a/b~c": {"bays": 1}}, "vessels": [{}, {}, {"name": 1}], "prices": {"through-bolt 1/2": 3}}
    assert path_of(pointer(path), tree) == path


RIGHT = {
    "a length": ({"/vessels/0/water": "7 1/2 in"}, {("vessels", 0, "water"): "7 1/2 in"}),
    "a count is a number": ({"/racks/north/bays": "4"}, {("racks", "north", "bays"): 4}),
    "a plain number": ({"/site/S_DS": "0.85"}, {("site", "S_DS"): 0.85}),
    "a name stays a text": ({"/vessels/0/name": "7"}, {("vessels", 0, "name"): "7"}),
    "yes or no": ({"/pumps/0/check_valve": "yes"}, {("pumps", 0, "check_valve"): "yes"}),
    "emptied": ({"/room/sill": ""}, {("room", "sill"): None}),
    "a group that is emptied goes": ({"/racks/north/feet/on": "", "/racks/north/feet/anchored": ""}, {("racks", "north", "feet"): None}),
    "a group that was not there": ({"/vessels/2/anchors/count": "4"}, {("vessels", 2, "anchors"): {"count": 4}}),
    "lines": ({"/pumps/0/curve": "0 gal/h at 10 ft\n\n800 gal/h at 2 ft"}, {("pumps", 0, "curve"): ["0 gal/h at 10 ft", "800 gal/h at 2 ft"]}),
    "a price": ({"/prices/hour of work": "60"}, {("prices", "hour of work"): 60}),
    "several that only fit together": (
        {"/vessels/1/depth": "6 in", "/vessels/1/water": "5 in"}, {("vessels", 1, "depth"): "6 in", ("vessels", 1, "water"): "5 in"},
    ),
    "another standard": (
        {"/site/standard": "eurocode8", "/site/a_g": "0.25", "/site/ground": "C", "/site/spectrum": "type 1"},
        {("site", "S_DS"): None, ("site", "a_g"): 0.25, ("site", "standard"): "eurocode8"},
    ),
    "a vessel by another name, and all that points at it": (
        {"/vessels/2/name": "pond"}, {("pumps", 0, "to"): "pond", ("pumps", 1, "from"): "pond", ("pipes", 1, "from"): "pond"},
    ),
    "a rack by another name, and all that points at it": (
        {"rename:/racks/north": "long one"}, {("racks", "north"): None, ("joints", 1, "rack"): "long one", ("vessels", 0, "on"): "long one"},
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", RIGHT)
def test_what_is_right_goes_into_the_file_and_its_comments_stay(name):
    typed, expected = RIGHT[name]
    source = demo("nursery")
    found = solved(source.raw, typed)
    assert found.left == {} and found.errors == {}
    for path, value in expected.items():
        assert at(found.tree, path) == value and type(at(found.tree, path)) is type(value)
    assert wrong(found.tree) == []
    text = rewritten(source.text, found.edits, source.raw)
    assert load(text, "")[0] == found.tree
    gone = {"S_DS", "sill", "north:"}
    for line in source.text.splitlines():
        if "#" in line and not any(word in line for word in gone):
            assert line.split("#")[1] in text


WRONG = {
    "no unit": ({"/vessels/0/water": "9"}, "E-UNIT-003"),
    "no length": ({"/vessels/0/water": "deep"}, "E-UNIT-001"),
    "out of range": ({"/room/length": "900 ft"}, "E-RANGE-001"),
    "does not fit its neighbour": ({"/vessels/0/depth": "8 in"}, "E-FIT-001"),
    "not in the tables": ({"/racks/north/post": "4x4 oak"}, "E-DATA-001"),
    "what cannot be left out": ({"/vessels/0/length": ""}, "E-KEY-002"),
    "a standard without its values": ({"/site/standard": "eurocode8"}, "E-KEY-002"),
    "a name that is taken": ({"/vessels/0/name": "sump"}, "E-NAME-002"),
    "a rack that is called floor": ({"rename:/racks/north": "floor"}, "E-NAME-002"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_is_wrong_stays_out_and_says_why_in_the_words_of_the_command_line(name):
    typed, code = WRONG[name]
    raw = demo("nursery").raw
    beside = {"/room/sill": "4 in"}
    found = solved(raw, {**typed, **beside})
    assert found.left == typed
    assert found.tree == edited(raw, solved(raw, beside).edits), "what is right beside it goes in"
    (field,) = typed
    assert any(text.endswith(f"[{code}]") for text in found.errors[field])
    tree = edited(raw, [edit for name, text in typed.items() for edit in edits_of(raw, name, text)])
    for one, text in zip(wrong(tree), found.errors[field], strict=True):
        assert text.endswith(f"{one.message} [{one.code}]")


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("name", DEMOS)
def test_every_piece_that_can_be_added_is_one_that_the_file_takes(name, units):
    """One after the other, so that each also stands beside all others; then taken out again."""
    raw = {**demo(name).raw, "units": units}
    room = {**raw["room"], "length": "60 ft", "width": "60 ft"}
    raw["room"] = room
    done = set()
    for _ in range(40):
        lists = [
            ("racks",),
            ("vessels",),
            ("joints",),
            ("pumps",),
            ("pipes",),
            ("supplies",),
            ("hung",),
            ("room", "drains"),
            ("room", "sockets"),
            ("room", "next"),
        ]
        lists += [
            ("racks", rack, key)
            for rack in raw.get("racks", {})
            for key in ("braces", "panels", "gussets", "wall_ties", "upper_tiers", "rails")
        ]
        offers = [(path, do) for path in lists for do, _ in adds(path, raw) if (path, do) not in done]
        if not offers:
            break
        path, do = offers[0]
        done.add((path, do))
        kind = do.split(":", 2)[2]
        ways = list(added(path, kind, raw))
        assert ways, do
        tree = next((tree for tree in (edited(raw, edits) for edits in ways) if not wrong(tree)), None)
        if tree is None:  # a deck that is full
            assert kind.startswith("on ") and {one.code for one in wrong(edited(raw, ways[0]))} == {"E-FIT-001"}, (
                do,
                wrong(edited(raw, ways[0])),
            )
        else:
            raw = tree
    assert len(done) > 12
    for path in [("racks", rack) for rack in raw["racks"]] + [("vessels", 0)] * (len(raw["vessels"]) - 1):
        if at(raw, path) is None or (path[0] == "vessels" and len(raw["vessels"]) < 2):
            continue
        edits, _ = removed(path, raw)
        tree = edited(raw, edits)
        if tree["vessels"]:
            assert wrong(tree) == []
            raw = tree


def test_examples_are_there_in_both_systems():
    assert set(US) == set(SI)


@pytest.mark.parametrize("how", ["weighed", "round"])
def test_a_vessel_is_described_in_another_way_and_back(how):
    raw = demo("nursery").raw
    path = ("vessels", 3)
    known = {"mass": "800 lb", "holds": "60 gal", "centre_of_mass": "6 in", "footprint": "48 in x 24 in"}
    tree = edited(raw, reshaped(how, path, raw, known))
    plain = {**tree, "pumps": [], "pipes": []}  # whose heights are above a bottom that is not known any more
    assert wrong(plain) == []
    assert ("mass" in tree["vessels"][3]) == (how == "weighed")
    back = edited(tree, reshaped({"weighed": "measured", "round": "square"}[how], path, tree, {}))
    assert wrong({**back, "pumps": [], "pipes": []}) == []
    assert "length" in back["vessels"][3]
