"""Does a body slide, and what does the code say of friction?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.shared.findings import Finding, Step, Value, finding, not_assessed, step
from brimfast.shared.installation.site import Site

Array = NDArray[np.float64]


def sliding_resistance(mu: ArrayLike, W: ArrayLike, share: ArrayLike) -> Array:
    """Friction (N): R = μ · share · W; share is the part of the weight that the combination lets count."""
    return np.asarray(np.asarray(mu, float) * np.maximum(np.asarray(share, float), 0.0) * np.asarray(W, float))


def pushed(body: FreeBody, force: Force) -> tuple[float, tuple[Step, ...], tuple[Value, ...]]:
    """The sideways force (N): all water rigid, or sloshing in the worse direction, whichever is larger."""
    sloshing = body.hardest
    if sloshing is None:
        return force.horizontal, (), ()
    F = max(force.horizontal, sloshing.force)
    inputs = {"F": (force.horizontal, "N"), "V_slosh": (sloshing.force, "N")}
    last = step("F_push", "max(F, V_slosh)", inputs, (F, "N"), "", "F: all water rigid; the larger is used")
    return F, (*sloshing.steps, last), sloshing.values


def sliding_finding(body: FreeBody, force: Force, S_DS: float) -> Finding:
    """The physical estimate, with the low friction of the pair; the same in every direction."""
    W, friction = body.weight, body.friction
    F, push, sloshing_values = pushed(body, force)
    strength = float(combinations.strength_resisting(S_DS))
    allowable = float(combinations.allowable_resisting(S_DS))
    low = combinations.EARTHQUAKE_SHARE
    inputs: dict[str, float | tuple[float, str]] = {"mu": friction.low, "S_DS": S_DS, "W": (W, "N")}
    resist_strength = float(sliding_resistance(friction.low, W, strength))
    resist_allowable = float(sliding_resistance(friction.low, W, allowable))
    demand, capacity, combination = combinations.worse_level((F, resist_strength), (low * F, resist_allowable))
    steps = (
        *force.steps,
        *push,
        step(
            "R_strength",
            "mu*max(0.9 - 0.2*S_DS, 0)*W",
            inputs,
            (resist_strength, "N"),
            combinations.SOURCE,
            f"{combinations.STRENGTH}; stands against F",
        ),
        step(
            "R_allowable",
            "mu*max(0.6 - 0.14*S_DS, 0)*W",
            inputs,
            (resist_allowable, "N"),
            combinations.SOURCE,
            f"{combinations.ALLOWABLE}; stands against 0.7 F",
        ),
    )
    high = float(sliding_resistance(friction.high, W, allowable if combination == combinations.ALLOWABLE else strength))
    with_high = f"{demand / high:.2f}" if high > 0 else "no friction counts"
    details = {
        "starts to slide at": f"{friction.low:.2f} to {friction.high:.2f} g",
        "ratio with the high friction": with_high,
        "combination": combination,
    }
    basis = f"{force.basis}; {combination}; friction of {friction.foot} on {friction.on}"
    if body.hardest is not None:
        details["sloshing over all water rigid"] = f"{body.hardest.force / force.horizontal:.2f}"
        basis += f"; {body.hardest.words}" if force.horizontal < F else "; all water rigid"
    return finding(
        f"sliding/{body.name}",
        "stability",
        body.name,
        "Does it slide? (physical estimate, low friction)",
        demand,
        capacity,
        "force",
        basis,
        advice_key="sliding",
        steps=steps,
        values=(*force.values, *sloshing_values, friction.value),
        details=details,
    )


def attachment_asked(body: FreeBody, site: Site, category: str) -> bool:
    """Whether chapter 13 asks for a positive attachment.

    Vessels count as mechanical components: exempt in categories A and B, and in C with I_p = 1.0. Racks
    count as architectural ones: exempt in A, and in B with I_p = 1.0. Source: ASCE 7-16 section 13.1.4.
    """
    if category == "A":
        return False
    if body.component == "vessel":
        return not (category == "B" or (category == "C" and site.importance == 1.0))
    return not (category == "B" and site.importance == 1.0)


def attachment_finding(body: FreeBody, force: Force, site: Site, category: str) -> Finding | None:
    """The code's position: friction from gravity is no attachment. None where none is asked for."""
    if site.setting != "in a building" and body.kind != "vessel on rack":
        return not_assessed(
            f"attachment/{body.name}",
            "stability",
            body.name,
            "Is it positively attached? (the code's position)",
            "force",
            "in the open chapter 15 has its own rules for anchoring, which this version does not check",
            "ASCE 7 chapter 15",
            demand=force.horizontal,
        )
    if not attachment_asked(body, site, category):
        return None
    value = Value(
        "when an attachment is asked for",
        f"category {category}",
        "ASCE 7-16 section 13.1.4 (who is exempt by category and I_p) and section 13.4",
        "from memory",
        "ASCE 7-16 sections 13.1.4 and 13.4 (7-22: Table 13.1-1)",
    )
    return finding(
        f"attachment/{body.name}",
        "stability",
        body.name,
        "Is it positively attached? (the code's position)",
        force.horizontal,
        0.0,
        "force",
        f"{force.basis}; ASCE 7 section 13.4: fastened without counting friction from gravity",
        reason="nothing attaches it; a code lets no friction stand in for that, unless it counts as movable furniture",
        advice_key="attachment",
        steps=force.steps,
        values=(*force.values, value),
        code_position=True,
    )
