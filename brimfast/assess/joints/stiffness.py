"""How much does a joint give: per newton that slides it, per newton-metre that turns it?"""

from __future__ import annotations

from dataclasses import dataclass

from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.assess.parts import Member, RackParts
from brimfast.assess.timber.density import timber_density
from brimfast.assess.timber.group import rotational_stiffness, slip_modulus
from brimfast.assess.timber.gusset import gusset_places
from brimfast.shared.installation.joint import Fasteners, Joint
from brimfast.shared.installation.rack import Gusset, Rack

UNKNOWN_SLIP = 1e7  # N/m: a joint whose fasteners are not described, or whose value was typed in: at most
UNKNOWN_SOFT = 2e6  # N/m: and at least, as one thin screw
ULTIMATE = 2 / 3  # K_u over K_ser near the design strength, EN 1995-1-1 section 2.2.2 (from memory)


@dataclass(frozen=True)
class JointStiffness:
    """slip N/m sideways; rotation N·m/rad in the plane of the long face; 0 where nothing is known to hold a turn."""

    slip: float
    rotation: float


def slip_in(G: float, D: float, predrilled: bool = True) -> float:
    """K_ser (N/m) of one fastener of diameter D (m) in wood of specific gravity G at 12 % moisture."""
    return float(slip_modulus(timber_density(G, 0.12), D, predrilled))


def fastener_slip(fasteners: Fasteners, one: Member, other: Member) -> float | None:
    """K_ser of one fastener (N/m) by the lighter of the two woods; None where its diameter is not known."""
    D = fasteners.diameter or (fasteners.nail[0] if fasteners.nail else None)
    if D is None:
        return None
    return slip_in(min(one.G, other.G), D, predrilled=fasteners.kind != "nail")


def beam_joint_stiffness(rack: Rack, parts: RackParts, joint: Joint | None, soft: bool = False) -> JointStiffness:
    """A beam at the side of its post turns against it as its fasteners slip; one on top of it, or unknown, is hinged.

    soft: near its strength, by K_u; the least where its fasteners are not known.
    """
    slip = fastener_slip(joint.fasteners, parts.beam, parts.post) if joint is not None else None
    if joint is None or slip is None:
        return JointStiffness(UNKNOWN_SOFT if soft else UNKNOWN_SLIP, 0.0)
    planes = (2 if rack.paired else 1) * (ULTIMATE if soft else 1.0)
    layout = beam_to_post_layout(rack, parts, joint.fasteners, leans=False)
    turns = rack.beam_seat == "on the side" and joint.fasteners.kind != "framing tie"
    rotation = float(rotational_stiffness(slip * planes, layout.places)) if turns else 0.0
    return JointStiffness(slip * planes * joint.fasteners.count, rotation)


def brace_stiffness(
    EA: float, length: float, fasteners: Fasteners | None, brace: Member, post: Member, soft: bool = False
) -> float:
    """N/m of a brace with the slip of the fasteners at both its ends: 1/k = L/EA + 2/(n K_ser).

    soft: by K_u; the least where its fasteners are not known.
    """
    slip = fastener_slip(fasteners, brace, post) if fasteners is not None else None
    give = length / EA
    if slip is not None and fasteners is not None:
        give += 2 / (slip * fasteners.count * (ULTIMATE if soft else 1.0))
    elif soft:
        give += 2 / UNKNOWN_SOFT
    return 1 / give


def gusset_stiffness(rack: Rack, parts: RackParts, gusset: Gusset, *, on_post: bool) -> tuple[float, float]:
    """Slip (N/m) of the nails of one leg, and against a turn in the plane of the plate (N·m/rad).

    Where the beam is at the side of the post the leg on it lies on a filler, whose screws give as much as the nails again.
    """
    wood, other = (parts.post, parts.beam) if on_post else (parts.beam, parts.post)
    K = slip_in(wood.G, gusset.nail[0], predrilled=False)
    if on_post and rack.beam_seat == "on the side":
        K /= 2
    places = gusset_places(gusset.leg, gusset.nails, wood.width, other.width / 2, upright=on_post)
    return K * gusset.nails, float(rotational_stiffness(K, places))


def joints_unknown(rack: Rack, joints: dict[str, Joint]) -> bool:
    """Whether a joint on which the rack's stiffness hangs is not described by its fasteners."""
    wanted = ["beam to post", *(["brace to post"] if rack.braces else [])]
    for where in wanted:
        joint = joints.get(where)
        if joint is None or (joint.fasteners.diameter is None and joint.fasteners.nail is None):
            return True
    return False
