"""Who may ask the page for anything: this machine's own browser, with the key that was printed, from our own page."""

from __future__ import annotations

import hmac
import secrets
from dataclasses import dataclass, field
from hashlib import sha256
from urllib.parse import quote

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import PlainTextResponse, RedirectResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

MOST_POSTED = 512 * 1024  # bytes: a file of 128 KiB, spelt out in a form
HEADERS = {
    "content-security-policy": "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(), microphone=(), geolocation=()",
    "cache-control": "no-store",
}
NO_KEY = "This page needs the address that brimfast printed when it began, with its key. Look there and open it again."
NOT_OURS = "Refused: this did not come from brimfast's own page."
TOO_MUCH = "Refused: that is more than an installation needs."


@dataclass(frozen=True)
class Keys:
    """Four of one secret: for the address that is printed, for the browser that we open, for it to keep, for our forms."""

    secret: bytes = field(default_factory=lambda: secrets.token_bytes(32))

    def _of(self, use: str) -> str:
        return hmac.new(self.secret, use.encode(), sha256).hexdigest()[:40]

    @property
    def address(self) -> str:
        return self._of("address")

    @property
    def once(self) -> str:
        """Others of this machine may see it among what the browser was begun with."""
        return self._of("once")

    @property
    def kept(self) -> str:
        return self._of("kept by the browser")

    @property
    def form(self) -> str:
        return self._of("form")


def same(given: str, wanted: str) -> bool:
    return hmac.compare_digest(given.encode("utf-8", "replace"), wanted.encode())


class Guard:
    """Every request passes here before anything else sees it."""

    def __init__(self, app: ASGIApp, keys: Keys, hosts: frozenset[str]) -> None:
        """hosts: the names with port by which the page may be asked."""
        self.app, self.keys, self.hosts = app, keys, hosts
        port = min(hosts).rpartition(":")[2]
        self.cookie = f"brimfast-{port}"
        self._once = keys.once

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = Headers(scope=scope)

        async def guarded(message: Message) -> None:
            if message["type"] == "http.response.start":
                found = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    found[name] = value
            await send(message)

        refusal = self._refusal(scope, headers)
        if refusal is not None:
            await refusal(scope, receive, guarded)
            return
        await self.app(scope, _Limited(receive).receive, guarded)

    def _refusal(self, scope: Scope, headers: Headers) -> ASGIApp | None:
        host = headers.get("host", "")
        if len(headers.getlist("host")) != 1 or host not in self.hosts:
            return PlainTextResponse(NOT_OURS, 421)
        origin = headers.get("origin")
        if origin is not None and origin != f"http://{host}":
            return PlainTextResponse(NOT_OURS, 403)
        if scope["method"] == "POST":
            if origin is None:
                return PlainTextResponse(NOT_OURS, 403)
            length = headers.get("content-length", "0")
            if not length.isdigit() or int(length) > MOST_POSTED:
                return PlainTextResponse(TOO_MUCH, 413)
        elif scope["method"] not in ("GET", "HEAD"):
            return PlainTextResponse(NOT_OURS, 405)
        if scope["query_string"].startswith(b"key=") or not self._has_key(headers):
            return self._welcome(scope)
        return None

    def _has_key(self, headers: Headers) -> bool:
        """Cookies of other programs of this machine stand before ours, in whatever form."""
        return same(cookie_parser(headers.get("cookie", "")).get(self.cookie, ""), self.keys.kept)

    def _opens(self, given: str) -> bool:
        if self._once and same(given, self._once):
            self._once = ""
            return True
        return same(given, self.keys.address)

    def _welcome(self, scope: Scope) -> ASGIApp:
        """The printed address is good for one thing: the browser gets its own key, and the address loses the printed one."""
        query = scope["query_string"].decode("latin-1")
        if scope["method"] != "GET" or not query.startswith("key=") or not self._opens(query.removeprefix("key=")):
            return PlainTextResponse(NO_KEY, 403)
        answer = RedirectResponse("/" + quote(scope["path"].lstrip("/")), 303)
        answer.set_cookie(self.cookie, self.keys.kept, path="/", httponly=True, samesite="strict")
        return answer


class TooMuchError(Exception):
    """More was posted than may be."""


class _Limited:
    """A body that says nothing of its length is counted as it comes."""

    def __init__(self, receive: Receive) -> None:
        self._receive, self._seen = receive, 0

    async def receive(self) -> Message:
        message = await self._receive()
        self._seen += len(message.get("body", b""))
        if self._seen > MOST_POSTED:
            raise TooMuchError
        return message
