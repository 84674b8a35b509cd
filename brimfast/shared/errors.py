"""What can be wrong with the user's input, as data."""

from __future__ import annotations

from dataclasses import dataclass, replace

KeyPath = tuple[str | int, ...]  # to a value of the file

# Every code has its section in README.md ("When a file is refused").
CODES: dict[str, str] = {
    "E-FILE-001": "the file can't be read",
    "E-FILE-002": "the file is too large or too deep",
    "E-FILE-003": "the result can't be written",
    "E-YAML-001": "this is not YAML",
    "E-YAML-002": "aliases, anchors and tags are not taken",
    "E-YAML-003": "a key stands twice",
    "E-YAML-004": "the file is empty or not a list of keys",
    "E-KEY-001": "unknown key",
    "E-KEY-002": "a key is missing",
    "E-KEY-003": "keys that exclude or need each other",
    "E-UNIT-001": "not a number with a unit",
    "E-UNIT-002": "a unit of the wrong kind",
    "E-UNIT-003": "the unit is missing",
    "E-UNIT-004": "a unit that is not known",
    "E-RANGE-001": "outside the allowed range",
    "E-WORD-001": "not one of the known words",
    "E-TYPE-001": "the wrong kind of value",
    "E-NAME-001": "a name that points to nothing",
    "E-NAME-002": "a name that stands twice",
    "E-FIT-001": "things that do not fit each other",
    "E-DATA-001": "not in the tables",
    "E-PAGE-001": "the page can't begin",
}


def printable(text: str) -> str:
    """The text on one line, nothing in it that a terminal would obey."""
    return "".join(character if character.isprintable() else "?" for character in text)


@dataclass(frozen=True)
class Problem:
    """One thing wrong with the input, in one line.

    `path` is the key path (keys and list positions); `line` and `column` count from 1 and are 0 where
    there is no place to point at.
    """

    code: str
    message: str
    path: KeyPath = ()
    file: str = ""
    line: int = 0
    column: int = 0
    at_key: bool = False

    def at(self, file: str, line: int, column: int) -> Problem:
        return replace(self, file=file, line=line, column=column)

    def text(self, key_path: str = "") -> str:
        where = printable(self.file)
        if self.line:
            where += f":{self.line}:{self.column}"
        parts = [part for part in (where, key_path, self.message) if part]
        return ": ".join(parts) + f" [{self.code}]"


class BrimfastError(Exception):
    """Root of all errors that are the input's and not ours."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("; ".join(problem.text() for problem in problems))


class InputError(BrimfastError):
    """The installation file, or an option, is wrong."""


class OutputError(BrimfastError):
    """A result can't be written where it was asked for."""
