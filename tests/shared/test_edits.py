"""Changes of a file as data, and the file written anew with its comments."""

import pytest

from brimfast.shared.demo import DEMOS, demo
from brimfast.shared.edits import Edit, edited
from brimfast.shared.reading import read_bytes
from brimfast.shared.rewriting import rewritten
from brimfast.shared.yaml_text import load

TEXT = """# what it is
racks:
  ' north ':          # a name with blanks around it
    bays: 2           # fields
    braces: none      # to be seen to
  other:
    bays: 1
joints:
- {rack: north, where: brace to post, count: 1}   # old
# the end
"""


def plain(text):
    return load(text, "t")[0]


CASES = {
    "put where a value stands": (Edit(("racks", "other", "bays"), 3), ("racks", "other", "bays"), 3),
    "put where nothing stands, groups made on the way": (
        Edit(("racks", "other", "feet", "anchored"), "yes"),
        ("racks", "other", "feet"),
        {"anchored": "yes"},
    ),
    "put under a name with blanks around it": (Edit(("racks", "north", "bays"), 4), ("racks", " north ", "bays"), 4),
    "put into an item of a list": (Edit(("joints", 0, "count"), 2), ("joints", 0, "count"), 2),
    "add to a list that was a word": (
        Edit(("racks", "north", "braces"), {"face": "back"}, "add"),
        ("racks", " north ", "braces"),
        [{"face": "back"}],
    ),
    "add to a list that was not there": (Edit(("pipes",), {"name": "p"}, "add"), ("pipes",), [{"name": "p"}]),
    "ensure leaves an item that agrees": (
        Edit(("joints",), {"rack": "north", "where": "brace to post", "count": 9}, "ensure", ("rack", "where")),
        ("joints",),
        [{"rack": "north", "where": "brace to post", "count": 1}],
    ),
    "ensure adds one where none agrees": (
        Edit(("joints",), {"rack": "other", "where": "brace to post"}, "ensure", ("rack", "where")),
        ("joints", 1),
        {"rack": "other", "where": "brace to post"},
    ),
    "match changes the item that agrees": (
        Edit(("joints",), {"rack": "north", "where": "brace to post", "count": 9}, "match", ("rack", "where")),
        ("joints",),
        [{"rack": "north", "where": "brace to post", "count": 9}],
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_an_edit_puts_its_value_where_it_says(name):
    edit, path, expected = CASES[name]
    before = plain(TEXT)
    node = edited(before, [edit])
    for step in path:
        node = node[step]
    assert node == expected
    assert before == plain(TEXT), "the tree that was given is changed"


@pytest.mark.parametrize("name", CASES)
def test_the_text_changes_as_the_values_do_and_keeps_its_comments(name):
    edit = CASES[name][0]
    text = rewritten(TEXT, [edit])
    assert plain(text) == edited(plain(TEXT), [edit])
    for comment in ("# what it is", "# a name with blanks around it", "# fields", "# the end"):
        assert comment in text


def test_what_ensures_comes_before_what_matches():
    item = {"rack": "other", "where": "brace to post", "count": 1}
    edits = [
        Edit(("joints",), {**item, "count": 2}, "match", ("rack", "where")),
        Edit(("joints",), item, "ensure", ("rack", "where")),
    ]
    assert [joint["count"] for joint in edited(plain(TEXT), edits)["joints"]] == [1, 2]


@pytest.mark.parametrize("name", DEMOS)
def test_a_file_that_is_rewritten_without_edits_says_the_same(name):
    source = demo(name)
    text = rewritten(source.text, [])
    assert read_bytes(text.encode(), "t").installation == source.installation
    comments = [line.split("#", 1)[1] for line in source.text.splitlines() if "#" in line]
    assert all(comment in text for comment in comments)


@pytest.mark.parametrize("indent", ["- bays: 1", "  - bays: 1"])
def test_lists_keep_their_indentation(indent):
    text = f"things:\n{indent}\n"
    added = rewritten(text, [Edit(("things",), {"bays": 2}, "add")])
    assert added.splitlines()[1] == indent
    assert added.splitlines()[2] == f"{indent.split('-')[0]}- {{bays: 2}}"


GROUPS = """\
site: {standard: asce7-16,   # as the county says
       S_DS: 1.0}            # from the office
racks:
    long one:
        bays: 2
        feet:                # to be seen to
            on: concrete     # poured 1998
            # swept every week
            anchored: no

        braces: none         # none yet
        panels: []
    "other: one":
        bays: 1
vessels:
    -   name: tank           # blue
        anchors: {count: 4,
                  tension: 100 lb,   # a guess
                  shear: 100 lb}     # a guess as well
        water: 20 in
    -   {name: 'maker''s # tub', water: 3 in}
pumps: [
    {name: a, flow: 1 gal/min},  # the old one
    {name: b, flow: 2 gal/min}   # the new one
]
# the end
"""
CHANGES = {
    "a value in a group over several lines": ([Edit(("site", "S_DS"), 1.2)], {"S_DS: 1.0}": "S_DS: 1.2}"}),
    "a value in a block": (
        [Edit(("racks", "long one", "feet", "anchored"), "yes")],
        {"            anchored: no": "            anchored: yes"},
    ),
    "a key in a block": (
        [Edit(("racks", "long one", "feet", "sill"), "2x6")],
        {"            anchored: no": "            anchored: no\n            sill: 2x6"},
    ),
    "a group in a block": (
        [
            Edit(("racks", "other: one", "feet", key), value)
            for key, value in {"plate": "8 in", "source": "required: a"}.items()
        ],
        {"        bays: 1": "        bays: 1\n        feet: {plate: 8 in, source: 'required: a'}"},
    ),
    "a key in a group over several lines": (
        [Edit(("vessels", 0, "anchors", "source"), "a")],
        {
            "                  shear: 100 lb}": "                  shear: 100 lb,\n                  source: a}",
        },
    ),
    "an item where a word stood": (
        [Edit(("racks", "long one", "braces"), {"face": face}, "add") for face in ("front", "back")],
        {
            "        braces: none         # none yet": "        braces:         # none yet\n            - {face: front}\n            - {face: back}"
        },
    ),
    "an item of an empty list": (
        [Edit(("racks", "long one", "panels"), {"face": "front"}, "add")],
        {"        panels: []": "        panels:\n            - {face: front}"},
    ),
    "an item of a block list": (
        [Edit(("vessels",), {"name": "c"}, "add")],
        {
            "    -   {name: 'maker''s # tub', water: 3 in}": "    -   {name: 'maker''s # tub', water: 3 in}\n    - {name: c}"
        },
    ),
    "an item of a list in brackets": (
        [Edit(("pumps",), {"name": "c"}, "add")],
        {
            "    {name: b, flow: 2 gal/min}   # the new one": "    {name: b, flow: 2 gal/min},   # the new one\n    {name: c}"
        },
    ),
    "a list that was not there": (
        [Edit(("joints",), {"rack": "long one"}, "ensure", ("rack",))],
        {"]\n# the end": "]\njoints:\n    - {rack: long one}\n# the end"},
    ),
    "a group that is replaced as a whole": (
        [Edit(("vessels", 0, "anchors"), {"count": 8})],
        {
            "        anchors: {count: 4,\n                  tension: 100 lb,   # a guess\n                  shear: 100 lb}     # a guess as well": "        # a guess\n        anchors: {count: 8}     # a guess as well"
        },
    ),
    "a block that is replaced as a whole": (
        [Edit(("racks", "long one", "feet"), {"on": "tile"})],
        {
            "        feet:                # to be seen to\n            on: concrete     # poured 1998\n            # swept every week\n            anchored: no": "        # to be seen to\n        # poured 1998\n        # swept every week\n        feet: {on: tile}"
        },
    ),
}


@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("name", CHANGES)
def test_nothing_but_the_change_is_another_byte(name, newline):
    """Indentation of four, comments inside groups over several lines, line ends of either kind: all stay."""
    edits, lines = CHANGES[name]
    expected = GROUPS
    for old, new in lines.items():
        assert expected.count(old) == 1
        expected = expected.replace(old, new)
    assert rewritten(GROUPS.replace("\n", newline), edits) == expected.replace("\n", newline)
    assert plain(expected) == edited(plain(GROUPS), edits)


def test_a_last_line_without_an_end_gets_one_before_what_is_added():
    assert rewritten("a: 1\nb:\n  - 2", [Edit(("b",), 3, "add")]) == "a: 1\nb:\n  - 2\n  - 3"


@pytest.mark.parametrize("name", DEMOS)
def test_no_edits_no_change(name):
    text = demo(name).data.decode()
    assert rewritten(text, []) == text


def test_edits_do_not_change_each_other():
    item = {"rack": "north", "fasteners": {"count": 1}}
    edits = [Edit(("joints",), item, "add"), Edit(("joints", 0, "fasteners", "count"), 2)]
    edited({"joints": []}, edits[:1])["joints"][0]["fasteners"]["count"] = 5
    assert item["fasteners"]["count"] == 1


ODD = {
    "a comma at the end": ("a: {b: 1, }\n", [Edit(("a", "x"), "y")], "a: {b: 1, x: y, }\n"),
    "a comma and a comment": (
        "a: {\n  b: 1,   # one\n}\n",
        [Edit(("a", "x"), "y"), Edit(("a", "z"), 2)],
        "a: {\n  b: 1,   # one\n  x: y,\n  z: 2,\n}\n",
    ),
    "nothing after a key": (
        "a:\n  b:\n  c:   # later\nd:\n\n# end\n",
        [Edit(("a", "b"), 1), Edit(("a", "c"), [2]), Edit(("a", "e"), 3), Edit(("d",), 4)],
        "a:\n  b: 1\n  c:   # later\n    - 2\n  e: 3\nd: 4\n\n# end\n",
    ),
    "a text in a block": ("a:\n  b: |\n    c\n    d\n", [Edit(("a", "x"), "y")], "a:\n  b: |\n    c\n    d\n  x: y\n"),
    "a text over lines": ("a:\n  b: c\n    d\nz: 1\n", [Edit(("a", "b"), "y")], "a:\n  b: y\nz: 1\n"),
    "quotes and signs": (
        "'a': 'it''s' # '#' no\n\"b c\" : \"#1\" #2\n",
        [Edit(("a",), "n: o"), Edit(("b c",), "# 3")],
        "'a': 'n: o' # '#' no\n\"b c\" : '# 3' #2\n",
    ),
    "a document with its marks": (
        "---\na: 1   # c\n...\n",
        [Edit(("l",), 1, "add")],
        "---\na: 1   # c\nl:\n  - 1\n...\n",
    ),
    "all in brackets": (
        "{a: 1, b: {c: [1]}}\n",
        [Edit(("b", "c"), 2, "add"), Edit(("d",), [])],
        "{a: 1, b: {c: [1, 2]}, d: []}\n",
    ),
    "a blank line between items": (
        "v:\n  - n: x\n    w: 1\n\n  - n: y\n",
        [Edit(("v", 0, "k"), {"c": 4}), Edit(("v",), {"n": "z"}, "add")],
        "v:\n  - n: x\n    w: 1\n    k: {c: 4}\n\n  - n: y\n  - {n: z}\n",
    ),
}


@pytest.mark.parametrize("name", ODD)
def test_odd_but_right_yaml(name):
    text, edits, expected = ODD[name]
    assert rewritten(text, edits) == expected
    assert plain(expected) == edited(plain(text), edits)


TAKEN = """\
# head
site: {standard: asce7-16,   # as the county says
       S_DS: 1.0}            # from the office
racks:
  north:            # the long one
    bays: 2
    # about braces
    braces:
      - {face: back, bay: 1}   # first
      - {face: back, bay: 2}   # second
    feet: {anchored: no, count: 2}
  south: {bays: 1}
vessels:
- name: a           # of glass
  kind: tank
  stand:
    height: 3 in    # feet
    mass: 4 lb
- name: b
  kind: bed
joints: [{rack: north}, {rack: south}]
room: {sill: 1 in}"""

REMOVALS = {
    "a key of a block group": (("racks", "north", "bays"), ["    bays: 2\n"], []),
    "the first of a flow group": (("site", "standard"), ["standard: asce7-16,   # as the county says\n       "], []),
    "the last of a flow group, a comment before it": (
        ("site", "S_DS"),
        ["S_DS: 1.0"],
        ["# as the county says", "# from"],
    ),
    "the last of a flow group": (("racks", "north", "feet", "count"), [", count: 2"], []),
    "the first item of a block list": (
        ("racks", "north", "braces", 0),
        ["- {face: back, bay: 1}   # first\n"],
        ["# second"],
    ),
    "a block item of several lines": (("vessels", 0), ["- name: a           # of glass\n", "mass: 4 lb\n"], ["# long"]),
    "the last block item": (("vessels", 1), ["- name: b\n  kind: bed\n"], ["# feet"]),
    "an item of a flow list": (("joints", 0), ["{rack: north}, "], []),
    "the last item of a flow list": (("joints", 1), [", {rack: south}"], []),
    "a group of several lines": (("vessels", 0, "stand"), ["stand:", "height: 3 in", "mass: 4 lb"], ["# of glass"]),
    "the last key of the file": (("room",), ["room: {sill: 1 in}"], ["# head"]),
    "a key that is not there": (("room", "door"), [], ["# head"]),
    "a whole rack": (("racks", "north"), ["north:", "second"], ["# head"]),
}


@pytest.mark.parametrize("name", REMOVALS)
@pytest.mark.parametrize("ending", ["\n", "\r\n"])
def test_what_is_removed_takes_its_lines_and_nothing_else(name, ending):
    path, gone, _ = REMOVALS[name]
    edit = Edit(path[0] if isinstance(path[0], tuple) else path, None, "remove")
    before = TAKEN.replace("\n", ending)
    text = rewritten(before, [edit])
    assert plain(text) == edited(plain(TAKEN), [edit])
    assert all(one.replace("\n", ending) not in text for one in gone)
    kept = iter(text.splitlines())
    own = [line for line in TAKEN.splitlines() if line in text.splitlines()]
    assert [line for line in kept if line in own] == own, "lines in another order"
    changed = [line for line in text.splitlines() if line not in TAKEN.splitlines()]
    assert len(changed) <= 2


def test_comments_beside_what_is_removed_stay():
    text = rewritten(TAKEN, [Edit(("site", "S_DS"), None, "remove")])
    assert "# as the county says" in text and "# from the office" in text


def test_two_items_and_a_change_at_once():
    edits = [
        Edit(("racks", "north", "bays"), 3),
        Edit(("vessels", 0, "stand", "mass"), None, "remove"),
        Edit(("vessels", 0, "width"), "2 ft"),
    ]
    text = rewritten(TAKEN, edits)
    assert plain(text) == edited(plain(TAKEN), edits)
    assert "# feet" in text and "mass" not in text


@pytest.mark.parametrize("new", ["long", "1.5", "a: b"])
def test_a_rack_by_another_name_keeps_its_place_and_comment(new):
    edit = Edit(("racks", "north"), new, "rename")
    text = rewritten(TAKEN, [edit])
    assert list(plain(text)["racks"]) == [new, "south"]
    assert plain(text) == edited(plain(TAKEN), [edit])
    assert len(text.splitlines()) == len(TAKEN.splitlines())
    renamed = next(line for line in text.splitlines() if "# the long one" in line)
    assert new in renamed and "north" not in renamed


def test_a_long_new_group_stands_over_several_lines():
    rack = {f"key{number}": number for number in range(9)} | {"feet": {"anchored": "no"}, "list": [{"a": 1}]}
    edit = Edit(("racks", "east"), rack)
    text = rewritten(TAKEN, [edit])
    assert plain(text) == edited(plain(TAKEN), [edit])
    assert "  east:\n    key0: 0\n    key1: 1\n" in text


def test_plain_values_that_are_known_are_taken():
    edit = Edit(("room", "sill"), "2 in")
    assert rewritten(TAKEN, [edit], plain(TAKEN)) == rewritten(TAKEN, [edit])
