"""What a rack's frame is made of: points, elements, places, masses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.topology import Topology

Array = NDArray[np.float64]


class NoFrameError(Exception):
    """The rack can't be modelled as a frame: `why` says so in words."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Element:
    """What an element of the frame is. number: post line, bay, or place in the file's list, counted from 0."""

    kind: str  # post, beam, joist, rail, deck, sill, brace, knee, panel, gusset, gusset post, gusset beam, joint, corner, join, foot, tie, tie along
    rack: str
    face: str = ""
    tier: int = 0  # tier, or storey; of a tie how many stand there
    number: int = 0


@dataclass(frozen=True)
class Place:
    """Where a rack stands in the frame: its left front post, and its own directions (rows: along, across, up)."""

    origin: Array
    axes: Array


@dataclass(frozen=True)
class Masses:
    """Masses at points: weight (N), and what a push by that weight along X or Y puts on the point's movements."""

    racks: NDArray[np.str_]
    points: NDArray[np.int64]
    weights: Array  # (k,)
    pushed: Array  # (k, 6, 2)

    def onto(self, movements: int, shares: Array) -> Array:
        """Loads (movements, 2) where each mass is pushed by a share (k, 2) of its weight."""
        out = np.zeros((movements, 2))
        rows = self.points[:, None] * 6 + np.arange(6)
        np.add.at(out, rows, self.pushed * shares[:, None, :])
        return out

    def moved(self, movements: Array) -> Array:
        """How far each mass goes in X and in Y (k, 2) when the points move by columns for X and for Y."""
        rows = self.points[:, None] * 6 + np.arange(6)
        return np.asarray(np.einsum("kmd,kmd->kd", self.pushed, movements[rows]) / self.weights[:, None])


@dataclass(frozen=True)
class Frame:
    topology: Topology
    coefficients: Array  # (e, 8)
    hinged: Array  # (e, 8) the same with beam-to-post joints that turn freely
    soft: Array  # (e, 8) the same with joints near their strength, and the least where their fasteners are not known
    joints_unknown: bool
    lengths: Array  # (e,)
    elements: tuple[Element, ...]
    places: dict[str, Place]
    posts: dict[tuple[str, int, str], tuple[int, ...]]  # points of each post from foot to top
    decks: dict[tuple[str, int], tuple[tuple[int, int], ...]]  # points of a tier's beams, front and back, left to right
    anchored: dict[str, bool]  # whether a rack's feet are
    one_piece: dict[str, bool]  # whether a rack's beams run through over the posts
    joist_counts: NDArray[np.int64]  # (e,) joists that an element stands for
    one_way: NDArray[np.bool_]  # (e,) only pulled: too slender to be pushed, or an X
    weight: Array  # (6 n,) loads of the weight
    masses: Masses

    def pushed(self, rack: str) -> Array:
        """Loads (6 n, 2) of a rack's masses pushed by their weight along X and along Y."""
        mine = self.masses.racks == rack
        return self.masses.onto(len(self.weight), np.broadcast_to(mine[:, None], (len(mine), 2)).astype(float))

    def of(self, *kinds: str, rack: str | None = None) -> NDArray[np.int64]:
        """Indices of the elements of these kinds."""
        return np.array(
            [
                index
                for index, element in enumerate(self.elements)
                if element.kind in kinds and rack in (None, element.rack)
            ],
            dtype=np.int64,
        )
