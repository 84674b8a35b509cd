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
