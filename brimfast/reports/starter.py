"""A commented starter file: by questions on a terminal, or from options without one."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from brimfast.assess.demand.standard import Standard, standard_named, standards
from brimfast.assess.pipeline import assess
from brimfast.shared.errors import InputError, Problem
from brimfast.shared.reading import read_bytes
from brimfast.shared.writing import must_be_new, write_whole


@dataclass(frozen=True)
class Answers:
    shape: str | None = None
    name: str | None = None
    units: str | None = None
    standard: str | None = None
    site: str | None = None  # the keys of a standard but ASCE 7, such as "a_g: 0.25, ground: C, spectrum: type 1"
    s_ds: str | None = None
    category: str | None = None
    room: str | None = None
    sill: str | None = None
    storey: str | None = None  # such as "2 of 3"
    below: str | None = None


DEFAULT = "asce7-22"
BELOW = ("none", "own room", "other people's room", "shop or office")


def height_ratio(storey: str) -> str:
    """'2 of 3' as the floor's height over the building's: (2 − 1)/3; the ground floor is 0."""
    match = re.fullmatch(r"\s*(\d{1,2})\s*(?:of|/)\s*(\d{1,2})\s*", storey)
    if match is None or not 1 <= int(match[1]) <= int(match[2]):
        message = f"found the storey {storey[:20]!r}; expected which floor of how many, such as '1 of 1' or '2 of 3'"
        raise InputError([Problem("E-TYPE-001", message, ("site", "height_ratio"))])
    return f"{(int(match[1]) - 1) / int(match[2]):.2f}".rstrip("0").rstrip(".")


SHAPES = {
    "weighed": "bodies that you weigh or estimate: mass, height of the centre of mass, footprint",
    "rack": "a timber rack with a bed, a tank and a pump, given by sizes",
    "tanks": "tanks and barrels on the floor, given by sizes",
}


def write_starter(path: Path, given: Answers, asks: bool, force: bool) -> None:
    """Writes the file, after reading it back as `check` would: what we write must be right."""
    must_be_new(path, force)
    starter_bytes(given)
    answers = _asked(given) if asks else given
    write_whole(path, starter_bytes(answers), overwrite=force)


def starter_bytes(answers: Answers) -> bytes:
    """The file's bytes, after reading and assessing them as `check` would; problems name no place."""
    try:
        data = starter_text(answers).encode()
        assess(read_bytes(data, "").installation)
    except UnicodeEncodeError:
        raise InputError([Problem("E-TYPE-001", "found a text that is not UTF-8; expected plain text")]) from None
    except InputError as error:
        problems = [Problem(problem.code, problem.message, problem.path) for problem in error.problems]
        raise InputError(list(dict.fromkeys(problems))) from None
    return data


def _asked(given: Answers) -> Answers:
    """Asks for what no option gave; an empty answer takes the default, a wrong one is asked again."""
    import typer

    answers = given if given.shape is not None else replace(given, shape=_shape())
    for one in QUESTIONS:
        while one.open(answers):
            trial = one.put(answers, _answer(one.text(answers), one.default(answers)))
            try:
                starter_bytes(trial)
            except InputError as error:
                typer.echo(f"  {error.problems[0].message}")
                continue
            answers = trial
            break
    return answers


def _shape() -> str:
    import typer

    typer.echo("What do you have?")
    for shape, text in SHAPES.items():
        typer.echo(f"  {shape}: {text}")
    shape = ""
    while shape not in SHAPES:
        shape = _answer("weighed, rack or tanks", "rack")
    return shape


@dataclass(frozen=True)
class _Question:
    """open: whether it is still to be asked; text, default: in the words that go with the answers so far."""

    open: Callable[[Answers], bool]
    text: Callable[[Answers], str]
    default: Callable[[Answers], str]
    put: Callable[[Answers, str], Answers]


def _of(key: str, text: str, us: str, si: str = "") -> _Question:
    """A question for one key, with its default in either system of units."""
    return _Question(
        lambda answers: getattr(answers, key) is None,
        lambda _: text,
        lambda answers: si if si and answers.units == "si" else us,
        lambda answers, said: replace(answers, **{key: said}),
    )


def _standard(answers: Answers) -> Standard:
    return standard_named(answers.standard or DEFAULT)


def _motion_text(_: Answers) -> str:
    others = ", ".join(name for name, one in standards().items() if not _by_asce(one))
    return (
        "S_DS of the address in g, or its residential seismic design category, A to D2 (the building department knows; "
        f"D2 is the safe side); or another country's standard: {others}"
    )


def _upstairs(answers: Answers) -> bool:
    return answers.storey is not None and not answers.storey.strip().startswith("1 ")


QUESTIONS = (
    _of("name", "What is it called?", "my water room"),
    _of("units", "Show results in us or si units?", "us"),
    _Question(
        lambda answers: _by_asce(_standard(answers)) and answers.s_ds is None and answers.category is None,
        _motion_text,
        lambda _: "D2",
        lambda answers, said: _with_motion(answers, said),
    ),
    _Question(
        lambda answers: not _by_asce(_standard(answers)) and answers.site is None,
        lambda answers: f"What it needs: {_standard(answers).needs} (from {_standard(answers).official})",
        lambda answers: _standard(answers).example,
        lambda answers, said: replace(answers, site=said),
    ),
    _of("room", "Room, length x width", "14 ft x 10 ft", "4.2 m x 3.0 m"),
    _of("sill", "Height of the door sill", "1 in", "25 mm"),
    _of("storey", "Which floor of how many, such as 1 of 1 (ground floor) or 2 of 3", "1 of 1"),
    replace(
        _of("below", f"What is below? {', '.join(BELOW)}", BELOW[2]),
        open=lambda answers: answers.below is None and _upstairs(answers),
    ),
)


def _answer(question: str, default: str) -> str:
    import typer

    try:
        return str(typer.prompt(question, default=default)).strip()
    except (typer.Abort, EOFError):
        message = "the answers ended before the questions; nothing is written. Expected an answer to each, or --no-ask"
        raise InputError([Problem("E-KEY-002", message)]) from None


def _by_asce(standard: Standard) -> bool:
    return "S_DS" in standard.inputs.model_fields


def _site_keys(text: str) -> str:
    """'a_g: 0.25, ground: C' as lines of the file."""
    lines = []
    for part in text.split(","):
        key, colon, value = part.partition(":")
        if not colon or not key.strip() or not value.strip():
            message = f"found {part.strip()[:40]!r}; expected keys with values, such as 'a_g: 0.25, ground: C'"
            raise InputError([Problem("E-TYPE-001", message, ("site",))])
        lines.append(f"  {_scalar(key.strip())}: {_scalar(value.strip())}")
    return "\n".join(lines)


def _motion(answers: Answers, standard: Standard) -> str:
    """The keys of the standard, with what is not answered on the safe side or marked to be changed."""
    if not _by_asce(standard):
        if answers.s_ds is not None or answers.category is not None:
            message = f"S_DS and the residential category belong to ASCE 7; expected --site with: {standard.needs}"
            raise InputError([Problem("E-KEY-003", message)])
        if answers.site is not None:
            return _site_keys(answers.site)
        return (
            f"{_site_keys(standard.example)}\n  # an example: take the values of your address, from {standard.official}"
        )
    if answers.site is not None:
        raise InputError([Problem("E-KEY-003", "--site belongs to another standard; expected S_DS or the category")])
    if answers.s_ds is not None:
        motion = (
            f"  S_DS: {_scalar(answers.s_ds)}                 # design spectral acceleration at short periods, in g"
        )
        if answers.category is not None:
            motion += f"\n  residential_category: {_quoted(answers.category)}"
        return motion
    category = _scalar(answers.category or "D2")
    return f"  residential_category: {category}  # your building department knows it; S_DS is better"


def _with_motion(answers: Answers, text: str) -> Answers:
    if text.casefold() in standards():
        return replace(answers, standard=text)
    is_category = text[:1].upper() in "ABCDE" and not text[:1].isdigit()
    return replace(answers, category=text) if is_category else replace(answers, s_ds=text)


def _quoted(text: str) -> str:
    """Any user text as one YAML scalar (JSON strings are YAML)."""
    return json.dumps(text, ensure_ascii=False)


def starter_text(answers: Answers) -> str:
    """The file's text for these answers; what is not answered gets a default that is to be changed."""
    units = answers.units or "us"
    si = units == "si"
    room = answers.room or ("4.2 m x 3.0 m" if si else "14 ft x 10 ft")
    length, _, width = room.replace("×", "x").replace(" X ", " x ").partition(" x ")
    standard = standard_named(answers.standard or DEFAULT)
    motion = _motion(answers, standard)
    ratio = height_ratio(answers.storey or "1 of 1")
    floor = "slab on grade" if ratio == "0" and answers.below in (None, "none") else "timber floor"
    head = f"""# An installation for brimfast. Change every number to what you measure; every length needs its unit.
# Check it with:  brimfast check THIS_FILE      All keys:  brimfast schema
installation: {_quoted(answers.name or "my water room")}
units: {_scalar(units)}                   # how results are shown: us or si

site:
  standard: {standard.name:<17} # or another, with its own keys: brimfast standards
{motion}
  height_ratio: {ratio:<13} # 0 on the ground, 1 at the roof: height of this floor over the building's
  setting: in a building      # or: in the open, light greenhouse

room:
  length: {_scalar(length.strip())}
  width: {_scalar(width.strip() or length.strip())}
  sill: {_scalar(answers.sill or ("25 mm" if si else "1 in"))}                 # height at which water leaves the room
  floor: {{kind: {floor}}}   # slab on grade, timber floor, concrete floor; live_load: 40 psf if you know it
  # drains: [{{bore: 2 in, grate: 4 in, blocked: 50 %}}]
  # sockets: [{{name: power strip, height: 4 in}}]
"""
    body = _BODIES[answers.shape or "rack"](si)
    below = _scalar(answers.below or "none")
    return head + body.replace("exposure: {below: none,", f"exposure: {{below: {below},")


def _scalar(text: str) -> str:
    """Plain where YAML takes it as it is, quoted otherwise."""
    reserved = text.casefold() in {"null", "true", "false", "yes", "no"}
    plain = (
        text
        and not reserved
        and all(character.isalnum() or character in " ._/-" for character in text)
        and not text.startswith("-")
    )
    return text if plain and text == text.strip() else _quoted(text)


def _weighed(si: bool) -> str:
    mass, centre, foot, holds = (
        ("220 kg", "700 mm", "1200 mm x 450 mm", "180 L") if si else ("480 lb", "28 in", "48 in x 18 in", "48 gal")
    )
    return f"""
vessels:
  - name: tank on its stand   # whatever tips or slides as one piece
    kind: tank                # bed, tank, sump or barrel
    mass: {mass}              # full, with stand
    centre_of_mass: {centre}     # above the floor: height of the stand plus half the water is a fair guess
    footprint: {foot}   # what it stands on
    holds: {holds}             # water that could leave
    # anchors: {{count: 4, tension: 400 lb, shear: 400 lb, source: the anchor maker's table}}

# below: none, own room, other people's room, shop or office
exposure: {{below: none, flooring: sealed concrete}}
"""


def _tanks(si: bool) -> str:
    if si:
        tank = "length: 1200 mm, width: 450 mm, depth: 500 mm, water: 450 mm, wall: 10 mm glass"
        barrel = "diameter: 560 mm, depth: 850 mm, water: 800 mm"
    else:
        tank = "length: 48 in, width: 18 in, depth: 20 in, water: 18 in, wall: 3/8 in glass"
        barrel = "diameter: 22 in, depth: 33 in, water: 31 in"
    return f"""
vessels:                      # inside sizes; water: depth of water
  - {{name: tank, kind: tank, {tank}}}
  - {{name: barrel, kind: barrel, {barrel}}}

# supplies:
#   - {{name: hose, to: barrel, flow: 5 gal/min, unattended: 8 h}}

# below: none, own room, other people's room, shop or office
exposure: {{below: none, flooring: sealed concrete}}
"""


def _rack(si: bool) -> str:
    if si:
        sizes = ("1.5 m", "800 mm", "650 mm", "400 mm", "18 mm")
        bed = "length: 2.8 m, width: 750 mm, depth: 250 mm, water: 200 mm, fill: gravel"
        tank = "diameter: 1.2 m, depth: 800 mm, water: 700 mm"
        pump = "flow: 2500 L/h, intake: 80 mm, outlet: 300 mm"
        back = "bore: 50 mm, intake: 200 mm, outlet: 750 mm, length: 1.5 m"
    else:
        sizes = ("5 ft", "32 in", "26 in", "16 in", "23/32 in")
        bed = "length: 9 ft 6 in, width: 30 in, depth: 10 in, water: 8 in, fill: gravel"
        tank = "diameter: 4 ft, depth: 30 in, water: 27 in"
        pump = "flow: 700 gal/h, intake: 3 in, outlet: 12 in"
        back = "bore: 2 in, intake: 8 in, outlet: 28 in, length: 5 ft"
    return f"""
racks:
  north:                      # any name
    bays: 2                   # fields between posts, along the rack
    bay_length: {sizes[0]}
    width: {sizes[1]}
    deck_height: {sizes[2]}       # top of the deck above the floor
    post: 4x4 hem-fir No.2 treated
    beam: 2x8 douglas fir-larch No.2
    joist: {{size: 2x6, spacing: {sizes[3]}, seat: on beams}}   # or: between beams
    deck: {sizes[4]} plywood
    beam_seat: on the side    # the beams are fastened to the posts' sides; or: on top
    beam_runs: whole length   # one piece over all posts; or: each bay
    braces: none              # or a list: [{{face: back, bay: 1, kind: x, member: 2x4 hem-fir No.2}}]
    feet: {{anchored: no}}

vessels:                      # inside sizes; water: depth of water
  - {{name: bed, kind: bed, on: north, {bed}}}
  - {{name: tank, kind: tank, {tank}}}

joints:                       # count is for one joint, not for the rack
  - rack: north
    where: beam to post
    fasteners: {{kind: structural screw, diameter: 0.25 in, length: 4 in, count: 3, spread: 5 in}}

pumps:                        # intake and outlet: heights above the vessels' bottoms
  - {{name: main pump, from: tank, to: bed, {pump}}}

# how the water runs back; without it all of the pump's flow is taken to
# pipes:
#   - {{name: return, from: bed, to: tank, {back}}}

# below: none, own room, other people's room, shop or office
exposure: {{below: none, flooring: sealed concrete}}
"""


_BODIES: dict[str, Callable[[bool], str]] = {"weighed": _weighed, "rack": _rack, "tanks": _tanks}
