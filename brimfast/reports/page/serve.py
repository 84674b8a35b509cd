"""The page served to this machine alone, until it is ended."""

from __future__ import annotations

import contextlib
import os
import socket
import threading
import webbrowser
from collections.abc import Callable
from pathlib import Path
from urllib.parse import quote

import uvicorn

from brimfast.reports.page.app import application
from brimfast.reports.page.folder import is_name
from brimfast.reports.page.guard import Keys
from brimfast.shared.errors import InputError, OutputError, Problem

LOOPBACK = "127.0.0.1"


def serve(where: Path, port: int, browser: bool, tell: Callable[[str], None]) -> None:
    """where: a folder, or a file of one. Raises InputError, and OutputError where the port can't be had."""
    folder, file = chosen(where)
    listening = listener(port)
    try:
        port = listening.getsockname()[1]
        keys = Keys()
        hosts = frozenset(f"{name}:{port}" for name in (LOOPBACK, "localhost"))
        app = application(folder, keys, hosts)
        path = f"/file/{quote(file, safe='')}/place" if file else "/"
        address = f"http://{LOOPBACK}:{port}{path}?key="
        tell(address + keys.address)
        if browser:  # beside the server: one of the terminal stays until it is left
            threading.Thread(target=_open, args=(address + keys.once,), daemon=True).start()
        config = uvicorn.Config(
            app, log_level="critical", access_log=False, server_header=False, date_header=False, ws="none", lifespan="on",
            timeout_graceful_shutdown=2,
        )  # fmt: skip
        uvicorn.Server(config).run(sockets=[listening])
    finally:
        listening.close()


def _open(address: str) -> None:
    with contextlib.suppress(webbrowser.Error, OSError):  # the address is printed all the same
        webbrowser.open(address)


def chosen(where: Path) -> tuple[Path, str]:
    """The folder, and the file that is opened first, if one was named."""
    try:
        if where.is_dir():
            return where, ""
        there = where.is_file()
    except (OSError, ValueError):
        there = False
    if not there:
        message = "there is no such folder or file; expected a folder, or an installation file"
        raise InputError([Problem("E-FILE-001", message, file=str(where))])
    real = where.resolve()
    if not is_name(real.name):
        message = "expected a file whose name ends in .yaml or .yml"
        raise InputError([Problem("E-FILE-001", message, file=str(where))])
    return real.parent, real.name


def listener(port: int) -> socket.socket:
    """Bound to loopback and nothing else; 0: any port that is free."""
    # Named by its protocol: else answers of several pieces wait for the browser's acknowledgement (40 ms).
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        if os.name != "nt":  # there it would let others take the port as well
            found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind((LOOPBACK, port))
        found.listen()  # whoever opens the address at once waits, and is not turned away
    except OSError as error:
        found.close()
        reason = (error.strerror or "unknown reason").lower()
        message = f"port {port} can't be had: {reason}; expected another --port, or none"
        raise OutputError([Problem("E-PAGE-001", message)]) from None
    return found
