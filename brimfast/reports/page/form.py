"""A step of the form as data: which fields, with which values, names, choices and errors."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from brimfast.assess.demand.inputs import COMMON
from brimfast.assess.demand.standard import standards
from brimfast.data_tables import loader
from brimfast.data_tables.rows import FillRow, LiveLoad, WorkItem
from brimfast.reports.page import form_words as words
from brimfast.reports.page.fields import Key, keys_of, site_keys
from brimfast.reports.page.pieces import adds
from brimfast.reports.page.pointer import at, dict_of, html_id, list_of, pointer
from brimfast.shared.errors import KeyPath
from brimfast.shared.installation.fields import Part
from brimfast.shared.installation.flow import HOUSE_DRAIN
from brimfast.shared.installation.hung import CEILING
from brimfast.shared.installation.model import Installation
from brimfast.shared.installation.site import Price, Site
from brimfast.shared.units import System

RENAME = "rename:"
Options = tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Field:
    """One line of the form."""

    name: str  # its pointer
    label: str
    value: str
    help: str = ""
    hint: str = ""
    options: Options = ()
    lines: bool = False
    choices: tuple[str, ...] = ()  # words that it may be, beside others
    errors: tuple[str, ...] = ()
    required: bool = False
    wide: bool = False

    kind = "field"

    @property
    def id(self) -> str:
        return html_id(self.name)


@dataclass(frozen=True)
class Group:
    """Fields that belong together. more: those that are a click away; buttons: what to do with all of it."""

    name: str
    legend: str
    help: str = ""
    first: tuple[Item, ...] = ()
    more: tuple[Item, ...] = ()
    buttons: tuple[tuple[str, str], ...] = ()
    folded: bool = False
    piece: bool = False

    kind = "group"

    @property
    def id(self) -> str:
        return html_id(self.name)

    @property
    def more_open(self) -> bool:
        return any(_says_something(item) for item in self.more)


@dataclass(frozen=True)
class Pieces:
    """A list of groups, and what may be added to it."""

    name: str
    title: str
    help: str
    groups: tuple[Group, ...]
    adds: tuple[tuple[str, str], ...] = ()
    alone: bool = False  # its title is the page's

    kind = "pieces"

    @property
    def id(self) -> str:
        return html_id(self.name)


Item = Field | Group | Pieces


def fields_in(items: Iterable[Item]) -> Iterator[Field]:
    for item in items:
        if isinstance(item, Field):
            yield item
        elif isinstance(item, Group):
            yield from fields_in((*item.first, *item.more))
        else:
            yield from fields_in(item.groups)


def _says_something(item: Item) -> bool:
    return any(one.value or one.errors for one in fields_in((item,)))


def shown(value: object) -> str:
    """A plain value of the file as it is typed."""
    if value is None or isinstance(value, dict):
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "\n".join(shown(item) for item in value)
    return str(value)


@dataclass
class Form:
    """raw: the file's plain values; typed: what is not in it yet, by pointer; errors: of these."""

    raw: Mapping[str, Any]
    typed: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, Sequence[str]] = field(default_factory=dict)

    def step(self, id: str) -> tuple[Item, ...]:
        return tuple(getattr(self, f"_{id}")())

    def _place(self) -> Iterator[Item]:
        yield from self._keys(Installation, (), ("installation", "units"))
        own, besides = self._own_keys()
        first = list(self._keys(Site, ("site",), ("standard",)))
        first += own
        first += self._keys(Site, ("site",), ("height_ratio", "setting"))
        more = self._keys(Site, ("site",), ("building",))
        yield Group("/site", "How the ground may shake", self._needs(), tuple(first), (*besides, *more))

    def _room(self) -> Iterator[Item]:
        room = keys_of(Installation)["room"].part
        assert room is not None
        yield from self._keys(room, ("room",), words.FIRST["Room"])

    def _racks(self) -> Iterator[Item]:
        rack = keys_of(Installation)["racks"].part
        assert rack is not None
        groups = []
        for name, value in dict_of(self.raw.get("racks")).items():
            path = ("racks", name)
            rename = f"{RENAME}{pointer(path)}"
            called = Field(
                rename, "Name", self.typed.get(rename, name), errors=tuple(self.errors.get(rename, ())), required=True
            )
            group = self._group(rack, path, name, value, remove=f"remove:{pointer(path)}")
            groups.append(_with_first(group, called))
        yield Pieces("/racks", words.LIST_TITLES["racks"], "", tuple(groups), tuple(adds(("racks",), self.raw)), True)

    def _vessels(self) -> Iterator[Item]:
        yield replace(self._pieces(Installation, (), "vessels"), alone=True)

    def _joints(self) -> Iterator[Item]:
        yield replace(self._pieces(Installation, (), "joints"), alone=True)

    def _flow(self) -> Iterator[Item]:
        for key in ("pumps", "pipes", "supplies"):
            yield self._pieces(Installation, (), key)

    def _hung(self) -> Iterator[Item]:
        yield replace(self._pieces(Installation, (), "hung"), alone=True)

    def _reach(self) -> Iterator[Item]:
        exposure = keys_of(Installation)["exposure"].part
        assert exposure is not None
        first = words.FIRST["Exposure"]
        rest = tuple(key for key in keys_of(exposure) if key not in first)
        items = tuple(self._keys(exposure, ("exposure",), first))
        yield Group("/exposure", "Floors, water and money", "", items, tuple(self._keys(exposure, ("exposure",), rest)))

    def _more(self) -> Iterator[Item]:
        doubt = keys_of(Installation)["doubt"].part
        assert doubt is not None
        given = dict_of(self.raw.get("prices"))
        known = [row.item for row in loader.table(WorkItem)]
        said = tuple(self._price(name) for name in given)
        rest = tuple(self._price(name) for name in known if name not in given)
        yield Group("/prices", "Prices", words.PRICES, said, rest)
        items = tuple(self._keys(doubt, ("doubt",), tuple(keys_of(doubt))))
        yield Group("/doubt", "How well you know your figures", "left empty, customary spreads are taken", items)
        yield from self._keys(Installation, (), ("invented",))

    def _price(self, name: str) -> Item:
        path = ("prices", name)
        if isinstance(at(self.raw, path), dict):
            return Group(pointer(path), name, "", tuple(self._keys(Price, path, ("low", "high"))))
        return self._field(path, Key(name, "text", False, number=True), name, "")

    def standard(self) -> str:
        """The one that is chosen, be it in the file yet or not."""
        site = dict_of(self.raw.get("site"))
        return self.typed.get("/site/standard", shown(site.get("standard")) or "asce7-22").casefold()

    def _needs(self) -> str:
        found = standards().get(self.standard())
        return "" if found is None else f"Needs {found.needs}. Official values: {found.official}."

    def _own_keys(self) -> tuple[list[Item], list[Item]]:
        """Of the standard: those that it needs or that most know, and the rest."""
        keys = dict(site_keys(self.standard()))
        for key in dict_of(self.raw.get("site")):
            if key not in COMMON and key not in keys and self.standard() == shown(at(self.raw, ("site", "standard"))):
                keys[key] = Key(key, "text", False)
        order = [*(name for name in words.FIRST["Inputs"] if name in keys), *keys]
        first, rest = list[Item](), list[Item]()
        for own in (keys[name] for name in dict.fromkeys(order)):
            label, help = words.label_of("Inputs", own.name, own.description)
            field = self._field(("site", own.name), own, label, help)
            (first if own.required or own.name in words.FIRST["Inputs"] else rest).append(field)
        return first, rest

    def _pieces(self, holder: type[Part], path: KeyPath, name: str) -> Pieces:
        part = keys_of(holder)[name].part
        assert part is not None
        here = (*path, name)
        found = at(self.raw, here)
        items = found if isinstance(found, list) else []
        groups = tuple(
            self._group(part, (*here, index), _called(item, name), item, f"remove:{pointer((*here, index))}")
            for index, item in enumerate(items)
        )
        label, help = words.label_of(holder.__name__, name)
        title = words.LIST_TITLES.get(name, label) if not path else label
        return Pieces(pointer(here), title, help, groups, tuple(adds(here, self.raw)))

    def _group(self, part: type[Part], path: KeyPath, legend: str, value: object, remove: str = "") -> Group:
        first, buttons = self._first(part, path, value)
        given = dict_of(value)
        known = keys_of(part)
        shown_first = [
            *first,
            *(key for key in given if key in known and key not in first and part.__name__ == "Fasteners"),
        ]
        rest = tuple(
            key for key in known if key not in shown_first and known[key].how != "plain" and key != "component"
        )
        if remove:
            buttons = (*buttons, (remove, f"Remove {legend}"))
        return Group(
            pointer(path),
            legend,
            "",
            tuple(self._keys(part, path, tuple(shown_first))),
            tuple(self._keys(part, path, rest)),
            buttons,
            piece=True,
        )

    def _first(
        self, part: type[Part], path: KeyPath, value: object
    ) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
        """What stands first in a group, and how else it could be described."""
        here, given = pointer(path), dict_of(value)
        if part.__name__ == "Vessel":
            on_rack = shown(given.get("on")) not in ("", "floor")
            order = words.WEIGHED if "mass" in given else words.ROUND if "diameter" in given else words.SQUARE
            first = tuple(words.ON_RACK.get(key, key) if on_rack else key for key in order)
            first += ("tier",) if on_rack else ()
            if "mass" in given:
                return first, ((f"measured:{here}", "Describe it by its sizes"),)
            other = ("square", "It is not round") if "diameter" in given else ("round", "It is round")
            weigh = ((f"weighed:{here}", "Describe it by its weight"),)
            return first, (*(() if "fill" in given else ((f"{other[0]}:{here}", other[1]),)), *weigh)
        if part.__name__ == "Fasteners":
            tie = given.get("kind") == "framing tie"
            sizes = ("nails", "nail") if tie else ("diameter", "length", "spread")
            return ("kind", "count", *sizes), ()
        return words.FIRST.get(part.__name__, tuple(keys_of(part))), ()

    def _keys(self, part: type[Part], path: KeyPath, keys: Sequence[str]) -> Iterator[Item]:
        known = keys_of(part)
        for name in keys:
            key, here = known[name], (*path, name)
            value = at(self.raw, here)
            label, help = words.label_of(part.__name__, name, key.description)
            if key.how == "list":
                yield self._pieces(part, path, name)
            elif key.how == "group" and key.part is not None and not (key.or_text and not isinstance(value, dict)):
                group = self._group(key.part, here, label, value)
                folded = not key.required and not _says_something(group) and part.__name__ not in ("Room",)
                yield Group(group.name, label, help, group.first, group.more, folded=folded)
            elif key.how != "plain":
                yield self._field(here, key, label, help)

    def _field(self, path: KeyPath, key: Key, label: str, help: str) -> Field:
        here = pointer(path)
        value = self.typed.get(here, shown(at(self.raw, path)))
        errors = tuple(self.errors.get(here, ()))
        return Field(
            here,
            label,
            value,
            help,
            key.hint(system_of(self.raw)),
            self._options(path, key, value),
            key.how == "lines",
            _choices(path),
            errors,
            key.required,
            key.or_text or path[-1] in ("installation", "source", "live_load_source"),
        )

    def _options(self, path: KeyPath, key: Key, value: str) -> Options:
        """Of a choice; what is typed already stays choosable, be it right or wrong."""
        known = self._references(path)
        if path == ("site", "standard"):
            known = tuple((name, f"{name}: {one.where}") for name, one in standards().items())
        elif key.how == "words":
            known = tuple((word, word) for word in key.words)
        elif key.how == "yes or no":
            known = tuple((word, word) for word in words.YES_NO)
        if not known:
            return ()
        if value and value not in (word for word, _ in known):
            same = next((word for word, _ in known if word.casefold() == value.casefold()), None)
            known = known if same is not None else (*known, (value, value))
        if key.required and value:
            return known
        default = words.NOT_SAID if key.default is None else words.NOT_SAID_COUNTS_AS.format(shown(key.default))
        return (("", default), *known)

    def _references(self, path: KeyPath) -> Options:
        """Names of the file that a key may point at."""
        racks = tuple(dict_of(self.raw.get("racks")))
        vessels = tuple(_name(item) for item in list_of(self.raw.get("vessels")))
        group, last = path[0], path[-1]
        names: tuple[str, ...] = ()
        if group == "vessels" and last == "on":
            names = ("floor", *racks)
        elif (group == "joints" and last == "rack") or path[-2:] == ("turns_from", "rack"):
            names = racks
        elif group == "hung" and last == "from":
            names = (CEILING, *racks)
        elif group in ("pumps", "pipes", "supplies", "hung") and last in ("from", "to", "over"):
            names = (*vessels, HOUSE_DRAIN) if group == "pipes" and last == "to" else vessels
        return tuple((name, name) for name in names)


def system_of(raw: Mapping[str, Any]) -> System:
    return "si" if raw.get("units") == "si" else "us"


def _with_first(group: Group, called: Field) -> Group:
    return Group(group.name, group.legend, group.help, (called, *group.first), group.more, group.buttons, piece=True)


def _choices(path: KeyPath) -> tuple[str, ...]:
    if path[-1] == "fill" and path[0] == "vessels":
        return tuple(row.name for row in loader.table(FillRow))
    if path == ("room", "use"):
        return tuple(row.use for row in loader.table(LiveLoad))
    return ()


def _called(item: object, kind: str) -> str:
    """How an item of a list is headed."""
    given = dict_of(item)
    if kind == "joints":
        return f"{given.get('rack', '?')}: {given.get('where', '?')}"
    name = given.get("name")
    if name is not None:
        return shown(name)
    what = words.ONE_OF.get(kind, kind)
    where = " ".join(shown(given[key]) for key in ("face", "height", "deck_height") if key in given)
    return f"{what} {where}".strip()


def _name(item: object) -> str:
    return shown(dict_of(item).get("name"))
