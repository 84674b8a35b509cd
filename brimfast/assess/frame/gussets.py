"""Gussets of a rack in its frame: the plate as a stiff bar between the nails on the post and those on the beam."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame import elements
from brimfast.assess.frame.builder import Builder, PostPoint
from brimfast.assess.frame.model import Element
from brimfast.assess.frame.places import SIDES
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.joints.stiffness import ULTIMATE, gusset_stiffness
from brimfast.assess.timber.gusset import gusset_centre
from brimfast.shared.installation.rack import Gusset

Array = NDArray[np.float64]
STIFF = (1e8, 1e2, 1e6, 1e6)  # EA (N), GJ, EI_y, EI_z (N·m²): far stiffer than nails; it does not twist the beam
LOOSE = 1e3  # N/m and N·m/rad off its own plane: nails that are pried are not relied on


def gusset_ends(one: RackInput, lines: list[float], gusset: Gusset) -> tuple[tuple[int, float], tuple[int, float]]:
    """Of either plate: the line of its post, and where along the rack the middle of its nails on the beam is (m)."""
    left, right = gusset.bay - 1, gusset.bay
    aside = gusset_centre(gusset.leg, one.parts.post.width / 2)
    return (left, lines[left] + aside), (right, lines[right] - aside)


def gusset_height(one: RackInput, gusset: Gusset) -> float:
    """Of the middle of its nails on the post (m)."""
    return one.weight.storey(gusset.storey)[1] - gusset_centre(gusset.leg, one.parts.beam.width / 2)


def add_gusset(
    builder: Builder, one: RackInput, index: int, gusset: Gusset, lines: list[float], axes: Array, post: PostPoint
) -> None:
    _, top = one.weight.storey(gusset.storey)
    side = SIDES.index(gusset.face)
    stations = [pair[side] for pair in builder.decks[one.name, gusset.storey]]
    in_plane, across = np.abs(axes[0]) + np.abs(axes[2]), np.abs(axes[1])
    for line, x in gusset_ends(one, lines, gusset):
        on_post = post(line, gusset.face, gusset_height(one, gusset))
        foot = builder.points[post(line, gusset.face, top)]
        wanted = foot + (x - lines[line]) * axes[0]
        on_beam = min(stations, key=lambda p: float(np.linalg.norm(builder.points[p] - wanted)))
        plate = [builder.point(builder.points[p].copy(), line) for p in (on_post, on_beam)]
        for kind, point, own in (("gusset post", on_post, plate[0]), ("gusset beam", on_beam, plate[1])):
            K, turn = gusset_stiffness(one.rack, one.parts, gusset, on_post=kind == "gusset post")
            stiffness = np.concatenate([in_plane * K + across * LOOSE, across * turn + in_plane * LOOSE])
            builder.soft[len(builder.elements)] = elements.link_coefficients(stiffness * ULTIMATE)
            builder.link(Element(kind, one.name, gusset.face, gusset.storey, index), point, own, stiffness)
        L = float(np.linalg.norm(builder.points[plate[1]] - builder.points[plate[0]]))
        EA, GJ, EI_y, EI_z = (np.array([value]) for value in STIFF)
        rigid = elements.member_coefficients(EA, GJ, EI_y, EI_z, np.array([L]))[0]
        what = Element("gusset", one.name, gusset.face, gusset.storey, index)
        builder.member(what, plate[0], plate[1], rigid, axes[1])
