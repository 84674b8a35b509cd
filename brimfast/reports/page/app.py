"""The page as an application: its addresses, and what they share."""

from __future__ import annotations

import threading
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass, field
from pathlib import Path

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, PlainTextResponse, Response
from starlette.routing import Route

from brimfast.reports.page import page_words
from brimfast.reports.page.calculation import Engine
from brimfast.reports.page.folder import Folder
from brimfast.reports.page.guard import TOO_MUCH, Guard, Keys, TooMuchError
from brimfast.reports.page.opened import Opened
from brimfast.reports.page.searching import Search
from brimfast.reports.page.views import STATIC, rendered, static
from brimfast.shared.errors import BrimfastError

REFUSALS = {404: page_words.NO_SUCH_PAGE, 503: page_words.TOO_OFTEN}


@dataclass
class Shared:
    """What all requests share: the folder, the keys, the files that are open."""

    folder: Folder
    keys: Keys
    engine: Engine
    opened: dict[str, Opened] = field(default_factory=dict)
    searches: dict[str, Search] = field(default_factory=dict)
    lock: threading.Lock = field(default_factory=threading.Lock)

    def open(self, name: str) -> Opened:
        with self.lock:
            if name not in self.opened:
                self.folder.read(name)  # raises where there is none
                self.opened[name] = Opened(self.folder, name, self.engine)
            return self.opened[name]

    def search(self, name: str) -> Search:
        with self.lock:
            return self.searches.setdefault(name, Search())

    def end(self) -> None:
        for one in self.searches.values():
            one.stop()
        self.engine.end()


def shared(request: Request) -> Shared:
    found = request.app.state.shared
    assert isinstance(found, Shared)
    return found


def application(root: Path, keys: Keys, hosts: frozenset[str], processes: int = 1) -> Guard:
    """hosts: the names with port by which it may be asked. processes: 0: water runs in this one."""
    from brimfast.reports.page import file_pages, file_posts, index_pages

    @asynccontextmanager
    async def living(app: Starlette) -> AsyncIterator[None]:
        yield
        app.state.shared.end()

    app = Starlette(
        routes=[
            Route("/", index_pages.index),
            Route("/", index_pages.begin, methods=["POST"]),
            Route("/static/{name}", _static),
            Route("/file/{name}", file_pages.first),
            Route("/file/{name}/results", file_pages.results),
            Route("/file/{name}/search", file_pages.search),
            Route("/file/{name}/take/{what}", file_pages.take),
            Route("/file/{name}/{step}", file_pages.step),
            Route("/file/{name}/{step}", file_posts.post, methods=["POST"]),
        ],
        exception_handlers={
            HTTPException: _refused,
            BrimfastError: _input,
            TooMuchError: _too_much,
            Exception: _fault,
        },
        lifespan=living,
    )
    app.state.shared = Shared(Folder(root), keys, Engine(processes))
    return Guard(app, keys, hosts)


async def _static(request: Request) -> Response:
    name = request.path_params["name"]
    if name not in STATIC:
        raise HTTPException(404)
    return Response(static(name), media_type=STATIC[name])


def _message(request: Request, title: str, lines: list[str], status: int) -> Response:
    if "application/json" in request.headers.get("accept", ""):
        return PlainTextResponse("\n".join(lines), status)
    return HTMLResponse(rendered("message.html", title=title, lines=lines), status)


class GoneError(HTTPException):
    """What was asked for belongs to an older file; said: what to do instead."""

    def __init__(self, said: str) -> None:
        super().__init__(410, said)


async def _refused(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else 404
    said = REFUSALS.get(status, page_words.NOT_ASKED_SO)
    if isinstance(error, GoneError):
        said = error.detail
    return _message(request, page_words.NO_SUCH_PAGE if status == 404 else page_words.NOT_DONE, [said], status)


async def _too_much(request: Request, error: Exception) -> Response:
    return PlainTextResponse(TOO_MUCH, 413)


async def _input(request: Request, error: Exception) -> Response:
    lines = [problem.text() for problem in error.problems] if isinstance(error, BrimfastError) else []
    return _message(request, page_words.NOT_DONE, lines, 400)


async def _fault(request: Request, error: Exception) -> Response:
    what = f"{type(error).__name__}: {' '.join(str(error).split())[:200]}"
    return _message(request, "A fault of ours", [page_words.FAULT.format(what=what)], 500)
