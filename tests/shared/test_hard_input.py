"""Hard input: a file of every part with one value spoilt, hundreds of them; and files that are no installation.

Always the same: InputError with lines that name place, finding and expectation, or an installation; never anything else.
"""

import copy
import json
import random

import pytest

from brimfast.reports.run import assess_source
from brimfast.shared.errors import CODES, InputError
from brimfast.shared.reading import read_bytes
from tests.whole import WHOLE

SPOILT = [
    None,
    "",
    [],
    {},
    True,
    -1,
    3.75,
    1e30,
    10**400,
    "nan",
    ".inf",
    "12 bananas",
    "-3 in",
    "99999999 ft",
    "9**9**9 ft",
    "1,200 mm",
    "7",
    "0 in",
    "🐟",
    "<img src='file:///etc/passwd'/>",
    "../../etc/passwd",
    "a" * 5000,
    "name: {nested: [yes",
    "\u202eright to left",
    "x\u0000y",
    "x\u0007y",
    [["deep", ["deeper"]]],
    {"name": "x", "unknown key": 1},
    ["1 ft", "2 ft"],
]


def leaves(node, path=()):
    """Every place of the tree, groups and lists too."""
    yield path
    children = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, child in children:
        yield from leaves(child, (*path, key))


def spoil(tree, path, value):
    if not path:
        return value
    tree = copy.deepcopy(tree)
    node = tree
    for key in path[:-1]:
        node = node[key]
    node[path[-1]] = value
    return tree


def at(tree, path):
    for key in path:
        tree = tree[key]
    return tree


def around(path):
    """As little of the file as still is an installation with that place, and the place in it: reading takes its time."""
    group, *inside = path
    kept = {key: TREE[key] for key in ("installation", "site", "room")} | {
        "vessels": named("spare"),
        group: TREE[group],
    }
    if group in ("pumps", "pipes", "supplies", "hung"):
        kept |= {"racks": racks("north"), "vessels": named("carp tank", "cress bed", "high tank")}
    elif group == "joints":
        kept["racks"] = racks(*(one["rack"] for one in TREE["joints"]))
    elif group == "racks" and inside:
        kept["racks"] = racks(inside[0])
    elif group == "vessels":
        kept["racks"] = TREE["racks"]
        if inside:
            one = TREE["vessels"][inside[0]]
            kept |= {"racks": racks(one.get("on")), "vessels": [one]}
            inside[0] = 0
    return {key: part for key, part in kept.items() if part}, (group, *inside)


def named(*names):
    return [one for one in TREE["vessels"] if one["name"] in names]


def racks(*names):
    """With those that they are joined to."""
    beside = [TREE["racks"][name].get("joined_to", {}).get("rack") for name in names if name]
    return {name: rack for name, rack in TREE["racks"].items() if name in (*names, *beside)}


def complaint(text):
    """The lines of what is wrong; None where it is an installation."""
    try:
        assess = read_bytes(text.encode("utf-8", "surrogatepass"), "hard.yaml")
        assert assess.installation.vessels
    except InputError as error:
        return error.problems
    return None


def check(problems):
    assert problems
    for problem in problems:
        line = problem.text()
        assert problem.code in CODES
        assert line.isprintable() and len(line) < 900, line
        assert line.startswith("hard.yaml")
        said = problem.message
        assert any(
            word in said for word in ("found", "missing", "expected", "known", "more problems", "can't", "this is not")
        ), line


TREE = read_bytes(WHOLE.encode(), "whole.yaml").raw
PLACES = [path for path in leaves(TREE) if path]


def test_the_whole_file_is_taken():
    assert len(PLACES) > 300
    for group in TREE:
        assert complaint(json.dumps(around((group,))[0], ensure_ascii=False)) is None, group
    for path in PLACES:
        tree, place = around(path)
        assert at(tree, place) == at(TREE, path)
    assert assess_source(read_bytes(WHOLE.encode(), "whole.yaml")).findings


@pytest.mark.parametrize("part", range(12))
def test_one_value_spoilt(part):
    """Of every place one of the values, drawn by its place: the same ones on each run."""
    refused = 0
    for number, path in enumerate(PLACES):
        if number % 12 != part:
            continue
        tree, place = around(path)
        for value in random.Random(f"{path}").sample(SPOILT, 2):
            problems = complaint(json.dumps(spoil(tree, place, value), ensure_ascii=False))
            if problems is not None:
                refused += 1
                check(problems)
    assert refused > 20


@pytest.mark.parametrize("part", range(4))
def test_one_key_misspelt_or_gone(part):
    keyed = [path for path in PLACES if isinstance(path[-1], str)]
    for path in keyed[part::4]:
        tree, place = around(path)
        name = random.Random(f"{path}").choice([None, None, f"{path[-1]}x", "__class__", "a b\tc", ""])
        others = {name if key == path[-1] else key: value for key, value in at(tree, place[:-1]).items()}
        others.pop(None, None)
        problems = complaint(json.dumps(spoil(tree, place[:-1], others), ensure_ascii=False))
        if problems is not None:
            check(problems)


WHAT_IS_NO_FILE = {
    "alias bomb": "a: &a [x, x]\nb: &b [*a, *a]\nc: [*b, *b]\n",
    "merge key": "a: &a {x: 1}\nb: {<<: *a}\n",
    "a tag that would run something": "a: !!python/object/apply:os.system ['true']\n",
    "deep lists": "[" * 5000 + "]" * 5000,
    "deep groups": "".join(f"{' ' * n}k:\n" for n in range(300)),
    "many keys": "\n".join(f"k{n}: 1" for n in range(30_000)),
    "ten megabytes": "installation: " + "x" * 10_000_000,
    "ten thousand vessels": "installation: x\nsite: {standard: asce7-16, S_DS: 1}\nroom: {length: 9 ft, width: 9 ft, sill: 0 in}\nvessels:\n"
    + "\n".join("  - {name: t, kind: tank}" for _ in range(10_000)),
    "only a comment": "# nothing\n",
    "two documents": f"{WHOLE}\n---\n{WHOLE}",
    "tabs": "installation: x\n\tsite: y\n",
    "a key twice": "installation: a\ninstallation: b\n",
    "keys that are lists": "? [a, b]\n: c\n",
    "numbers as keys": "1: 2\n3: 4\n",
    "null": "~",
    "a list": "- a\n- b\n",
    "open quote": "installation: 'x\n",
    "a script": "#!/bin/sh\nrm -rf /\n",
    "markup": "<html><body>installation</body></html>",
    "very long line of digits": "installation: " + "9" * 100_000,
    "a date": "installation: 2026-11-26\n",
    "right to left": "\u202einstallation: x\n",
    "null bytes": "installation\0: x\n",
    "bell": "installation: x\a\n",
    "form feed": "installation: x\f\n",
    "lone surrogate": "installation: \ud800\n",
}


@pytest.mark.parametrize("name", WHAT_IS_NO_FILE)
def test_what_is_no_installation(name):
    check(complaint(WHAT_IS_NO_FILE[name]))


@pytest.mark.parametrize("cut", range(0, 100, 7))
def test_a_file_that_ends_too_early(cut):
    text = WHOLE[: len(WHOLE) * cut // 100]
    problems = complaint(text)
    if problems is not None:
        check(problems)


@pytest.mark.parametrize("seed", range(6))
def test_bytes_changed_at_random(seed):
    """A disk error: some bytes are others."""
    rng = random.Random(seed)
    for _ in range(10):
        data = bytearray(WHOLE.encode())
        for _ in range(rng.randint(1, 30)):
            data[rng.randrange(len(data))] = rng.randrange(256)
        try:
            read_bytes(bytes(data), "hard.yaml")
        except InputError as error:
            check(error.problems)


@pytest.mark.parametrize("before", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_a_byte_order_mark_change_nothing(before, end):
    text = before + WHOLE.replace("\n", end)
    assert read_bytes(text.encode(), "w").installation == read_bytes(WHOLE.encode(), "w").installation
