"""The one folder that the page reads and writes: plain files that lie in it, by their names."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from brimfast.shared.errors import InputError, OutputError, Problem
from brimfast.shared.writing import write_whole
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

    def has(self, name: str) -> bool:
        return is_name(name) and os.path.lexists(self.root / name)

    def read(self, name: str) -> bytes:
        """At most a byte more than an installation may have: reading it says that it is too large."""
        return self._bytes(self._path(name), name)

    def write(self, name: str, data: bytes, new: bool = False) -> None:
        path = self._path(name)
        if new and os.path.lexists(path):
            message = "there is a file of that name; expected a new name"
            raise OutputError([Problem("E-FILE-003", message, file=name)])
        if path.is_symlink():
            raise OutputError(
                [Problem("E-FILE-003", "this is a link; expected a file of the folder itself", file=name)]
            )
        write_whole(path, data)

    def beside(self, name: str) -> Path:
        """Where what was typed and is not in the file yet is kept."""
        return self.root / f".{self._path(name).name}.typed"

    def read_beside(self, name: str) -> bytes | None:
        try:
            return self._bytes(self.beside(name), name)
        except InputError:
            return None

    def write_beside(self, name: str, data: bytes | None) -> None:
        """None: nothing is kept."""
        path = self.beside(name)
        if data is None:
            path.unlink(missing_ok=True)
        elif path.is_symlink():
            raise OutputError(
                [Problem("E-FILE-003", "this is a link; expected a file of the folder itself", file=path.name)]
            )
        else:
            write_whole(path, data)

    def _path(self, name: str) -> Path:
        if not is_name(name):
            message = f"expected the name of a file in this folder that ends in {' or '.join(ENDINGS)}"
            raise InputError([Problem("E-FILE-001", message, file=repr(name[:LONGEST_NAME]))])
        return self.root / name

    def _bytes(self, path: Path, name: str) -> bytes:
        try:
            handle = os.open(path, os.O_RDONLY | getattr(os, "O_BINARY", 0) | NO_LINKS)
            with os.fdopen(handle, "rb") as stream:
                if path.is_symlink() or not stat.S_ISREG(os.fstat(stream.fileno()).st_mode):
                    message = "this is a link, a folder or a device; expected a file of the folder itself"
                    raise InputError([Problem("E-FILE-001", message, file=name)])
                return stream.read(MOST_BYTES * 2 + 1)
        except (OSError, ValueError) as error:
            raise InputError([_unreadable(error, name)]) from None


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
