"""Writing a result whole or not at all: beside its place first, then renamed."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
from pathlib import Path

from brimfast.shared.errors import OutputError, Problem


def write_whole(path: Path, data: bytes, overwrite: bool = True) -> None:
    """Raises OutputError; what stood at the path stays until the new bytes are complete."""
    target, there = _target(path, overwrite)
    beside = target.with_name(f".{target.name[:40]}.{secrets.token_hex(6)}")
    try:
        with beside.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if there:
            beside.chmod(target.stat().st_mode & 0o777)
        beside.replace(target)
    except (OSError, ValueError) as error:
        raise OutputError([unwritable(path, error)]) from None
    finally:
        with contextlib.suppress(OSError):
            beside.unlink()


def must_be_new(path: Path, overwrite: bool) -> None:
    """Raises OutputError at once where `write_whole` would, before long work is done for nothing."""
    target, _ = _target(path, overwrite)
    if not target.parent.is_dir():
        refused = "its folder does not exist; expected one that does"
        raise OutputError([Problem("E-FILE-003", refused, file=str(path))])
    if not os.access(target.parent, os.W_OK | os.X_OK):
        raise OutputError([unwritable(path, PermissionError(errno.EACCES, os.strerror(errno.EACCES)))])


def _target(path: Path, overwrite: bool) -> tuple[Path, bool]:
    """Where the path leads, and whether there is a file; raises OutputError where none may be written."""
    try:
        target = Path(os.path.realpath(path))
        there = target.exists()
        refused = _refusal(target, there, overwrite)
    except (OSError, ValueError) as error:
        raise OutputError([unwritable(path, error)]) from None
    if refused:
        raise OutputError([Problem("E-FILE-003", refused, file=str(path))])
    return target, there


def _refusal(target: Path, there: bool, overwrite: bool) -> str:
    if target.is_dir():
        return "this is a folder; expected a file name"
    if target.is_symlink() or (there and not target.is_file()):
        return "this is a device, a pipe or a broken link; expected the name of a file"
    if there and not overwrite:
        return "there is a file of that name; expected a new name, or --force to replace it"
    return ""


def unwritable(path: Path, error: Exception) -> Problem:
    reason = (error.strerror or "unknown reason").lower() if isinstance(error, OSError) else "not a file name"
    return Problem("E-FILE-003", f"can't be written: {reason}", file=str(path))
