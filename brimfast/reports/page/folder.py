"""The one folder that the page reads and writes: plain files that lie in it, by their names."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from brimfast.reports.page.draft import MOST_BYTES as MOST_TYPED
from brimfast.shared.errors import InputError, OutputError, Problem
from brimfast.shared.writing import unwritable, write_whole
from brimfast.shared.yaml_text import MOST_BYTES

ENDINGS = (".yaml", ".yml")
MOST_FILES, LONGEST_NAME = 200, 100
NO_LINKS = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)


class Folder:
    def __init__(self, root: Path) -> None:
        self.root = Path(os.path.realpath(root))

    def names(self) -> list[str]:
        """Of the installation files that lie in it."""
        try:
            with os.scandir(self.root) as entries:
                found = [one.name for one in entries if is_name(one.name) and one.is_file(follow_symlinks=False)]
        except OSError as error:
            raise InputError([_unreadable(error, str(self.root))]) from None
        return sorted(found, key=str.casefold)[:MOST_FILES]

    def read(self, name: str) -> bytes:
        """At most a byte more than an installation may have: reading it says that it is too large."""
        return self._bytes(self._path(name), name, MOST_BYTES * 2)

    def write(self, name: str, data: bytes) -> None:
        _write(self._path(name), data)

    def create(self, name: str, data: bytes) -> bool:
        """False where something of that name is there, were it only for a moment."""
        path = self._path(name)
        try:
            os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        except FileExistsError:
            return False
        except (OSError, ValueError) as error:
            raise OutputError([unwritable(path, error)]) from None
        try:
            write_whole(path, data)
        except BaseException:
            path.unlink(missing_ok=True)
            raise
        return True

    def beside(self, name: str) -> Path:
        """Where what was typed and is not in the file yet is kept."""
        return self.root / f".{self._path(name).name}.typed"

    def read_beside(self, name: str) -> bytes | None:
        try:
            return self._bytes(self.beside(name), name, MOST_TYPED)
        except InputError:
            return None

    def write_beside(self, name: str, data: bytes | None) -> None:
        """None: nothing is kept."""
        path = self.beside(name)
        if data is not None:
            _write(path, data)
            return
        try:
            path.unlink(missing_ok=True)
        except OSError as error:
            raise OutputError([unwritable(path, error)]) from None

    def _path(self, name: str) -> Path:
        if not is_name(name):
            message = f"expected the name of a file in this folder that ends in {' or '.join(ENDINGS)}"
            raise InputError([Problem("E-FILE-001", message, file=repr(name[:LONGEST_NAME]))])
        return self.root / name

    def _bytes(self, path: Path, name: str, most: int) -> bytes:
        try:
            handle = os.open(path, os.O_RDONLY | getattr(os, "O_BINARY", 0) | NO_LINKS)
            with os.fdopen(handle, "rb") as stream:
                if path.is_symlink() or not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                    message = "this is a link, a folder or a device; expected a file of the folder itself"
                    raise InputError([Problem("E-FILE-001", message, file=name)])
                data = stream.read(most + 1)
        except (OSError, ValueError) as error:
            raise InputError([_unreadable(error, name)]) from None
        if len(data) > most:  # a part of it, written back, would be all that is left
            message = f"found more than {most:,} bytes; expected an installation of at most {MOST_BYTES:,}"
            raise InputError([Problem("E-FILE-002", message, file=name)])
        return data


def _write(path: Path, data: bytes) -> None:
    if path.is_symlink():
        raise OutputError(
            [Problem("E-FILE-003", "this is a link; expected a file of the folder itself", file=path.name)]
        )
    write_whole(path, data)


def is_name(name: str) -> bool:
    """Of an installation file in the folder itself: no path, nothing hidden, nothing invisible."""
    return (
        0 < len(name) <= LONGEST_NAME
        and name.isprintable()
        and name.casefold().endswith(ENDINGS)
        and not name.startswith((".", " ", "-"))
        and not any(character in name for character in '/\\:*?"<>|')
    )


def _unreadable(error: Exception, name: str) -> Problem:
    reason = (error.strerror or "can't be opened").lower() if isinstance(error, OSError) else "not a file name"
    return Problem("E-FILE-001", f"can't be read: {reason}", file=name)
