"""Measures on trial, the search for plans, and what is taken along: nothing cut off, nothing of another state of the file."""

import re
from types import SimpleNamespace

import pytest

from brimfast.assess.measures.measure import Need
from brimfast.assess.measures.propose import propose
from brimfast.assess.pipeline import assess
from brimfast.assess.plan.bench import changed
from brimfast.assess.plan.score import Answer, Change
from brimfast.reports.page import file_pages, page_words, searching, take, trials
from brimfast.reports.page.calculation import DRAWN, DRY, WHOLE, Calculation, Known
from brimfast.reports.page.searching import Progress
from brimfast.reports.page.views import rendered
from brimfast.shared.demo import demo, demo_bytes
from brimfast.shared.reading import read_bytes
from tests.pages import hidden, nursery, page_of, typed


@pytest.fixture
def there(tmp_path):
    path = nursery(tmp_path)
    with page_of(tmp_path) as client:
        yield client, path


@pytest.fixture(scope="module")
def assessed():
    found = assess(demo("nursery").installation)
    return found, propose(found)


def shared_of(client):
    return client.app.app.state.shared


# measures on trial


def test_measures_tried_before_are_given_up_for_those_that_are_tried_now(there, assessed):
    client, _ = there
    opened = shared_of(client).open("n.yaml")
    state = opened.now()
    before, measures = assessed
    raw = state.source.raw
    main = opened.calculation(state)
    for one in measures[:2]:
        trials.tried(opened, state, before, [one], 0, 0.0)
    tried = [opened._calculations[state.revision, one.id].superseded for one in measures[:2]]
    assert tried == [True, False]
    first, second = (opened.trial((one.id,), changed(raw, [one]), raw) for one in measures[:2])
    assert first.superseded and not second.superseded and not main.superseded
    assert opened.trial((measures[1].id,), changed(raw, [measures[1]]), raw) is second and not second.superseded
    assert first.after(DRAWN, 60.0) is None


def test_a_trial_that_was_given_up_says_so_and_puts_nothing_in(there, assessed, monkeypatch):
    client, path = there
    id = assessed[1][0].id
    carried = hidden(client, "fix")
    shared_of(client).open("n.yaml").calculation(shared_of(client).open("n.yaml").now()).whole()
    monkeypatch.setattr(Calculation, "after", lambda *_: None)
    answer = typed(client, "fix", {"measure": id}, carried=carried, do="try").json()
    assert page_words.TRIED_ELSEWHERE in answer["fragments"]["tried"] and not answer["again"]
    page = typed(client, "fix", {"measure": id}, carried=carried, do="put", script=False)
    assert page_words.TRIED_ELSEWHERE in page.text and "Nothing is switched on" not in page.text
    assert re.search(rf'value="{re.escape(id)}"[^>]* checked', page.text)
    assert path.read_bytes() == demo_bytes("nursery")


def test_all_that_gets_worse_is_named_and_what_gets_better_is_counted(assessed, monkeypatch):
    before, measures = assessed
    many = [
        Change(str(number), Answer("holds", 0.5, f"joint {number}"), Answer("short", 1.5, f"joint {number}"))
        for number in range(40)
    ]
    monkeypatch.setattr(trials, "changes", lambda *_: (many, many))
    after = changed(demo("nursery").raw, measures[:1])
    tried = trials._compared(before, Known(WHOLE, before), measures[:1], after)
    page = rendered("tried.html", tried=tried, name="n.yaml")
    assert page.count('class="worse"') == 40 and all(f"Worse: joint {number}<" in page for number in range(40))
    assert page.count("<tr") == 1 + 40 + trials.MOST_CHANGES
    assert page_words.MORE_BETTER.format(more=40 - trials.MOST_CHANGES) in page


@pytest.mark.parametrize("stage", [DRAWN, DRY])
def test_of_a_trial_nothing_is_said_of_the_drawing(stage):
    """It is of the file as it stands."""
    page = rendered("tried.html", tried=trials.Tried(stage, ("one",)), name="n.yaml")
    assert "drawing" not in page and (page_words.TRIAL_BEGUN in page, page_words.TRIAL_RUN in page) == (
        stage == DRAWN,
        stage == DRY,
    )


# the search


def found_for(client):
    """A search that has found one plan for the file as it is."""
    search = shared_of(client).search("n.yaml")
    state = shared_of(client).open("n.yaml").now()
    plan = SimpleNamespace(names=("cheap",), needs=[Need("lid fastening", 1, "hook")])
    search._improvement, search._revision = SimpleNamespace(plans=(plan,)), state.revision
    return search, plan


def test_a_search_that_can_not_begin_says_so(there, monkeypatch):
    client, _ = there

    def none(*_):
        raise OSError(11, "Resource temporarily unavailable")

    monkeypatch.setattr(searching, "Errand", none)
    answer = typed(client, "fix", {}, do="search").json()
    assert answer["follow"] == "" and 'id="progress"' not in answer["fragments"]["search"]
    assert page_words.SEARCH_FAILED.format(why="resource temporarily unavailable") in answer["fragments"]["search"]


class Endless:
    """An errand that never tells anything."""

    def __init__(self, *_):
        pass

    def news(self):
        return iter(())

    def end(self):
        pass


@pytest.mark.parametrize("what", ["report.pdf", "shopping"])
def test_a_search_that_begins_meanwhile_takes_no_plan_out_of_what_is_being_made(there, monkeypatch, what):
    client, _ = there
    search, plan = found_for(client)
    monkeypatch.setattr(searching, "Errand", Endless)
    given = []

    def made(*made_of):
        given.append(made_of)
        return take.Taken("n", "text/plain", b"made")

    def again(opened, state):
        search.begin(state.revision, state.source.installation, state.source.raw)

    monkeypatch.setattr(file_pages, "whole", again)
    monkeypatch.setattr(take, "report", made)
    answer = client.get(f"/file/n.yaml/take/{what}?plan=cheap")
    assert answer.status_code == 200
    if what == "shopping":
        assert "[ ] 1 x lid fastening: hook" in answer.text
    else:
        (planned,) = (one[-1] for one in given)
        assert planned.plan is plan and planned.improvement.plans == (plan,)


def test_progress_and_plans_are_of_one_search(there, monkeypatch):
    client, _ = there
    search, _ = found_for(client)
    monkeypatch.setattr(searching, "Errand", Endless)
    state = shared_of(client).open("n.yaml").now()
    search.begin(state.revision, state.source.installation, state.source.raw)
    assert search.shown(state.revision) == searching.Shown(Progress("runs", page_words.SEARCH_BEGINS))
    assert search.plan("cheap", state.revision) is None


def test_a_plan_names_the_first_steps_and_counts_the_rest():
    porch = demo("porch").installation
    steps = [Change(str(one), Answer("short", 1.5, f"joint {one}"), Answer("holds", 0.5)) for one in range(13)]
    nothing = SimpleNamespace(low=0.0, high=0.0, low_hours=0.0, high_hours=0.0, known=(0.0, 0.0))
    plan = SimpleNamespace(
        names=("cheap",), measures=(), takes=nothing, needs=[], better=steps, worse=steps,
        assessment=SimpleNamespace(findings=()),
    )  # fmt: skip
    shown = searching._shown(plan, SimpleNamespace(assessment=SimpleNamespace(installation=porch)))
    assert len(shown.better) == searching.MOST_STEPS and shown.more == 3 and len(shown.worse) == 13
    page = rendered(
        "search.html", search=searching.Shown(Progress("done"), (shown,)), name="porch.yaml", form_key="", revision=""
    )
    assert page_words.MORE_BETTER.format(more=3) in page


@pytest.mark.parametrize("what", ["report.pdf", "shopping"])
def test_a_plan_of_an_older_file_says_what_became_of_it(there, what):
    client, _ = there
    found_for(client)
    typed(client, "room", {"/room/sill": "4 in"})
    answer = client.get(f"/file/n.yaml/take/{what}?plan=cheap")
    assert answer.status_code == 410 and page_words.PLAN_GONE in answer.text
    assert page_words.NO_SUCH_PAGE not in answer.text
    answer = typed(client, "fix", {}, do="plan:cheap")
    assert answer.status_code == 410 and answer.text == page_words.PLAN_GONE
    answer = client.get("/file/n.yaml/take/shopping?measure=none")
    assert answer.status_code == 410 and page_words.MEASURES_GONE in answer.text


def test_what_could_not_be_worked_out_is_not_called_a_page_that_is_not_there(there, monkeypatch):
    client, _ = there

    def never(self):
        raise file_pages.CancelledError

    monkeypatch.setattr(Calculation, "whole", never)
    answer = client.get("/file/n.yaml/fix")
    assert answer.status_code == 503 and page_words.TOO_OFTEN in answer.text
    assert page_words.NO_SUCH_PAGE not in answer.text
    answer = client.post("/file/n.yaml/room", data={str(number): "" for number in range(4000)})
    assert answer.status_code == 400 and page_words.NOT_ASKED_SO in answer.text


# the shopping list


@pytest.mark.parametrize(
    ("prices", "said"),
    [
        ("", "Prices are planning figures."),
        ("prices: {pan: 9}\n", "Prices are those of the file."),
        ("prices: {lid: 9}\n", "Prices are planning figures."),
    ],
)
def test_a_shopping_list_says_where_its_prices_are_from(prices, said):
    installation = read_bytes(demo_bytes("nursery") + prices.encode(), "n.yaml").installation
    told = take.shopping(installation, [Need("pan", 1, "wide"), Need("fit a brace", 1, "long")], "n.yaml").data.decode()
    assert said in told and (said == "Prices are planning figures.") == ("planning" in told)


def test_a_shopping_list_of_both_kinds_of_prices_says_so():
    installation = read_bytes(demo_bytes("nursery") + b"prices: {pan: 9}\n", "n.yaml").installation
    told = take.shopping(installation, [Need("pan", 1, "wide"), Need("lid", 1, "wide")], "n.yaml").data.decode()
    assert "those of the file where it gives them, else planning figures" in told


# what belongs to no step


@pytest.mark.parametrize("step", file_pages.STEPS)
def test_what_strayed_is_forgotten_on_every_step(there, step):
    client, path = there
    typed(client, "vessels", {"/vessels/0/water": "9 inn"})
    path.write_bytes(path.read_bytes().replace(b"16 ft", b"17 ft"))
    page = client.get(f"/file/n.yaml/{step}").text
    assert page_words.STRAY in page
    key, revision = (re.search(rf'name="{name}" value="([^"]*)"', page)[1] for name in ("form_key", "revision"))
    answer = client.post(f"/file/n.yaml/{step}", data={"form_key": key, "revision": revision, "do": "forget"})
    assert answer.status_code == 303 and answer.headers["location"] == f"/file/n.yaml/{step}"
    assert page_words.STRAY not in client.get("/file/n.yaml/room").text


def test_a_name_with_a_stroke_is_told_as_the_file_has_it(tmp_path):
    path = nursery(tmp_path)
    path.write_bytes(
        path.read_bytes()
        .replace(b"\n  north:", b"\n  north/south:")
        .replace(b"on: north,", b"on: north/south,")
        .replace(b"rack: north\n", b"rack: north/south\n")
    )
    with page_of(tmp_path) as client:
        old = hidden(client, "racks")
        typed(client, "room", {"/room/sill": "5 in"})
        answer = typed(client, "racks", {"/racks/north~1south/bays": "4"}, carried=old).json()
        assert answer["typed"] == [["racks, north/south, bays", "4"]]
