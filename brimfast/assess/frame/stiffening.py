"""Braces, knees and panels of a rack in its frame."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from brimfast.assess.frame.builder import Builder, PostPoint
from brimfast.assess.frame.model import Element
from brimfast.assess.frame.places import SIDES, face_posts
from brimfast.assess.frame.rack_input import RackInput
from brimfast.assess.frame.sections import modulus
from brimfast.assess.joints.stiffness import brace_stiffness, slip_in
from brimfast.assess.parts import Member
from brimfast.assess.timber.column import MOST_SLENDER
from brimfast.assess.timber.racking import diagonal_for_panel, panel_stiffness
from brimfast.data_tables.loader import factor_si
from brimfast.shared.installation.rack import Brace, SheathedPanel

Array = NDArray[np.float64]


def add_brace(builder: Builder, one: RackInput, index: int, brace: Brace, timber: Member, post: PostPoint) -> None:
    rack, parts = one.rack, one.parts
    E = modulus(timber, rack)
    joint = one.joints.get("brace to post")
    fasteners = joint.fasteners if joint is not None else None
    foot, top = one.weight.storey(brace.storey)
    (a, b) = face_posts(rack, brace.face)[brace.bay - 1]
    pairs: list[tuple[int, int]] = []
    if brace.leg is not None:
        stations = builder.decks[one.name, brace.storey]
        side = SIDES.index(brace.face)
        for (line, face), way in ((a, 1), (b, -1)):
            wanted = builder.points[post(line, face, top)] + way * brace.leg * _along(builder, one)
            beam = min(
                (pair[side] for pair in stations), key=lambda p: float(np.linalg.norm(builder.points[p] - wanted))
            )
            pairs.append((post(line, face, top - brace.leg), beam))
    else:
        pairs.append((post(*a, foot), post(*b, top)))
        if brace.kind == "x":
            pairs.append((post(*b, foot), post(*a, top)))
    for i, j in pairs:
        L = float(np.linalg.norm(builder.points[j] - builder.points[i]))
        k, soft = (brace_stiffness(E * timber.area, L, fasteners, timber, parts.post, near) for near in (False, True))
        slender = L / min(timber.thickness, timber.width) > MOST_SLENDER
        what = Element("knee" if brace.leg is not None else "brace", one.name, brace.face, brace.storey, index)
        builder.soft[len(builder.elements)] = np.array([soft] + [0.0] * 7)
        builder.bar(what, i, j, k, one_way=brace.kind == "x" or (brace.kind == "single" and slender))


def _along(builder: Builder, one: RackInput) -> Array:
    first = builder.posts[one.name, 0, "front"][0]
    last = builder.posts[one.name, one.rack.bays, "front"][0]
    return np.asarray((builder.points[last] - builder.points[first]) / one.rack.length)


def add_panel(builder: Builder, one: RackInput, index: int, panel: SheathedPanel, post: PostPoint) -> None:
    rack, parts = one.rack, one.parts
    foot, top = one.weight.storey(panel.storey)
    (a, b) = face_posts(rack, panel.face)[panel.bay - 1]
    pairs = [(post(*a, foot), post(*b, top)), (post(*b, foot), post(*a, top))]
    K = slip_in(min(parts.post.G, parts.beam.G), panel.nail, predrilled=False)
    Gt = factor_si("sheet_shear_plywood") * panel.thickness
    length, height = float(np.linalg.norm((builder.points[pairs[0][1]] - builder.points[pairs[0][0]])[:2])), top - foot
    k = diagonal_for_panel(panel_stiffness(Gt, length, height, K, panel.edge_spacing), length, height)
    for i, j in pairs:
        builder.bar(Element("panel", one.name, panel.face, panel.storey, index), i, j, float(k))
