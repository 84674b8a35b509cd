"""The first page: the files of the folder, and the ways to begin a new one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, RedirectResponse, Response

from brimfast.reports.page import beginning
from brimfast.reports.page.app import shared
from brimfast.reports.page.guard import MOST_POSTED, NOT_OURS, same
from brimfast.reports.page.views import rendered
from brimfast.shared.demo import DEMOS
from brimfast.shared.errors import BrimfastError


async def index(request: Request) -> Response:
    return _page(request, {}, {}, 200)


def _page(request: Request, given: Mapping[str, str], errors: Mapping[str, Any], status: int) -> Response:
    there = shared(request)
    page = rendered(
        "index.html",
        folder=there.folder.root.name or str(there.folder.root),
        names=there.folder.names(),
        demos=DEMOS,
        questions=beginning.QUESTIONS,
        ground=beginning.GROUND,
        elsewhere=beginning.elsewhere(),
        given=given,
        errors=errors,
        form_key=there.keys.form,
    )
    return HTMLResponse(page, status)


async def begin(request: Request) -> Response:
    """A new file: by answers, from a demo, or brought along."""
    there = shared(request)
    async with request.form(max_files=1, max_fields=40, max_part_size=MOST_POSTED) as form:
        given = {key: value for key, value in form.items() if isinstance(value, str)}
        upload = form.get("file")
        data, name = b"", ""
        if isinstance(upload, UploadFile):
            data, name = await upload.read(), upload.filename or ""
    if not same(given.get("form_key", ""), there.keys.form):
        return PlainTextResponse(NOT_OURS, 403)
    try:
        if given.get("how") == "demo":
            made = await run_in_threadpool(beginning.copied, there.folder, given.get("demo", ""))
        elif given.get("how") == "file":
            made = await run_in_threadpool(beginning.brought, there.folder, name, data)
        else:
            made = await run_in_threadpool(beginning.begun, there.folder, given)
    except BrimfastError as error:
        return _page(request, given, beginning.errors_of(error), 422)
    return RedirectResponse(f"/file/{quote(made, safe='')}/place", 303)
