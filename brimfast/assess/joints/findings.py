"""All joint checks of one rack, in the order of the load path."""

from __future__ import annotations

from brimfast.assess.joints.beam_to_post import beam_to_post
from brimfast.assess.joints.braces import braces
from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.feet import sill_bolts
from brimfast.assess.joints.gussets import gussets
from brimfast.assess.joints.joined import joined
from brimfast.assess.joints.joist_to_beam import joist_to_beam
from brimfast.assess.joints.leaning import leaning
from brimfast.assess.joints.panels import panels
from brimfast.assess.joints.wall_ties import wall_ties
from brimfast.shared.findings import Finding


def joint_findings(case: RackCase) -> list[Finding]:
    """Joists, beams, braces, gussets, panels, ties, feet, and what stops the rack from leaning."""
    questions = (joist_to_beam, beam_to_post, braces, gussets, panels, wall_ties, joined, sill_bolts, leaning)
    return [finding for question in questions for finding in question(case)]
