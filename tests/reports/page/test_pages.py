"""The page without a browser: files begun, changed, shown; nothing lost, nothing stale, nothing overwritten."""

import json
import os
import re
from dataclasses import replace
from datetime import date
from hashlib import sha256
from html import unescape
from importlib.resources import files
from pathlib import Path

import pytest

from brimfast.assess.pipeline import assess
from brimfast.reports import choice, summary_words, words
from brimfast.reports.page import file_pages, page_words
from brimfast.reports.page.beginning import copied
from brimfast.reports.page.calculation import DRAWN, DRY, WHOLE, Calculation, Engine
from brimfast.reports.page.draft import LONGEST_TEXT, MOST_BYTES, Draft, draft_of
from brimfast.reports.page.folder import Folder
from brimfast.reports.page.form_words import STEPS
from brimfast.reports.page.results import results
from brimfast.reports.page.views import TEMPLATES
from brimfast.reports.pdf import report_bytes
from brimfast.shared.demo import DEMOS, demo, demo_bytes
from brimfast.shared.edits import Edit
from brimfast.shared.errors import OutputError, Problem
from brimfast.shared.reading import read_bytes
from brimfast.shared.units import show
from tests.pages import errors_of, hidden, nursery, page_of, typed, value_of


@pytest.fixture
def there(tmp_path):
    path = nursery(tmp_path)
    with page_of(tmp_path) as client:
        yield client, path


def test_an_edit_goes_into_the_file_and_nothing_else_changes(there):
    client, path = there
    before = path.read_bytes()
    answer = typed(client, "room", {"/room/sill": "4 in"}).json()
    assert answer["said"] == "Saved." and answer["errors"] == {} and answer["undo"]
    assert path.read_bytes() == before.replace(b"sill: 3 in  ", b"sill: 4 in  ")
    assert page_words.BEING_DRAWN in answer["fragments"]["aside"]
    assert sha256(path.read_bytes()).hexdigest() == answer["revision"] and answer["revision"] in answer["follow"]


@pytest.mark.parametrize("ends", [b"\r\n", b"\n"])
@pytest.mark.parametrize("mark", [b"\xef\xbb\xbf", b""])
def test_line_ends_and_marks_stay(tmp_path, ends, mark):
    path = tmp_path / "n.yaml"
    before = mark + demo_bytes("nursery").replace(b"\n", ends)
    path.write_bytes(before)
    with page_of(tmp_path) as client:
        assert typed(client, "room", {"/room/sill": "4 in", "/room/door": ""}).json()["said"] == "Saved."
        gone = next(line for line in before.split(ends) if line.startswith(b"  door:")) + ends
        assert path.read_bytes() == before.replace(b"sill: 3 in", b"sill: 4 in").replace(gone, b"")


def test_what_was_just_typed_and_is_wrong_is_not_lost(there):
    """It stands in the field with its error, after a reload, in another program of the page, until it is mended."""
    client, path = there
    before = path.read_bytes()
    answer = typed(client, "vessels", {"/vessels/0/water": "9 inn"}).json()
    (error,) = answer["errors"]["f/vessels/0/water"]
    with pytest.raises(Exception) as caught:
        read_bytes(before.replace(b"water: 9 in,", b"water: 9 inn,"), "n.yaml")
    told = caught.value.problems[0]
    assert told.message.endswith(error.removesuffix(f" [{told.code}]")) and error.endswith(f"[{told.code}]")
    assert path.read_bytes() == before
    with page_of(path.parent) as other:
        page = other.get("/file/n.yaml/vessels").text
        assert value_of(page, "/vessels/0/water") == "9 inn"
        assert errors_of(page, "/vessels/0/water") == error
        assert page_words.KEPT_BESIDE in page
    assert [one.name for one in path.parent.iterdir() if one.name.endswith(".typed")] == [".n.yaml.typed"]
    answer = typed(client, "vessels", {"/vessels/0/water": "8 in"}).json()
    assert answer["errors"] == {} and b"water: 8 in, fill: gravel" in path.read_bytes()
    assert not (path.parent / ".n.yaml.typed").exists()


def test_two_answers_that_only_fit_together_go_in_together(there):
    client, path = there
    answer = typed(client, "vessels", {"/vessels/1/depth": "6 in"}).json()
    assert "E-FIT-001" in answer["errors"]["f/vessels/1/depth"][0]
    answer = typed(client, "vessels", {"/vessels/1/water": "5 in"}).json()
    assert answer["errors"] == {}
    bed = read_bytes(path.read_bytes(), "").raw["vessels"][1]
    assert (bed["depth"], bed["water"]) == ("6 in", "5 in")


def test_a_change_from_another_state_of_the_file_overwrites_nothing(there):
    """Two tabs, or another program: it is said, the newer file stays, and what was typed is shown."""
    client, path = there
    old = hidden(client, "room")
    assert typed(client, "room", {"/room/sill": "5 in"}).status_code == 200
    newer = path.read_bytes()
    answer = typed(client, "room", {"/room/width": "15 ft"}, carried=old)
    assert answer.status_code == 409 and answer.json()["conflict"] == page_words.CONFLICT
    answer = typed(client, "room", {"/room/width": "15 ft"}, carried=old, script=False)
    assert answer.status_code == 409 and page_words.CONFLICT in answer.text
    assert "room, width" in answer.text and "15 ft" in answer.text
    assert path.read_bytes() == newer
    path.write_bytes(newer.replace(b"16 ft", b"17 ft"))
    for step, values in (("text", {"text": "x: y"}), ("fix", {"do": "search"}), ("room", {"do": "undo"})):
        fresh = {**hidden(client, "room"), "revision": old["revision"]}
        assert typed(client, step, values, carried=fresh).status_code == 409
    assert b"17 ft" in path.read_bytes()


def test_what_was_typed_beside_an_older_file_is_shown_until_it_is_forgotten(there):
    client, path = there
    typed(client, "vessels", {"/vessels/0/water": "9 inn"})
    path.write_bytes(path.read_bytes().replace(b"16 ft", b"17 ft"))
    page = client.get("/file/n.yaml/vessels").text
    assert page_words.STRAY in page and "9 inn" in page and value_of(page, "/vessels/0/water") == "9 in"
    typed(client, "room", {"/room/sill": "4 in"})
    assert "9 inn" in client.get("/file/n.yaml/vessels").text
    typed(client, "vessels", {}, do="forget")
    assert "9 inn" not in client.get("/file/n.yaml/vessels").text


def test_a_file_that_is_wrong_opens_as_text_with_its_faults(there):
    client, path = there
    path.write_bytes(path.read_bytes().replace(b"sill: 3 in", b"sill: 3 inn").replace(b"bays: 3", b"bays: many"))
    for step in STEPS:
        page = client.get(f"/file/n.yaml/{step}")
        assert page.status_code == 200 and page_words.WRONG_FILE in page.text
        assert (
            re.search(r"n\.yaml:\d+:\d+: room\.sill: found", page.text)
            and "E-UNIT-004" in page.text
            and "E-TYPE-001" in page.text
        )
    right = path.read_text().replace("3 inn", "3 in").replace("bays: many", "bays: 3")
    carried = dict(re.findall(r'name="(form_key|revision)" value="([^"]*)"', page.text))
    answer = client.post("/file/n.yaml/text", data={**carried, "text": right})
    assert answer.status_code == 303 and path.read_text() == right
    assert page_words.WRONG_FILE not in client.get("/file/n.yaml/text").text


def test_a_wrong_text_is_kept_and_the_file_stays(there):
    client, path = there
    before = path.read_bytes()
    text = before.decode().replace("bays: 3", "bays: [3")
    answer = client.post("/file/n.yaml/text", data={**hidden(client, "text"), "text": text})
    assert answer.status_code == 422 and "E-YAML-001" in answer.text and "bays: [3" in answer.text
    assert path.read_bytes() == before
    with page_of(path.parent) as other:
        assert "bays: [3" in other.get("/file/n.yaml/text").text
    assert client.post("/file/n.yaml/text", data={**hidden(client, "text"), "text": before.decode()}).status_code == 303
    assert "bays: [3" not in client.get("/file/n.yaml/text").text and path.read_bytes() == before


def test_the_text_that_is_shown_is_the_file_s(there):
    """Sent back as it came it changes nothing; so do lines in a field of the form."""
    client, path = there
    page = client.get("/file/n.yaml/text").text
    shown = unescape(re.search(r"<textarea[^>]*>\n(.*?)</textarea>", page, re.S)[1])
    assert shown == path.read_text()
    answer = client.post("/file/n.yaml/text", data={**hidden(client, "text"), "text": shown.replace("\n", "\r\n")})
    assert answer.status_code == 303 and path.read_bytes() == demo_bytes("nursery")
    flow = client.get("/file/n.yaml/flow").text
    curve = re.search(r'<textarea id="f/pumps/0/curve"[^>]*>\n(.*?)</textarea>', flow, re.S)[1]
    assert curve.split("\n") == ["0 gal/h at 14 ft", "900 gal/h at 7 ft", "1500 gal/h at 0 ft"]
    answer = typed(client, "flow", {"/pumps/0/curve": curve.replace("\n", "\r\n")}).json()
    assert answer["said"] == "" and path.read_bytes() == demo_bytes("nursery")


def test_the_last_change_is_taken_back(there):
    client, path = there
    before = path.read_bytes()
    typed(client, "room", {"/room/sill": "4 in"})
    typed(client, "vessels", {}, do="remove:/vessels/2")
    assert b"carp tank" not in path.read_bytes()
    typed(client, "vessels", {}, do="undo")
    typed(client, "vessels", {}, do="undo")
    assert path.read_bytes() == before
    assert "nothing to take back" in typed(client, "vessels", {}, do="undo").json()["alert"]


def test_what_others_changed_since_is_not_taken_back(there):
    """Neither from a page that was loaded after that, nor in the end by going further back."""
    client, path = there
    typed(client, "room", {"/room/sill": "4 in"})
    ours = path.read_bytes()
    path.write_bytes(ours.replace(b"16 ft", b"17 ft"))
    theirs = path.read_bytes()
    assert re.search(r'id="undo" disabled', client.get("/file/n.yaml/room").text)
    answer = typed(client, "room", {}, do="undo").json()
    assert answer["alert"] == page_words.CHANGED_SINCE and path.read_bytes() == theirs
    typed(client, "room", {"/room/sill": "5 in"})
    typed(client, "room", {}, do="undo")
    assert path.read_bytes() == theirs
    assert typed(client, "room", {}, do="undo").json()["alert"] and path.read_bytes() == theirs
    path.write_bytes(ours)
    typed(client, "room", {}, do="undo")
    assert path.read_bytes() == demo_bytes("nursery")


def test_a_step_that_could_not_be_taken_back_is_still_there(there, monkeypatch):
    client, path = there
    typed(client, "room", {"/room/sill": "4 in"})
    carried = hidden(client, "room")

    def full(*_):
        raise OutputError([Problem("E-FILE-003", "no space left", file="n.yaml")])

    with monkeypatch.context() as patch:
        patch.setattr(Folder, "write", full)
        assert typed(client, "room", {}, carried=carried, do="undo").status_code == 400
    assert b"sill: 4 in" in path.read_bytes()
    typed(client, "room", {}, carried=carried, do="undo")
    assert path.read_bytes() == demo_bytes("nursery")


def text_posted(client, text):
    return client.post("/file/n.yaml/text", data={**hidden(client, "text"), "text": text})


@pytest.mark.parametrize("change", ["a field", "a button", "a measure", "undo"])
def test_a_wrong_text_is_not_shown_as_that_of_a_later_file_and_not_lost(there, change):
    client, path = there
    typed(client, "room", {"/room/width": "15 ft"})
    text_posted(client, path.read_text().replace("bays: 3", "bays: [3"))
    assert "bays: [3" in client.get("/file/n.yaml/text").text
    if change == "a field":
        typed(client, "room", {"/room/sill": "4 in"})
    elif change == "a button":
        typed(client, "room", {}, do="add:/room/sockets:")
    elif change == "undo":
        typed(client, "room", {}, do="undo")
    else:
        opened = client.app.app.state.shared.open("n.yaml")
        opened.put_edits(opened.now().revision, [Edit(("room", "sill"), "4 in")], "")
    page = client.get("/file/n.yaml/text").text
    shown = unescape(re.search(r"<textarea[^>]*>\n(.*?)</textarea>", page, re.S)[1])
    assert shown == path.read_text()
    assert page_words.STRAY in page and "bays: [3" in page.replace(shown, "")


def test_a_wrong_text_stays_where_no_field_changed_the_file(there):
    client, path = there
    text_posted(client, path.read_text().replace("bays: 3", "bays: [3"))
    typed(client, "vessels", {"/vessels/0/water": "9 inn"})
    page = client.get("/file/n.yaml/text").text
    assert "bays: [3" in page and page_words.STRAY not in page
    text_posted(client, path.read_text().replace("bays: 3", "bays: [4"))
    assert value_of(client.get("/file/n.yaml/vessels").text, "/vessels/0/water") == "9 inn"
    text_posted(client, path.read_text())
    assert value_of(client.get("/file/n.yaml/vessels").text, "/vessels/0/water") == "9 inn"


@pytest.mark.parametrize("change", ["the text", "undo", "what goes along", "another description"])
def test_a_mistake_that_loses_its_field_is_shown_until_it_is_forgotten(there, change):
    client, path = there
    typed(client, "room", {"/room/sill": "4 in"})
    name = "diameter" if change == "another description" else "water"
    typed(client, "vessels", {f"/vessels/2/{name}": "deep"})
    if change == "the text":
        assert text_posted(client, path.read_text().replace("16 ft", "17 ft")).status_code == 303
    elif change == "undo":
        typed(client, "room", {}, do="undo")
    elif change == "what goes along":
        typed(client, "vessels", {}, do="remove:/vessels/3")
    else:
        typed(client, "vessels", {}, do="square:/vessels/2")
    page = client.get("/file/n.yaml/vessels").text
    assert page_words.STRAY in page and f"vessels, 2, {name}" in page and "<pre>deep</pre>" in page
    with page_of(path.parent) as other:
        assert "<pre>deep</pre>" in other.get("/file/n.yaml/vessels").text
    typed(client, "vessels", {"/vessels/0/water": "9 inn"})
    typed(client, "vessels", {}, do="forget")
    page = client.get("/file/n.yaml/vessels").text
    assert "deep" not in page and page_words.STRAY not in page
    assert value_of(page, "/vessels/0/water") == "9 inn", "what stands in a field is not what is forgotten"


def test_a_long_note_of_what_was_typed_is_read_again():
    draft = Draft(values={"/room/sill": "nine"})
    for _ in range(40):
        draft = replace(draft, text="x" * LONGEST_TEXT).text_strayed()
    again = draft_of(draft.data())
    assert again.values == draft.values and len(again.stray) > 10 and len(draft.data()) <= MOST_BYTES


def test_what_goes_with_a_piece_is_said(there):
    client, path = there
    answer = typed(client, "vessels", {}, do="remove:/vessels/2").json()
    for name in ("lift pump", "bed pump", "bed return", "tank overflow"):
        assert name in answer["said"]
    raw = read_bytes(path.read_bytes(), "").raw
    assert [one["name"] for one in raw["vessels"]] == ["cress bed", "mint bed", "sump"]
    assert "pumps" not in raw and "pipes" not in raw and raw["supplies"]


def test_what_was_typed_into_the_next_piece_moves_up_with_it(there):
    client, _ = there
    typed(client, "vessels", {"/vessels/3/water": "deep"})
    typed(client, "hung", {}, do="remove:/hung/0")
    typed(client, "flow", {}, do="remove:/supplies/0")
    typed(client, "vessels", {}, do="remove:/vessels/1")
    page = client.get("/file/n.yaml/vessels").text
    assert value_of(page, "/vessels/2/water") == "deep"


@pytest.mark.parametrize("do", ["add:/vessels:tank", "add:/joints:brace to post north", "remove:/vessels/77", "weighed:/nothing", "add:/racks/none/braces:", "add:/vessels:../..", "what:/is", "remove:", "remove:/room"])  # fmt: skip
def test_a_button_of_nobody_s_page_breaks_nothing(there, do):
    client, path = there
    answer = typed(client, "vessels", {}, do=do)
    assert answer.status_code == 200
    read_bytes(path.read_bytes(), "")


def test_without_script_a_page_of_answers_and_a_button_go_together(there):
    client, path = there
    answer = typed(client, "room", {"/room/sill": "4 in", "/room/width": "wide"}, script=False, do="add:/room/sockets:")
    assert answer.status_code == 303
    page = client.get(answer.headers["location"]).text
    assert value_of(page, "/room/width") == "wide" and "E-UNIT-001" in errors_of(page, "/room/width")
    raw = read_bytes(path.read_bytes(), "").raw
    assert raw["room"]["sill"] == "4 in" and len(raw["room"]["sockets"]) == 2
    answer = typed(client, "room", {"/room/width": "16 ft"}, script=False, then="racks")
    assert answer.headers["location"] == "/file/n.yaml/racks"


def test_a_page_goes_on_only_when_its_answers_are_right(there):
    client, _ = there
    answer = typed(client, "room", {"/room/width": "wide"}, script=False, then="racks")
    assert answer.headers["location"] == "/file/n.yaml/room"


# what is shown


@pytest.mark.parametrize("name", DEMOS)
def test_figures_come_in_stages_and_are_those_of_check_in_the_end(name):
    """No stage shows what it does not know yet, and none what an earlier file came to."""
    engine = Engine(0)
    try:
        source = demo(name)
        system = source.installation.system
        calculation = Calculation(engine, source.installation, source.raw)
        sketch = results(calculation.now(), system)
        if source.installation.racks:
            assert calculation.now().stage == DRAWN
            assert (sketch.headline, sketch.counts, sketch.joint, sketch.worst, sketch.water) == ("", (), None, (), "")
            assert sketch.state == page_words.BEING_DRAWN and sketch.overall == "open"
        known = calculation.after(DRAWN, 60.0)
        dry = results(known, system)
        assert known.stage >= DRY
        if known.stage == DRY:
            assert dry.state == page_words.BEING_RUN and not (dry.water or dry.cost or dry.first or dry.code)
        whole = calculation.after(DRY, 60.0)
        expected = assess(source.installation)
        assert whole.stage == WHOLE and whole.whole.findings == expected.findings
        shown = results(whole, system)
        assert shown.headline == summary_words.headline(expected) and shown.state == page_words.CURRENT
        assert {verdict: number for verdict, _, number in shown.counts} == choice.counts(expected)
    finally:
        engine.end()


def test_what_is_superseded_is_never_shown_as_current():
    engine = Engine(0)
    try:
        source = demo("nursery")
        old = Calculation(engine, source.installation, source.raw)
        old.supersede()
        assert old.after(DRAWN, 60.0) is None and old.superseded
    finally:
        engine.end()


def test_a_request_for_an_older_file_does_not_stop_the_newer_one_s_figures(there):
    client, _ = there
    opened = client.app.app.state.shared.open("n.yaml")
    old = opened.now()
    typed(client, "racks", {"/racks/north/deck_height": "27 in"})
    newer = opened.calculation(opened.now())
    assert file_pages.whole(opened, old).findings == assess(old.source.installation).findings
    assert not newer.superseded and newer.after(DRY, 60.0).stage == WHOLE


def test_figures_that_were_given_up_are_asked_for_again_where_the_file_is_the_same(there, monkeypatch):
    """As when a change was made and taken back while they were waited for."""
    client, _ = there
    first = typed(client, "racks", {"/racks/north/deck_height": "27 in"}).json()["follow"]
    after, calls = Calculation.after, []

    def once(self, *given):
        calls.append(given)
        return None if len(calls) == 1 else after(self, *given)

    monkeypatch.setattr(Calculation, "after", once)
    assert client.get(first).json()["fragments"]["aside"]


def test_a_later_stage_of_an_older_file_is_not_given_out(there):
    client, _ = there
    answer = typed(client, "racks", {"/racks/north/deck_height": "27 in"}).json()
    first = answer["follow"]
    assert "being worked out" in answer["fragments"]["aside"]
    answer = typed(client, "racks", {"/racks/north/deck_height": "28 in"}, carried={**hidden(client, "racks")}).json()
    assert client.get(first).json() == {"gone": True}
    address, last = answer["follow"], answer
    while address:
        last = client.get(address).json()
        address = last["follow"]
    assert page_words.CURRENT in last["fragments"]["aside"] and last["result"]


@pytest.mark.parametrize("address", ["/file/n.yaml/results", "/file/n.yaml/results?revision=0&stage=9", "/file/n.yaml/results?stage=x", "/file/n.yaml/results?stage=²", "/file/n.yaml/water?moment=-1&run=none", "/file/n.yaml/water?moment=99999", "/file/n.yaml/water?moment=²", "/file/n.yaml/nothing", "/file/n.yaml/take/nothing", "/file/n.yaml/take/report.pdf?plan=none", "/file/n.yaml/take/shopping", "/static/nothing", "/static/../app.py"])  # fmt: skip
def test_odd_addresses_get_a_plain_answer(there, address):
    client, _ = there
    answer = client.get(address)
    assert answer.status_code in (200, 404) and "Traceback" not in answer.text


def test_the_pond_is_that_of_the_report(there):
    client, _ = there
    page = client.get("/file/n.yaml/water").text
    assessment = assess(demo("nursery").installation)
    worst = assessment.spill.worst
    data = json.loads(unescape(re.search(r'data-moments="([^"]*)"', page)[1]))
    at = int(re.search(r'id="moment"[^>]* value="(\d+)"', page)[1])
    assert data[at][0] == 10 and data[0][1] < data[-1][1]
    assert show(worst.depth, "length", "us", 2) in data[at][2]
    assert unescape(re.search(r'aria-valuetext="([^"]*)"', page)[1]) == data[at][2]
    other = client.get("/file/n.yaml/water?moment=0", headers={"accept": "application/json"}).json()
    assert 'value="0"' in other["fragments"]["pond"]


def test_a_measure_on_trial_changes_what_the_whole_computation_says(there):
    client, path = there
    before = path.read_bytes()
    page = client.get("/file/n.yaml/fix").text
    ids = re.findall(r'name="measure" value="([^"]*)"', page)
    carried = hidden(client, "fix")
    answer = typed(client, "fix", {"measure": ids[0]}, carried=carried, do="try", stage="0").json()
    while answer["again"]:
        answer = typed(client, "fix", {"measure": ids[0]}, carried=carried, do="try", stage=str(answer["stage"])).json()
    assert "checks are short as it is" in answer["result"] and "→" not in answer["result"]
    assert path.read_bytes() == before
    answer = typed(client, "fix", {"measure": ids[0]}, carried=carried, do="put").json()
    assert answer["location"] == "/file/n.yaml/fix" and path.read_bytes() != before
    after = assess(read_bytes(path.read_bytes(), "").installation)
    short = choice.counts(after)["short"]
    page = client.get("/file/n.yaml/fix").text
    assert f"{short} of " in page or f"✗ {short}" in page


def test_measures_of_one_kind_are_not_tried_together(there):
    client, _ = there
    page = client.get("/file/n.yaml/fix").text
    found = re.findall(r'name="measure" value="([^"]*)" data-kind="([^"]*)"', page)
    kind = next(kind for _, kind in found if sum(one == kind for _, one in found) > 1)
    two = [id for id, one in found if one == kind][:2]
    answer = client.post("/file/n.yaml/fix", data={**hidden(client, "fix"), "measure": two, "do": "try"})
    assert answer.status_code == 200 and "only one can be chosen" in answer.text


# files


def test_a_new_installation_begins_by_a_few_answers(tmp_path):
    with page_of(tmp_path) as client:
        key = re.search(r'name="form_key" value="([^"]*)"', client.get("/").text)[1]
        given = {
            "form_key": key,
            "how": "answers",
            "name": "Müller's room",
            "shape": "rack",
            "units": "si",
            "room": "5 m x 4 m",
            "sill": "20 mm",
            "storey": "2 of 3",
            "below": "own room",
            "category": "C",
        }
        answer = client.post("/", data=given)
        assert answer.status_code == 303 and answer.headers["location"] == "/file/muller-s-room.yaml/place"
        raw = read_bytes((tmp_path / "muller-s-room.yaml").read_bytes(), "").raw
        assert raw["installation"] == "Müller's room" and raw["exposure"]["below"] == "own room"
        assert client.post("/", data=given).headers["location"] == "/file/muller-s-room-2.yaml/place"


def test_a_name_that_is_taken_this_very_moment_is_not_overwritten(tmp_path, monkeypatch):
    """Two who begin at once: what the second finds was not there when it looked."""
    folder = Folder(tmp_path)
    assert folder.create("n.yaml", b"first") and not folder.create("n.yaml", b"second")
    monkeypatch.setattr(os.path, "lexists", lambda path: False)
    assert copied(folder, "porch") == "porch.yaml" and copied(folder, "porch") == "porch-2.yaml"
    assert (tmp_path / "n.yaml").read_bytes() == b"first"
    assert (tmp_path / "porch.yaml").read_bytes() == (tmp_path / "porch-2.yaml").read_bytes() == demo_bytes("porch")


def test_a_new_file_that_can_not_be_written_leaves_nothing(tmp_path, monkeypatch):
    def full(*_):
        raise OutputError([Problem("E-FILE-003", "no space left")])

    monkeypatch.setattr("brimfast.reports.page.folder.write_whole", full)
    with pytest.raises(OutputError):
        Folder(tmp_path).create("n.yaml", b"data")
    assert list(tmp_path.iterdir()) == []


def test_what_was_typed_and_can_not_be_put_away_is_told_in_a_line(there, monkeypatch):
    client, _ = there
    typed(client, "vessels", {"/vessels/0/water": "9 inn"})
    unlink = Path.unlink

    def refused(self, **given):
        if self.name.endswith(".typed"):
            raise PermissionError(13, "Permission denied")
        unlink(self, **given)

    carried = hidden(client, "vessels")
    monkeypatch.setattr(Path, "unlink", refused)
    answer = typed(client, "vessels", {"/vessels/0/water": "8 in"}, carried=carried)
    assert answer.status_code == 400 and "[E-FILE-003]" in answer.text


@pytest.mark.parametrize(
    ("key", "text", "code"),
    [
        ("room", "big", "E-UNIT"),
        ("sill", "3", "E-UNIT-003"),
        ("storey", "top", "E-TYPE-001"),
        ("category", "Z", "E-WORD-001"),
        ("s_ds", "9", "E-RANGE-001"),
        ("standard", "none", "E-WORD-001"),
        ("shape", "round", "E-WORD-001"),
    ],
)
def test_a_wrong_answer_is_told_at_its_question_and_nothing_is_lost(tmp_path, key, text, code):
    with page_of(tmp_path) as client:
        form_key = re.search(r'name="form_key" value="([^"]*)"', client.get("/").text)[1]
        given = {
            "form_key": form_key,
            "how": "answers",
            "name": "kept name",
            "shape": "tanks",
            "units": "us",
            key: text,
        }
        answer = client.post("/", data=given)
        assert answer.status_code == 422 and "kept name" in answer.text
        help = re.search(rf'id="q-{key}-help">(.*?)</p>', answer.text, re.S)[1]
        assert code in help
        assert list(tmp_path.iterdir()) == []


def test_a_demo_and_a_file_of_one_s_own(tmp_path):
    with page_of(tmp_path) as client:
        key = re.search(r'name="form_key" value="([^"]*)"', client.get("/").text)[1]
        assert client.post("/", data={"form_key": key, "how": "demo", "demo": "porch"}).status_code == 303
        assert (tmp_path / "porch.yaml").read_bytes() == demo_bytes("porch")
        for name, kept in (
            ("my file.yaml", "my file.yaml"),
            ("../../evil.yaml", "evil.yaml"),
            ("C:\\x\\a b.yml", "a b.yml"),
            (".hidden", "hidden.yaml"),
        ):
            files = {"file": (name, demo_bytes("porch"), "text/plain")}
            answer = client.post("/", data={"form_key": key, "how": "file"}, files=files)
            assert answer.status_code == 303
            assert (tmp_path / kept).read_bytes() == demo_bytes("porch")
        assert all(path.parent == tmp_path for path in tmp_path.rglob("*"))


def test_report_and_file_are_those_of_the_command_line(there):
    client, path = there
    source = read_bytes(path.read_bytes(), "n.yaml")
    assert client.get("/file/n.yaml/take/file").content == path.read_bytes()
    answer = client.get("/file/n.yaml/take/report.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content == report_bytes(assess(source.installation), source.sha256, "us", date.today())
    page = client.get("/file/n.yaml/take/report.html")
    assert "attachment" in page.headers["content-disposition"] and page.text.startswith("<!doctype html>")


def test_every_step_says_where_one_is_and_that_others_decide(there):
    client, _ = there
    for step in STEPS:
        page = client.get(f"/file/n.yaml/{step}").text
        assert page.count('aria-current="page"') == 1 and words.DEFER in page
        assert page.count("<h1") == 1 and f"<h1>{STEPS[step].title}</h1>" in page
        assert "safe" not in page.lower().replace("safe side", "")


def test_every_class_has_a_rule_and_every_rule_is_used():
    page = files("brimfast.reports.page")
    style = re.sub(r"/\*.*?\*/|\{[^{}]*\}", " ", page.joinpath("static", "page.css").read_text(), flags=re.S)
    ruled = {name for name in re.findall(r"\.([a-z][\w-]*)", style) if not name.startswith("shade-")}
    given, told = set(), page.joinpath("static", "page.js").read_text()
    for name in TEMPLATES:
        text = page.joinpath("templates", name).read_text()
        told += text
        for classes in re.findall(r'class="([^"]*)"', re.sub(r"\{%.*?%\}|\{\{.*?\}\}", " ", text)):
            given |= set(classes.split())
    assert given <= ruled, given - ruled
    unused = {name for name in ruled if not re.search(rf"\b{name}\b", told)}
    assert unused <= {"short", "close", "holds", "open"}  # verdicts
