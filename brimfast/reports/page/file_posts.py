"""Changes that come from the pages of one file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, JSONResponse, PlainTextResponse, RedirectResponse, Response

from brimfast.assess.measures.propose import propose
from brimfast.reports import improve_words
from brimfast.reports.page import page_words, trials
from brimfast.reports.page.app import GoneError, Shared, shared
from brimfast.reports.page.calculation import WHOLE
from brimfast.reports.page.changes import current
from brimfast.reports.page.draft import THE_TEXT, where
from brimfast.reports.page.file_pages import (
    LONGEST_WAIT,
    aside_answer,
    form_parts,
    search_answer,
    shape,
    whole,
    whole_page,
)
from brimfast.reports.page.form import fields_in
from brimfast.reports.page.form_words import FORM_STEPS, STEPS
from brimfast.reports.page.guard import MOST_POSTED, NOT_OURS, same
from brimfast.reports.page.opened import Changed, ChangedElsewhereError, Opened, State
from brimfast.reports.page.views import rendered

SHORT_WAIT = 5.0  # s, where the script asks again by itself
MOST_FIELDS = 3000
FOR_ALL_STEPS = ("undo", "forget")


@dataclass(frozen=True)
class Posted:
    """A form that came. fields: answers by pointer; do: the button; chosen: measures that are on."""

    revision: str
    fields: dict[str, str]
    do: str
    then: str
    shape: str
    text: str | None
    chosen: tuple[str, ...]
    stage: int


async def post(request: Request) -> Response:
    there, name, step = shared(request), request.path_params["name"], request.path_params["step"]
    if step not in STEPS:
        raise HTTPException(404)
    async with request.form(max_files=0, max_fields=MOST_FIELDS, max_part_size=MOST_POSTED) as form:
        pairs = [(key, value) for key, value in form.multi_items() if isinstance(value, str)]
    given = dict(pairs)
    if not same(given.get("form_key", ""), there.keys.form):
        return PlainTextResponse(NOT_OURS, 403)
    posted = Posted(
        given.get("revision", ""),
        {key: _lines(value) for key, value in pairs if key.startswith(("/", "rename:"))},
        given.get("do", ""),
        given.get("then", ""),
        given.get("shape", ""),
        given.get("text"),
        tuple(value for key, value in pairs if key == "measure"),
        int(given["stage"]) if given.get("stage", "") in ("0", "1", "2") else 0,
    )
    by_script = "application/json" in request.headers.get("accept", "")
    return await run_in_threadpool(_answer, there, name, step, posted, by_script)


def _lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _answer(there: Shared, name: str, step: str, posted: Posted, by_script: bool) -> Response:
    opened = there.open(name)
    try:
        if step == "fix" and posted.do not in FOR_ALL_STEPS:
            return _fix(there, opened, posted, by_script)
        changed = _changed(opened, step, posted)
    except ChangedElsewhereError:
        return _conflict(there, opened, step, posted, by_script)
    if by_script:
        return JSONResponse(_fragments(opened, step, posted, changed))
    if changed.refused:
        page = whole_page(there, opened, changed.state, step, {}, alert=changed.refused, said=changed.said)
        return HTMLResponse(page, 422)
    at = posted.then if posted.then in STEPS and not changed.state.draft.values else step
    return RedirectResponse(f"/file/{quote(name, safe='')}/{at}", 303)


def _changed(opened: Opened, step: str, posted: Posted) -> Changed:
    if posted.do == "undo":
        return opened.undo(posted.revision)
    if posted.do == "forget":
        return opened.forget(posted.revision)
    if step == "text":
        return opened.put_text(posted.revision, posted.text or "")
    changed = opened.typed(posted.revision, posted.fields)
    if not posted.do:
        return changed
    return opened.act(changed.state.revision, posted.do)


def _fragments(opened: Opened, step: str, posted: Posted, changed: Changed) -> dict[str, Any]:
    """What has to change on a page that shows this step."""
    state = changed.state
    answer: dict[str, Any] = {
        "revision": state.revision,
        "said": changed.said,
        "alert": " ".join(changed.refused),
        "undo": state.undo,
        "kept": len(state.draft.values),
        "follow": "",
        "fragments": {},
    }
    if (
        state.source is None
        or step not in {one.id for one in FORM_STEPS}
        or posted.do in FOR_ALL_STEPS
        or step == "text"
    ):
        if not changed.refused:
            answer["location"] = f"/file/{quote(state.name, safe='')}/{step}"
        return answer
    if state.revision != posted.revision:  # else what stands there is of this very file
        aside = aside_answer(state, opened.calculation(state).now())
        answer |= {"follow": aside["follow"], "result": aside["result"]}
        answer["fragments"] |= aside["fragments"]
    form = state.form(changed.errors)
    items = form.step(step)
    answer["errors"] = {one.id: list(one.errors) for one in fields_in(items) if one.errors}
    if shape(items) != posted.shape:
        answer["fragments"]["fields"] = rendered("form.html", **form_parts(items))
        if posted.do.startswith("add:"):
            answer["focus"] = _newest(posted.do, items)
    return answer


def _newest(do: str, items: Sequence[Any]) -> str:
    """The first field of the piece that was added."""
    under = do.split(":")[1]
    names = [one for one in fields_in(items) if one.name.removeprefix("rename:").startswith(f"{under}/")]
    if not names:
        return ""
    last = names[-1].name.removeprefix("rename:").removeprefix(f"{under}/").partition("/")[0]
    piece = f"{under}/{last}"
    mine = (one for one in names if one.name in (f"rename:{piece}",) or one.name.startswith(f"{piece}/"))
    return next(mine).id


def _conflict(there: Shared, opened: Opened, step: str, posted: Posted, by_script: bool) -> Response:
    """The file changed elsewhere: it is shown as it is, and what was typed here beside it."""
    state = opened.now()
    typed = _not_taken(state, posted)
    if by_script:
        return JSONResponse({"conflict": page_words.CONFLICT, "typed": typed}, 409)
    page = whole_page(there, opened, state, step, {}, alert=(page_words.CONFLICT,), typed=typed)
    return HTMLResponse(page, 409)


def _not_taken(state: State, posted: Posted) -> list[tuple[str, str]]:
    if posted.text is not None:
        return [(THE_TEXT, posted.text)]
    raw = state.source.raw if state.source is not None else {}
    return [(where(name), text) for name, text in posted.fields.items() if text.strip() != (current(raw, name) or "")]


def _fix(there: Shared, opened: Opened, posted: Posted, by_script: bool) -> Response:
    """Measures tried and put in, the search for plans begun and stopped."""
    state = opened.now()
    if state.source is None or state.revision != posted.revision:
        raise ChangedElsewhereError
    source, search = state.source, there.search(state.name)
    if posted.do in ("search", "stop"):
        if posted.do == "search":
            search.begin(state.revision, source.installation, source.raw)
        else:
            search.stop()
        if not by_script:
            return RedirectResponse(f"/file/{quote(state.name, safe='')}/fix#search", 303)
        return JSONResponse(search_answer(there, state))
    if posted.do.startswith("plan:"):
        planned = search.plan(posted.do.removeprefix("plan:"), state.revision)
        if planned is None:
            raise GoneError(page_words.PLAN_GONE)
        said = page_words.PUT_IN.format(what=improve_words.plan_title(planned.plan))
        return _put_in(there, opened, state, planned.plan.edits, said, by_script)
    assessment = whole(opened, state)
    mine, against = trials.picked(propose(assessment), posted.chosen)
    ids = tuple(one.id for one in mine)
    if against:
        tried: trials.Tried | None = trials.Tried(WHOLE, ids, against)
    elif not mine:
        tried = None
    else:
        tried = trials.tried(opened, state, assessment, mine, posted.stage, SHORT_WAIT if by_script else LONGEST_WAIT)
        while not by_script and not tried.whole:
            tried = trials.tried(opened, state, assessment, mine, tried.stage, LONGEST_WAIT)
    if posted.do == "put" and tried is not None and not tried.problem:
        said = page_words.PUT_IN.format(what="; ".join(one.title for one in mine))
        return _put_in(there, opened, state, [edit for one in mine for edit in one.edits], said, by_script)
    if by_script:
        fragment = rendered(
            "tried.html", tried=tried, revision=state.revision, form_key=there.keys.form, name=state.name
        )
        again = tried is not None and not tried.whole
        stage = tried.stage if tried is not None else WHOLE
        said = tried.counts if tried is not None else ""
        return JSONResponse({"fragments": {"tried": fragment}, "again": again, "stage": stage, "result": said})
    return HTMLResponse(whole_page(there, opened, state, "fix", {}, tried=tried))


def _put_in(there: Shared, opened: Opened, state: State, edits: Sequence[Any], said: str, by_script: bool) -> Response:
    changed = opened.put_edits(state.revision, edits, said)
    at = f"/file/{quote(state.name, safe='')}/fix"
    if by_script:
        return JSONResponse({"location": at, "said": said})
    return HTMLResponse(whole_page(there, opened, changed.state, "fix", {}, said=said))
