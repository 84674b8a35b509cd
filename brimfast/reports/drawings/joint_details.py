"""How the fasteners of a joint stand, to scale."""

from __future__ import annotations

import math

from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.pipeline import Assessment
from brimfast.reports.drawings.beam_joint import beam_joint
from brimfast.reports.drawings.brace_end import brace_end
from brimfast.reports.drawings.places import diagonal
from brimfast.shared.units import System

# isort: split
from reportlab.graphics.shapes import Drawing

BEAM, BRACE = "beam to post", "brace to post"


def joint_detail(assessment: Assessment, rack: str, where: str, system: System, width: float) -> Drawing | None:
    """Beam to post, or a brace's end; None where the file does not say how it is fastened, or by a maker's tie."""
    joint = next((one for one in assessment.installation.joints if one.rack == rack and one.where == where), None)
    if joint is None:
        return None
    fasteners = joint.fasteners
    diameter = fasteners.diameter or (fasteners.nail[0] if fasteners.nail else 0.0)
    if not diameter or fasteners.kind == "framing tie":
        return None
    found, parts = assessment.installation.racks[rack], assessment.resolved.racks[rack]
    if where == BEAM:
        if found.beam_seat == "on top":
            return None
        layout = beam_to_post_layout(found, parts, fasteners, leans=not found.braced("along"))
        return beam_joint(found, parts.post, parts.beam, fasteners, layout, system, width)
    if where == BRACE and found.braces:
        (x1, z1), (x2, z2) = diagonal(assessment, rack, found.braces[0])
        slope = math.atan2(z2 - z1, x2 - x1)
        return brace_end(parts.post, parts.braces[0], fasteners, diameter, slope, system, width)
    return None
