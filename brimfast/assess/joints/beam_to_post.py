"""Do the fasteners that hold the beams to the posts carry the weight, and then the earthquake?"""

from __future__ import annotations

import numpy as np

from brimfast.assess.frame import lines as frame_lines
from brimfast.assess.joints.beam_across import across
from brimfast.assess.joints.beam_along import along
from brimfast.assess.joints.beam_joint import WHERE, BeamJoint
from brimfast.assess.joints.case import TOPIC, UPRIGHT, RackCase
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.joints.on_top import on_top
from brimfast.assess.joints.statics import shared
from brimfast.assess.timber.eurocode import embedment, single_shear_modes, yield_moment
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.shared.findings import Finding, Step, always, not_assessed, step


def beam_to_post(case: RackCase) -> list[Finding]:
    """Weight first, then the earthquake along and across, then the fasteners' distances."""
    joint = case.joints.get(WHERE)
    if joint is None:
        return [case.missing(WHERE, "how the beams are fastened to the posts is not in the file")]
    layout = beam_to_post_layout(case.rack, case.parts, joint.fasteners, leans=not case.rack.braced("along"))
    it = BeamJoint(case, joint, layout)
    if case.rack.beam_seat == "on top":
        return [always(_weight(it)), *(on_top(case, joint, direction) for direction in ("along", "across"))]
    found = [always(_weight(it)), along(it), across(it)]
    found.extend(layout.findings(f"joint/{case.name}/{WHERE}", case.subject(WHERE)))
    return found


def _weight(it: BeamJoint) -> Finding:
    case, gravity = it.case, it.case.gravity
    question = "Do the fasteners carry the full weight, day and night?"
    line = step(
        "R",
        "R_simple + R_added",
        {"R_simple": (gravity.joint_simple, "N"), "R_added": (gravity.joint_added, "N")},
        (gravity.joint_worst, "N"),
        "plain statics of simple spans, each side half; R_added: three-moment equation",
        f"worst at post {gravity.joint_worst_post} from the left; R_added is what a beam in one piece adds there",
    )
    if case.rack.beam_seat == "on top":
        return not_assessed(
            f"joint/{case.name}/{WHERE}/gravity",
            TOPIC,
            case.subject(WHERE),
            question,
            "force",
            "the beam stands on the post: the weight goes down by bearing (see Timber), not through the fasteners",
            demand=gravity.joint_worst,
            steps=(line,),
        )
    demand, lines, details = _heavier(case, line)
    try:
        capacity = it.capacity("permanent")
    except NotAssessableError as error:
        return case.outside("gravity", WHERE, question, demand, str(error), lines)
    return shared(
        f"joint/{case.name}/{WHERE}/gravity",
        case.subject(WHERE),
        question,
        demand,
        capacity,
        UPRIGHT,
        0.0,
        lines,
        "D",
        "joint gravity",
        {**details, **it.layout.details, **_second_opinion(it)},
    )


def _heavier(case: RackCase, line: Step) -> tuple[float, tuple[Step, ...], dict[str, str]]:
    """The weight on the worst joint: by plain statics or by the frame, whichever is more, as a post may settle.

    Beams of one bay each are simple spans, for which plain statics is exact.
    """
    statics = case.gravity.joint_worst
    if case.frame is None or case.rack.beam_runs == "each bay":
        return statics, (line,), {}
    joints = case.frame.joints
    place = int(np.argmax(joints.by_weight["V"]))
    by_frame = float(joints.by_weight["V"][place])
    larger = max(statics, by_frame)
    inputs: dict[str, float | tuple[float, str]] = {"R": (statics, "N"), "R_frame": (by_frame, "N")}
    note = f"R_frame: {joints.where[place]}, {frame_lines.SOURCE}"
    more = step("R_D", "max(R, R_frame)", inputs, (larger, "N"), "the larger counts", note)
    return larger, (line, more), frame_lines.compared(by_frame, statics, case.gravity.side_weight)


def _second_opinion(it: BeamJoint) -> dict[str, str]:
    """For bolts in strength classes: EN 1995-1-1's characteristic value of one bolt, no rope effect, along the grain."""
    beam, post, fasteners = it.case.parts.beam, it.case.parts.post, it.joint.fasteners
    both = all(member.species.startswith("C") for member in (beam, post))
    if not both or fasteners.kind != "through-bolt" or fasteners.diameter is None:
        return {}
    d = fasteners.diameter * 1000
    f_1, f_2 = (float(embedment(member.G * 1000, d)) for member in (beam, post))
    M_y = float(yield_moment(400.0, d))
    modes = single_shear_modes(f_1, f_2, beam.thickness * 1000, post.thickness * 1000, d, M_y)
    mode, value = min(((name, float(force)) for name, force in modes.items()), key=lambda item: item[1])
    return {"EN 1995-1-1, one bolt of 4.6, characteristic, along the grain": f"{value / 1000:.2f} kN (mode {mode})"}
