"""What does the frame put on each member, joint, brace, foot and tie of one rack, in every load case?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.cases import ALLOWABLE, ANCHORED, ANY_FEET, HELD, IN_PLACE, LOOSE, STRENGTH, LoadCase
from brimfast.assess.frame.mechanism import mechanism
from brimfast.assess.frame.model import Frame
from brimfast.assess.frame.states import Result

Array = NDArray[np.float64]
Indices = NDArray[np.int64]
NO_CASE = np.array([], dtype=np.int64)
WORDS = {
    ("along", 1): "to the right",
    ("along", -1): "to the left",
    ("across", 1): "to the back",
    ("across", -1): "to the front",
}


@dataclass(frozen=True)
class Acting:
    """Actions at one kind of place: by the whole weight (p,), in every case (p, C); and where each place is."""

    by_weight: dict[str, Array]
    total: dict[str, Array]
    where: tuple[str, ...]


@dataclass(frozen=True)
class RackActions:
    name: str
    frame: Frame
    cases: tuple[LoadCase, ...]
    result: Result
    periods: tuple[float, float]  # along, across

    def direction(self, case: LoadCase) -> tuple[str, int]:
        """A case's push in the rack's own words: along or across, and its sign."""
        axes = self.frame.places[self.name].axes
        which = int(np.argmax(np.abs(axes[:2, case.way])))
        return ("along", "across")[which], case.sign * (1 if axes[which, case.way] > 0 else -1)

    def pick(self, direction: str | None, *levels: str, feet: tuple[str, ...] = ()) -> Indices:
        """Numbers of the cases that balance, of these levels, this direction and these feet (any where not said)."""
        return np.array(
            [
                index
                for index, case in enumerate(self.cases)
                if self.result.stable[index]
                and (not levels or case.level in levels)
                and direction in (None, self.direction(case)[0])
                and (not feet or case.feet in feet)
            ],
            dtype=np.int64,
        )

    def pick_balanced(self, *levels: str) -> Indices:
        """Cases of these levels in the directions in which every push balances."""
        return np.concatenate(
            [self.pick(way, *levels) for way in ("along", "across") if self.balances(way)] or [NO_CASE]
        )

    def _stands(self, direction: str, feet: tuple[str, ...], *levels: str) -> bool:
        """Whether every push of a direction balances in full in one of these ways, with the stiffness as given."""
        pushes: dict[tuple[str, int], bool] = {}
        for index, case in enumerate(self.cases):
            counts = not case.variant and case.level in levels and self.direction(case)[0] == direction
            if counts and case.feet in feet:
                whole = self.result.part[index] == 1.0 and not self.result.slides[index]
                full = bool(self.result.stable[index]) and whole
                pushes[case.level, case.sign] = pushes.get((case.level, case.sign), False) or full
        return all(pushes.values())

    def balances(self, direction: str) -> bool:
        """Whether every push of a direction balances, if need be with the feet held down."""
        return self._stands(direction, ANY_FEET, *ALLOWABLE)

    def stays(self, direction: str) -> bool:
        """Whether it neither slides nor tips as a whole at strength level."""
        return self._stands(direction, (LOOSE, ANCHORED), *STRENGTH)

    def stays_upright(self, direction: str) -> bool:
        """Whether it does not tip as a whole at strength level."""
        return self._stands(direction, IN_PLACE, *STRENGTH)

    def gives_way(self, direction: str) -> str:
        """How it gives way in a direction, in words; empty where it balances."""
        if self.balances(direction):
            return ""
        for index, case in enumerate(self.cases):
            last = case.feet in (HELD, ANCHORED) and not case.variant and case.level in ALLOWABLE
            if last and self.direction(case)[0] == direction and not self.result.stable[index]:
                return mechanism(self.frame, self.name, self.result.movements[:, index])
        return "no state of its feet and braces balances the push"

    def feet_words(self, direction: str) -> str:
        """What the feet have to be in the worst case of a direction for the frame to balance."""
        if self.frame.anchored[self.name]:
            return ANCHORED
        for count in (1, 2):
            if self._stands(direction, ANY_FEET[:count], *ALLOWABLE):
                return ANY_FEET[count - 1]
        return HELD

    def push_words(self, case: int) -> str:
        one, part = self.cases[case], float(self.result.part[case])
        share = (
            f" by {part:.0%} of the push, all it stands without sliding or tipping, at least 0.6 D" if part < 1 else ""
        )
        feet = "" if one.feet in (LOOSE, ANCHORED) else f", feet {one.feet}"
        return f"pushed {WORDS[self.direction(one)]}{share}{feet}{', ' + one.variant if one.variant else ''}"

    @cached_property
    def _axes(self) -> Array:
        return self.frame.places[self.name].axes

    def _post(self, index: int) -> str:
        element = self.frame.elements[index]
        tier = f", tier {element.tier}" if len([1 for name, _ in self.frame.decks if name == self.name]) > 1 else ""
        return f"{element.face} post {element.number + 1}{tier}"

    @cached_property
    def joints(self) -> Acting:
        """Beam-to-post joints: what each set of fasteners gives its beam.

        H along, V upward, P across (N), M in the plane of the long face, counter-clockwise seen from the front (N·m).
        Where two beams end at a post each end is a joint of its own, with its own end forces and half of what else
        is fastened there.
        """
        where: list[str] = []
        weight: list[Array] = []
        total: list[Array] = []
        beams = self.frame.of("beam", rack=self.name)
        for index in self.frame.of("joint", rack=self.name):
            for words, from_weight, in_cases in self._joint(int(index), beams):
                where.append(words)
                weight.append(from_weight)
                total.append(in_cases)
        names = ("H", "P", "V", "M")
        return Acting(
            {name: np.array([item[k] for item in weight]) for k, name in enumerate(names)},
            {name: np.array([item[k] for item in total]) for k, name in enumerate(names)},
            tuple(where),
        )

    def _joint(self, index: int, beams: Indices) -> list[tuple[str, Array, Array]]:
        point = self.frame.topology.ends[index, 1]
        meets = self.frame.topology.ends[beams] == point
        ends = [(int(beams[at]), bool(meets[at, 1])) for at in np.flatnonzero(meets.any(axis=1))]
        hand = float(np.sign(np.linalg.det(self._axes)))  # -1 where the rack's own directions are a mirror image

        def gives(forces: Array) -> list[Array]:
            link = -forces[index]
            given = np.concatenate([self._axes @ link[:3], -hand * (self._axes @ link[3:])[1:2]])
            if self.frame.one_piece[self.name]:
                return [given]
            own = [self._end(e, at_j, forces) for e, at_j in ends]
            rest = (given[:3] - sum(item[:3] for item in own)) / len(own)
            return [np.concatenate([item[:3] + rest, item[3:]]) for item in own]

        weight, cases = gives(self.result.by_weight[:, :, None]), gives(self.result.forces)
        words = self._post(index)
        names = (
            [words]
            if len(weight) == 1
            else [f"{words}, beam from the {'left' if at_j else 'right'}" for _, at_j in ends]
        )
        return [(name, a[:, 0], b) for name, a, b in zip(names, weight, cases, strict=True)]

    def _end(self, element: int, at_j: bool, forces: Array) -> Array:
        """Force on a beam's end (along, across, up) and moment counter-clockwise from the front: (4, C)."""
        A = self.frame.topology.compatibility[element]
        part = A[:, 6:9] if at_j else A[:, 0:3]
        force = self._axes @ (part.T @ forces[element])
        return np.concatenate([force, -forces[element][3 if at_j else 2][None]])

    def gusset_nails(self, leg: str) -> Acting:
        """What the nails of every gusset's leg ('post' or 'beam') give its plate, the left plate of each bay first.

        H toward the bay's middle, V upward, M counter-clockwise where the beam lies to the right of the post.
        """
        rows = self.frame.of(f"gusset {leg}", rack=self.name)
        hand = float(np.sign(np.linalg.det(self._axes)))
        inward = np.where(np.arange(len(rows)) % 2 == 0, 1.0, -1.0)[:, None]

        def parts(forces: Array) -> dict[str, Array]:
            given = -forces[rows]
            push, turn = (np.einsum("ab,ebc->eac", self._axes, given[:, at : at + 3]) for at in (0, 3))
            return {"H": inward * push[:, 0], "V": push[:, 2], "M": -hand * inward * turn[:, 1]}

        where = []
        for at, row in enumerate(rows):
            element = self.frame.elements[row]
            end = "left" if at % 2 == 0 else "right"
            where.append(f"gusset {element.number + 1} of the file, {end} one, nails on the {leg}")
        return self._acting(parts, tuple(where))

    def _acting(self, parts: Callable[[Array], dict[str, Array]], where: tuple[str, ...]) -> Acting:
        """The same parts of the elements' forces (e, 6, C), once by the weight and once in every case."""
        by_weight = {name: item[:, 0] for name, item in parts(self.result.by_weight[:, :, None]).items()}
        return Acting(by_weight, parts(self.result.forces), where)

    def _posts(self, rows: Indices) -> tuple[str, ...]:
        return tuple(f"{self.frame.elements[e].face} post {self.frame.elements[e].number + 1}" for e in rows)

    def bars(self, kind: str) -> dict[int, Array]:
        """Normal forces (bars, C) of braces, knees or panels by their place in the file's list."""
        found: dict[int, list[int]] = {}
        for index in self.frame.of(kind, rack=self.name):
            found.setdefault(self.frame.elements[index].number, []).append(int(index))
        return {number: self.result.forces[rows, 0] for number, rows in found.items()}

    def slope(self, kind: str, number: int) -> float:
        """Sideways over length of a bar."""
        index = next(int(e) for e in self.frame.of(kind, rack=self.name) if self.frame.elements[e].number == number)
        i, j = self.frame.topology.ends[index]
        along = self.frame.topology.points[j] - self.frame.topology.points[i]
        return float(np.hypot(along[0], along[1]) / np.linalg.norm(along))

    @cached_property
    def posts(self) -> Acting:
        """Stretches of posts: P push and V shear (N), the larger end moments that bend it along and across (N·m)."""
        rows = self.frame.of("post", rack=self.name)
        L = self.frame.lengths[rows][:, None]

        def parts(forces: Array) -> dict[str, Array]:
            return {
                "P": -forces[rows, 0],
                "M_along": np.maximum(np.abs(forces[rows, 2]), np.abs(forces[rows, 3])),
                "M_across": np.maximum(np.abs(forces[rows, 4]), np.abs(forces[rows, 5])),
                "V": np.hypot(forces[rows, 2] + forces[rows, 3], forces[rows, 4] + forces[rows, 5]) / L,
            }

        return self._acting(parts, self._posts(rows))

    @cached_property
    def beams(self) -> Acting:
        """Stretches of beams: N pull, M_up and M_side the larger end moments, V upright shear; of both plies together."""
        rows = self.frame.of("beam", rack=self.name)
        L = self.frame.lengths[rows][:, None]

        def parts(forces: Array) -> dict[str, Array]:
            f = forces[rows]
            return {
                "N": f[:, 0],
                "M_up": np.maximum(np.abs(f[:, 2]), np.abs(f[:, 3])),
                "M_side": np.maximum(np.abs(f[:, 4]), np.abs(f[:, 5])),
                "V": np.abs(f[:, 2] + f[:, 3]) / L,
            }

        where = tuple(f"{self.frame.elements[e].face} beam, bay {self.frame.elements[e].number + 1}" for e in rows)
        return self._acting(parts, where)

    @cached_property
    def beams_from_ends(self) -> Array:
        """How far each stretch of beams lies from the nearer end of the rack (m)."""
        points = self.frame.topology.points[self.frame.topology.ends[self.frame.of("beam", rack=self.name)]]
        along = points @ self._axes[0]
        return np.asarray(np.minimum(along - along.min(), along.max() - along).min(axis=1))

    @cached_property
    def joists(self) -> Acting:
        """Joists: N pull (N) of a single one, in every case."""
        rows = self.frame.of("joist", rack=self.name)
        count = np.maximum(self.frame.joist_counts[rows], 1)[:, None]
        where = tuple(f"joist at place {self.frame.elements[e].number + 1}" for e in rows)
        return self._acting(lambda forces: {"N": forces[rows, 0] / count}, where)

    @cached_property
    def feet(self) -> Acting:
        """Feet: N the floor's push upward, H its sideways hold (N)."""
        rows = self.frame.of("foot", rack=self.name)

        def parts(forces: Array) -> dict[str, Array]:
            return {"N": forces[rows, 2], "H": np.hypot(forces[rows, 0], forces[rows, 1])}

        return self._acting(parts, self._posts(rows))

    @cached_property
    def ties(self) -> Acting:
        """One wall tie of each post: pull and push across, and along (N)."""
        rows, beside = self.frame.of("tie", rack=self.name), self.frame.of("tie along", rack=self.name)
        count = np.array([self.frame.elements[e].tier for e in rows], dtype=float)[:, None]
        where = tuple(f"post {self.frame.elements[e].number + 1}" for e in rows)

        def parts(forces: Array) -> dict[str, Array]:
            return {
                "across": np.linalg.norm(forces[rows, :3], axis=1) / count,
                "along": np.linalg.norm(forces[beside, :3], axis=1) / count,
            }

        return self._acting(parts, where)

    @cached_property
    def corner(self) -> Acting:
        rows = self.frame.of("corner", rack=self.name)
        where = tuple(f"{self.frame.elements[e].face} corner post" for e in rows)
        return self._acting(lambda forces: {"R": np.linalg.norm(forces[rows, :3], axis=1)}, where)

    @cached_property
    def join(self) -> Acting:
        """What goes through the beams of two racks beside each post: H along, V upright, P across (N)."""
        rows = self.frame.of("join", rack=self.name)
        several = len([1 for name, _ in self.frame.decks if name == self.name]) > 1
        found = [self.frame.elements[row] for row in rows]
        where = tuple(f"post {one.number + 1}{f', tier {one.tier}' if several else ''}" for one in found)

        def parts(forces: Array) -> dict[str, Array]:
            force = np.einsum("ab,ebc->eac", self._axes, forces[rows, :3])
            return {"H": force[:, 0], "P": force[:, 1], "V": force[:, 2]}

        return self._acting(parts, where)

    def moved(self, tier: int) -> Array:
        """Movements (points, 3, C) of a tier's beams by the push, in the rack's own directions."""
        points = np.array(self.frame.decks[self.name, tier]).ravel()
        rows = points[:, None] * 6 + np.arange(3)
        return np.asarray(np.einsum("ab,pbc->pac", self._axes, self.result.movements[rows]))

    def between(self, low: float, high: float) -> Array:
        """How far each post's point at one height moves against that at another (posts, 3, C), in the rack's directions."""
        z = self.frame.topology.points[:, 2]
        chains = [np.array(chain) for (name, _, _), chain in self.frame.posts.items() if name == self.name]
        ends = [[chain[int(np.argmin(np.abs(z[chain] - height)))] for chain in chains] for height in (low, high)]
        rows = [np.array(points)[:, None] * 6 + np.arange(3) for points in ends]
        difference = self.result.movements[rows[1]] - self.result.movements[rows[0]]
        return np.asarray(np.einsum("ab,pbc->pac", self._axes, difference))
