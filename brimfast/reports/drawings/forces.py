"""A rack's frame under the push that loads its posts most: forces along members, and what the floor gives."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.actions import RackActions
from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.pipeline import Assessment
from brimfast.reports.drawings.keyed import Keyed
from brimfast.reports.drawings.scale_bar import scale_bar
from brimfast.reports.drawings.sheet import SMALL, Sheet
from brimfast.reports.pdf_style import INK, LINE, QUIET, VERDICT_COLOURS
from brimfast.shared.units import System, show

# isort: split
from reportlab.graphics.shapes import Drawing

Array = NDArray[np.float64]
SIDE, HEAD = 60.0, 40.0
ARROWS, LINES, BESIDE, MOST_LEVELS = 44.0, 28.0, 68.0, 4  # points below the floor: arrows, one row of words, its width
BARS = ("brace", "knee")
SLIGHT = 0.02  # of the largest force: less is not written
PULL = VERDICT_COLOURS["short"]
ENDS = ("left", "right")


@dataclass(frozen=True)
class _Stick:
    kind: str
    x1: float
    z1: float
    x2: float
    z2: float
    N: float  # pull


@dataclass(frozen=True)
class _Face:
    """The sticks of one face in one case, and of each foot: aside (m), push (N), sideways (N), least push of all cases."""

    title: str
    sticks: tuple[_Stick, ...]
    feet: tuple[tuple[float, float, float, float], ...]
    sign: int
    case: str


def frame_forces(
    assessment: Assessment, name: str, direction: str, system: System, width: float, most_height: float = 230.0
) -> Keyed | None:
    """One direction of one rack; None where there is no frame, or none that balances. The key: the case."""
    acts = assessment.frames.get(name)
    if acts is None or not acts.balances(direction):
        return None
    picks = acts.pick(direction, *ALLOWABLE)
    if not len(picks):
        return None
    face = _face(acts, direction, picks)
    drawing = _draw(face, system, width, most_height)
    return Keyed(drawing, (("case", face.case), *_uplift(acts, picks, system)))


def _uplift(acts: RackActions, picks: NDArray[np.int64], system: System) -> tuple[tuple[str, str], ...]:
    """The foot that is pulled up most, of all feet and cases of the direction."""
    given = acts.feet.total["N"][:, picks]
    if not given.min() < 0:
        return ()
    place = int(np.argmin(given.min(axis=1)))
    return (
        (
            "uplift",
            f"most of all feet and cases {show(-float(given.min()), 'force', system)}, {acts.feet.where[place]}",
        ),
    )


def _own(acts: RackActions, direction: str) -> tuple[Array, Array]:
    """Points in the view (aside, height), and how far each lies behind (m)."""
    place = acts.frame.places[acts.name]
    points = (acts.frame.topology.points - place.origin) @ place.axes.T
    aside, behind = (0, 1) if direction == "along" else (1, 0)
    return points[:, [aside, 2]], points[:, behind]


def _face(acts: RackActions, direction: str, picks: NDArray[np.int64]) -> _Face:
    """The case and the face (or the line of posts) with the largest push in a post."""
    frame, forces = acts.frame, acts.result.forces
    posts = frame.of("post", rack=acts.name)
    push = -forces[posts, 0][:, picks]
    row, column = np.unravel_index(int(np.argmax(push)), push.shape)
    case = int(picks[column])
    points, behind = _own(acts, direction)
    ends = frame.topology.ends
    layer = behind[ends[posts[row], 0]]
    kinds = ("post", "beam", "rail", "joist", *BARS)
    sticks = []
    for index in frame.of(*kinds, rack=acts.name):
        i, j = ends[index]
        here = bool(np.allclose(behind[[i, j]], layer, atol=0.02))
        flat = bool(np.hypot(*(points[i] - points[j])) > 1e-6)
        if here and flat and i != j:
            (x1, z1), (x2, z2) = points[i], points[j]
            sticks.append(
                _Stick(
                    frame.elements[index].kind,
                    float(x1),
                    float(z1),
                    float(x2),
                    float(z2),
                    float(forces[index, 0, case]),
                )
            )
    feet = []
    for index in frame.of("foot", rack=acts.name):
        point = ends[index, 0]
        if abs(behind[point] - layer) < 0.02:
            up, held = float(forces[index, 2, case]), float(np.hypot(*forces[index, :2, case]))
            feet.append((float(points[point, 0]), up, held, float(forces[index, 2][picks].min())))
    sign = acts.direction(acts.cases[case])[1]
    view = _title(acts, direction, float(layer))
    words = f"{acts.push_words(case)}; {acts.cases[case].words}; allowable level"
    return _Face(view, tuple(sticks), tuple(sorted(feet)), sign, words)


def _title(acts: RackActions, direction: str, layer: float) -> str:
    if direction == "along":
        return f"{'front' if layer < 0.02 else 'back'} face"
    _, behind = _own(acts, direction)
    lines = sorted(
        {round(float(behind[acts.frame.topology.ends[e, 0]]), 2) for e in acts.frame.of("foot", rack=acts.name)}
    )
    number = min(range(len(lines)), key=lambda index: abs(lines[index] - layer)) + 1
    return f"line {number} of posts from the left, seen from the right"


def _draw(face: _Face, system: System, width: float, most_height: float) -> Drawing:
    xs = [value for one in face.sticks for value in (one.x1, one.x2)]
    zs = [value for one in face.sticks for value in (one.z1, one.z2)]
    left, right, top = min(xs), max(xs), max(zs)
    wide = (width - 2 * SIDE) / max(right - left, 0.1)
    levels = _levels(face, min(wide, (most_height - ARROWS - LINES - HEAD) / max(top, 0.1)))
    foot = ARROWS + LINES * levels
    scale = min(wide, max(most_height - foot - HEAD, 60.0) / max(top, 0.1))
    levels = max(levels, _levels(face, scale))
    foot = ARROWS + LINES * levels
    sheet = Sheet(width, foot + HEAD + top * scale)
    x0 = (width - (right - left) * scale) / 2 - left * scale

    def at(x: float, z: float) -> tuple[float, float]:
        return x0 + x * scale, foot + z * scale

    sheet.put(face.title, [(8, sheet.height - 12, "start")], colour=INK, bold=True)
    sheet.ground(foot, x0 + left * scale - 26, x0 + right * scale + 26)
    _push(sheet, face, *at(left if face.sign > 0 else right, top))
    most = max([abs(one.N) for one in face.sticks if one.kind in ("post", *BARS)], default=0.0)
    for one in face.sticks:
        _stick(sheet, one, at(one.x1, one.z1), at(one.x2, one.z2), most)
    for index, (aside, up, held, least) in enumerate(face.feet):
        _foot(sheet, *at(aside, 0.0), (up, held, least), face.sign, index % levels, system)
    for one in _labelled(face.sticks, most):
        (x1, y1), (x2, y2) = at(one.x1, one.z1), at(one.x2, one.z2)
        words = f"{'pulled' if one.N > 0 else 'pressed'} {show(abs(one.N), 'force', system)}"
        sheet.near(words, (x1 + x2) / 2, (y1 + y2) / 2, SMALL, INK, one.N > 0, start=8.0)
    scale_bar(sheet, 8, 6, scale, system)
    return sheet.drawing()


def _levels(face: _Face, scale: float) -> int:
    """How many rows of words beneath the feet, so that those of neighbours do not meet."""
    asides = [foot[0] for foot in face.feet]
    least = min((b - a for a, b in pairwise(asides)), default=1e9) * scale
    return max(1, min(MOST_LEVELS, -(-int(BESIDE) // max(int(least), 1))))


def _labelled(sticks: tuple[_Stick, ...], most: float) -> list[_Stick]:
    """Of each post the stretch that carries most, and every brace that carries anything."""
    found: dict[float, _Stick] = {}
    bars = []
    for one in sticks:
        if abs(one.N) <= SLIGHT * most:
            continue
        if one.kind == "post":
            key = round(one.x1, 2)
            if key not in found or abs(one.N) > abs(found[key].N):
                found[key] = one
        elif one.kind in BARS:
            bars.append(one)
    least = 0.25 * most if len(found) > 5 else 0.0  # of many posts those that matter: each has its foot's force beneath
    return [*bars, *(one for one in found.values() if abs(one.N) >= least)]


def _stick(sheet: Sheet, one: _Stick, start: tuple[float, float], end: tuple[float, float], most: float) -> None:
    """As heavy as what it carries; pulled dashed, pushed solid, beams and rails thin."""
    if one.kind not in ("post", *BARS):
        sheet.line(*start, *end, QUIET, 1.2)
        return
    weight = 0.8 + 3.2 * (abs(one.N) / most if most else 0.0)
    if abs(one.N) <= SLIGHT * most:
        sheet.line(*start, *end, LINE if one.kind in BARS else QUIET, 1.0)
    elif one.N > 0:
        sheet.line(*start, *end, PULL, weight, (6, 3))
    else:
        sheet.line(*start, *end, INK, weight)


def _push(sheet: Sheet, face: _Face, x: float, y: float) -> None:
    away = -28.0 if face.sign > 0 else 28.0
    sheet.arrow(x + away, y, x + (away / 28) * 4, y, INK, 2.4, 8.0)
    sheet.near("push", x + away, y, SMALL, INK, start=9.0)


def _foot(
    sheet: Sheet, x: float, y: float, acting: tuple[float, float, float], sign: int, level: int, system: System
) -> None:
    """What the floor gives a foot: upward and sideways in this case, and the least upward of all cases beneath."""
    up, held, least = acting
    if up > 0:
        sheet.arrow(x, y - 26, x, y - 7, INK, 1.6, 6.0)
    elif up < 0:
        sheet.arrow(x, y - 7, x, y - 26, PULL, 1.6, 6.0, hollow=True)
    if held > 0:
        sheet.arrow(x + sign * 20, y - 10, x + sign * 3, y - 10, QUIET, 1.0, 4.0)
    force = show(abs(up), "force", system)
    lines = [f"up {force}" if up > 0 else f"holds down {force}" if up < 0 else "lifts off"]
    lines.append(f"sideways {show(held, 'force', system)}")
    lines.append(
        f"at least {show(least, 'force', system)}"
        if least > 0
        else f"uplift {show(-least, 'force', system)}"
        if least < 0
        else "may lift off"
    )
    top = y - 35 - LINES * level
    if level:
        sheet.line(x, y - 28, x, top + 6, QUIET, 0.4)
    for index, line in enumerate(lines):
        bold, colour = index == 2 and least < 0, QUIET if index == 1 else INK
        sheet.put(line, [(x, top - 8.5 * index, "middle")], SMALL, colour, bold)
