"""The pages of one file: the steps of its form, its answers, and the parts of them that come later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from concurrent.futures import CancelledError
from datetime import date
from hashlib import sha256
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, RedirectResponse, Response

from brimfast.assess.measures.measure import shopping
from brimfast.assess.measures.propose import propose
from brimfast.assess.pipeline import Assessment
from brimfast.assess.plan.bench import changed
from brimfast.reports.improve_words import MEANING
from brimfast.reports.page import page_words, trials
from brimfast.reports.page import take as taking
from brimfast.reports.page.app import GoneError, Shared, shared
from brimfast.reports.page.calculation import WHOLE, Known
from brimfast.reports.page.form import Item, fields_in
from brimfast.reports.page.form_words import ANSWER_STEPS, FORM_STEPS, STEPS
from brimfast.reports.page.opened import Opened, State
from brimfast.reports.page.pictures import left_out, pictures
from brimfast.reports.page.results import Results
from brimfast.reports.page.results import results as results_of
from brimfast.reports.page.views import rendered
from brimfast.reports.page.water import water

LONGEST_WAIT = 20.0  # s, of one request that waits for a stage
SEARCH_PAUSE = 700  # ms, before it is asked again how far a search is
AGAIN = 5  # times that a superseded calculation is asked for anew


async def first(request: Request) -> Response:
    name = request.path_params["name"]
    return RedirectResponse(f"/file/{quote(name, safe='')}/place", 303)


async def step(request: Request) -> Response:
    name, id = request.path_params["name"], request.path_params["step"]
    if id not in STEPS:
        raise HTTPException(404)
    if id == "water" and _wants_json(request):
        return await run_in_threadpool(_other_water, shared(request), name, request.query_params)
    return await run_in_threadpool(_step, shared(request), name, id, request.query_params)


def _wants_json(request: Request) -> bool:
    return "application/json" in request.headers.get("accept", "")


def _step(there: Shared, name: str, id: str, query: Mapping[str, str]) -> Response:
    opened = there.open(name)
    return HTMLResponse(whole_page(there, opened, opened.now(), id, query))


def whole_page(
    there: Shared,
    opened: Opened,
    state: State,
    id: str,
    query: Mapping[str, str],
    alert: Sequence[str] = (),
    typed: Sequence[tuple[str, str]] = (),
    said: str = "",
    tried: trials.Tried | None = None,
) -> str:
    """alert: what was refused; typed: what was typed and not taken; said: what was done."""
    if state.source is None:
        return _text_page(there, state, alert, typed, said)
    calculation = opened.calculation(state)
    known = calculation.now()
    if id in ("fix", "water", "take") or query.get("whole"):
        assessment = whole(opened, state)
        known = Known(WHOLE, assessment)
    given: dict[str, Any] = {**_around(there, state, id, known), "alert": alert, "typed": typed, "done": said}
    if id == "text":
        return rendered("text.html", **given, problems=(), text=_file_text(state))
    if id == "water":
        return rendered("water.html", **given, water=_water(known, query, state))
    if id == "fix":
        return rendered("fix.html", **given, **_fix(there, state, known, tried))
    if id == "take":
        plans = [(one.name, one.title) for one in there.search(state.name).shown(state.revision).plans]
        return rendered("take.html", **given, plans=plans)
    return rendered("step.html", **given, **form_parts(state.form().step(id)))


def form_parts(items: Sequence[Item]) -> dict[str, Any]:
    return {"form_items": items, "shape": shape(items), "examples": any(item.kind == "pieces" for item in items)}


def shape(items: Sequence[Item]) -> str:
    """Which fields with which choices: as long as it is the same, only texts on the page have to change."""
    told = [(one.name, one.label, one.options) for one in fields_in(items)]
    return sha256(repr((told, [_heads(item) for item in items])).encode()).hexdigest()[:16]


def _heads(item: Item) -> Any:
    if item.kind == "field":
        return item.name
    if item.kind == "pieces":
        return item.name, item.adds, [_heads(one) for one in item.groups]  # type: ignore[union-attr]
    return item.name, item.legend, item.buttons, [_heads(one) for one in (*item.first, *item.more)]  # type: ignore[union-attr]


def whole(opened: Opened, state: State) -> Assessment:
    """The whole assessment of a state of the file, however often others supersede it."""
    for _ in range(AGAIN):
        try:
            return opened.calculation(state).whole()
        except CancelledError:
            continue
    raise HTTPException(503)


def _around(there: Shared, state: State, id: str, known: Known) -> dict[str, Any]:
    assert state.source is not None
    steps = [one.id for one in (*FORM_STEPS, *ANSWER_STEPS)]
    place = steps.index(id)
    following = STEPS[steps[place + 1]] if place + 1 < len(steps) else None
    return {
        "name": state.name,
        "title": state.source.installation.installation,
        "invented": state.source.installation.invented,
        "step": STEPS[id],
        "following": following,
        "revision": state.revision,
        "form_key": there.keys.form,
        "undo": state.undo,
        "kept": len(state.draft.values),
        "stray": state.draft.stray,
        **aside_parts(state, known),
    }


def aside_parts(state: State, known: Known) -> dict[str, Any]:
    assert state.source is not None
    system = state.source.installation.system
    found = results_of(known, system)
    return {
        "results": found,
        "pictures": pictures(known.sketch, system),
        "left_out": left_out(known.sketch),
        "follow": follow(state, known),
        "revision": state.revision,
        "name": state.name,
    }


def follow(state: State, known: Known) -> str:
    """Where the next stage is to be had; empty where there is none."""
    if known.stage == WHOLE:
        return ""
    return f"/file/{quote(state.name, safe='')}/results?revision={state.revision}&stage={known.stage}"


async def results(request: Request) -> Response:
    """The next stage of what is being worked out, as soon as it is there."""
    query = request.query_params
    name, revision, stage = request.path_params["name"], query.get("revision", ""), query.get("stage", "0")
    if not (stage.isascii() and stage.isdigit()):
        raise HTTPException(404)
    return await run_in_threadpool(_results, shared(request), name, revision, int(stage[:2]))


def _results(there: Shared, name: str, revision: str, stage: int) -> Response:
    opened = there.open(name)
    for _ in range(AGAIN):
        state = opened.now()
        if state.source is None or state.revision != revision:
            break
        known = opened.calculation(state).after(stage, LONGEST_WAIT)
        if known is not None:
            return JSONResponse(aside_answer(state, known))
    return JSONResponse({"gone": True})


def aside_answer(state: State, known: Known) -> dict[str, Any]:
    parts = aside_parts(state, known)
    found = parts["results"]
    assert isinstance(found, Results)
    return {"fragments": {"aside": rendered("aside.html", **parts)}, "follow": parts["follow"], "result": found.said}


def _other_water(there: Shared, name: str, query: Mapping[str, str]) -> Response:
    opened = there.open(name)
    state = opened.now()
    if state.source is None:
        return JSONResponse({"gone": True})
    found = _water(Known(WHOLE, whole(opened, state)), query, state)
    return JSONResponse({"fragments": {"pond": rendered("pond.html", water=found, name=name)}})


def _water(known: Known, query: Mapping[str, str], state: State) -> Any:
    assert known.whole is not None and state.source is not None
    moment = query.get("moment", "")
    number = int(moment) if moment.isascii() and moment.isdigit() and len(moment) < 6 else None
    return water(known.whole, query.get("run", ""), number, state.source.installation.system)


def _fix(there: Shared, state: State, known: Known, tried: trials.Tried | None) -> dict[str, Any]:
    assert known.whole is not None and state.source is not None
    chosen = tried.chosen if tried is not None else ()
    return {
        "switches": trials.switches(propose(known.whole), chosen, state.source.installation),
        "tried": tried,
        "search": there.search(state.name).shown(state.revision),
    }


async def search(request: Request) -> Response:
    return await run_in_threadpool(_search, shared(request), request.path_params["name"])


def _search(there: Shared, name: str) -> Response:
    answer = search_answer(there, there.open(name).now())
    if answer["follow"]:
        answer["result"] = ""  # not each step of the way is read out
    return JSONResponse(answer)


def search_answer(there: Shared, state: State) -> dict[str, Any]:
    found = there.search(state.name).shown(state.revision)
    page = rendered("search.html", search=found, name=state.name, revision=state.revision, form_key=there.keys.form)
    follow = f"/file/{quote(state.name, safe='')}/search" if found.progress.state == "runs" else ""
    return {"fragments": {"search": page}, "follow": follow, "wait": SEARCH_PAUSE, "result": found.progress.said}


def _text_page(there: Shared, state: State, alert: Sequence[str], typed: Sequence[tuple[str, str]], said: str) -> str:
    """Of a file that is wrong: its text, and what is wrong with it."""
    return rendered(
        "text.html",
        name=state.name,
        title=state.name,
        invented=False,
        step=STEPS["text"],
        following=None,
        revision=state.revision,
        form_key=there.keys.form,
        undo=state.undo,
        kept=0,
        stray=state.draft.stray,
        results=None,
        pictures=(),
        left_out=0,
        follow="",
        alert=alert,
        typed=typed,
        done=said,
        problems=tuple(one.text() for one in state.problems),
        text=_file_text(state),
    )


def _file_text(state: State) -> str:
    if state.draft.text is not None:
        return state.draft.text
    return state.data.decode("utf-8-sig", "replace")


async def take(request: Request) -> Response:
    name, what, query = request.path_params["name"], request.path_params["what"], request.query_params
    if what == "shopping" and "measure" in query:
        return await run_in_threadpool(_shopping, shared(request), name, query.getlist("measure"))
    return await run_in_threadpool(_take, shared(request), name, what, query)


def _take(there: Shared, name: str, what: str, query: Mapping[str, str]) -> Response:
    opened = there.open(name)
    state = opened.now()
    if what == "file":
        return _kept(taking.Taken(name, "application/yaml", state.data))
    if state.source is None:
        raise HTTPException(404)
    plan_name = query.get("plan", "")
    planned = there.search(name).plan(plan_name, state.revision) if plan_name else None
    if plan_name and planned is None:
        if plan_name not in MEANING:
            raise HTTPException(404)
        raise GoneError(page_words.PLAN_GONE)
    installation = state.source.installation
    system = installation.system
    if what == "report.pdf":
        return _kept(taking.report(whole(opened, state), state.revision, system, date.today(), name, planned))
    if what == "report.html":
        return _kept(taking.page(whole(opened, state), state.revision, system, date.today(), name))
    if what == "shopping" and planned is not None:
        return _kept(taking.shopping(installation, planned.plan.needs, name))
    raise HTTPException(404)


def _shopping(there: Shared, name: str, chosen: Sequence[str]) -> Response:
    """Of measures that are switched on."""
    opened = there.open(name)
    state = opened.now()
    if state.source is None:
        raise HTTPException(404)
    mine, against = trials.picked(propose(whole(opened, state)), chosen)
    after = None if against or not mine else changed(state.source.raw, mine)
    if after is None or len(mine) < len(set(chosen)):
        raise GoneError(page_words.MEASURES_GONE)
    before = state.source.installation
    return _kept(taking.shopping(before, shopping(tuple(mine), before, after), name))


def _kept(found: taking.Taken) -> Response:
    named = f"attachment; filename*=UTF-8''{quote(found.name, safe='')}"
    return Response(found.data, media_type=found.kind, headers={"content-disposition": named})
