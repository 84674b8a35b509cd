"""Does a body slide, and what does the code say of friction?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess import combinations
from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.standard import standard_of
from brimfast.assess.demand.vertical import Vertical
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


def sliding_finding(body: FreeBody, force: Force, v: Vertical) -> Finding:
    """The physical estimate, with the low friction of the pair; the same in every direction."""
    W, friction = body.weight, body.friction
    F, push, sloshing_values = pushed(body, force)
    strength = float(combinations.strength_resisting(v))
    allowable = float(combinations.allowable_resisting(v))
    low = combinations.EARTHQUAKE_SHARE
    inputs: dict[str, float | tuple[float, str]] = {"mu": friction.low, **v.inputs, "W": (W, "N")}
    resist_strength = float(sliding_resistance(friction.low, W, strength))
    resist_allowable = float(sliding_resistance(friction.low, W, allowable))
    demand, capacity, combination = combinations.worse_level((F, resist_strength), (low * F, resist_allowable), v)
    steps = (
        *force.steps,
        *push,
        step(
            "R_strength",
            f"mu*max(0.9 - {v.times()}, 0)*W",
            inputs,
            (resist_strength, "N"),
            v.source,
            f"{combinations.strength(v)}; stands against F",
        ),
        step(
            "R_allowable",
            f"mu*max(0.6 - {v.times(low)}, 0)*W",
            inputs,
            (resist_allowable, "N"),
            v.source,
            f"{combinations.allowable(v)}; stands against 0.7 F",
        ),
    )
    high = float(
        sliding_resistance(friction.high, W, allowable if combination == combinations.allowable(v) else strength)
    )
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


def attachment_finding(body: FreeBody, force: Force, site: Site, motion: GroundMotion) -> Finding | None:
    """The code's position beside the physical estimate. None where it asks for no attachment."""
    standard = standard_of(site)
    if site.setting != "in a building" and body.kind != "vessel on rack":
        return not_assessed(
            f"attachment/{body.name}",
            "stability",
            body.name,
            "Is it positively attached? (the code's position)",
            "force",
            standard.in_the_open_attachment,
            standard.in_the_open_basis,
            demand=force.horizontal,
        )
    asked = standard.attachment(body.component, site, motion)
    if not asked.asked:
        return None
    return finding(
        f"attachment/{body.name}",
        "stability",
        body.name,
        "Is it positively attached? (the code's position)",
        force.horizontal,
        0.0,
        "force",
        f"{force.basis}; {asked.basis}",
        reason=asked.reason,
        advice_key="attachment",
        steps=force.steps,
        values=(*force.values, asked.value),
        code_position=True,
    )
