"""Writing a result whole or not at all: beside its place first, then renamed."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from brimfast.shared.errors import OutputError, Problem


def write_whole(path: Path, data: bytes, overwrite: bool = True) -> None:
    """Raises OutputError; what stood at the path stays until the new bytes are complete."""
    target = Path(os.path.realpath(path))
    if target.is_dir():
        raise OutputError([Problem("E-FILE-003", "this is a folder; expected a file name", file=str(path))])
    if not overwrite and target.exists():
        message = "there is a file of that name; expected a new name, or --force to replace it"
        raise OutputError([Problem("E-FILE-003", message, file=str(path))])
    temporary: str | None = None
    try:
        handle, temporary = tempfile.mkstemp(prefix=f".{target.name[:40]}.", dir=target.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o666 & ~_umask()
        Path(temporary).chmod(mode)
        Path(temporary).replace(target)
        temporary = None
    except OSError as error:
        reason = (error.strerror or "unknown reason").lower()
        raise OutputError([Problem("E-FILE-003", f"can't be written: {reason}", file=str(path))]) from None
    except ValueError:
        raise OutputError([Problem("E-FILE-003", "can't be written: not a file name", file=repr(str(path)))]) from None
    finally:
        if temporary is not None:
            Path(temporary).unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
