"""Do the joists carry the deck from beam to beam?"""

from __future__ import annotations

from brimfast.assess.joints.case import RackCase
from brimfast.assess.members.common import (
    Stress,
    across_the_grain,
    bending,
    is_european,
    named,
    sag,
    shear,
    strongest_claim,
    without_values,
)
from brimfast.assess.timber.beam import (
    centred_deflection,
    centred_moment,
    second_moment,
    section_modulus,
)
from brimfast.assess.timber.strength import adjusted
from brimfast.assess.weight import VesselWeight
from brimfast.shared.constants import INCH
from brimfast.shared.findings import Finding, step
from brimfast.shared.installation.model import Installation


def joists(case: RackCase, tier: int, installation: Installation, vessels: dict[str, VesselWeight]) -> list[Finding]:
    """The joist under the heaviest vessel: a simple span over the rack's width, loaded over the vessel's width."""
    (id, subject), member = named(case, tier, "joist", "joists"), case.parts.joist
    question = "Do the joists carry it?"
    if member.strength is None:
        return [without_values(id, subject, question, member)]
    rack, gravity = case.rack, case.gravity.tiers[tier - 1]
    load, L = 2 * gravity.joist_end, rack.width
    widths = [vessels[vessel.name].width for vessel in installation.on_rack(case.name) if vessel.tier == tier]
    b = min([*widths, L])
    repetitive = case.weight.joist_count >= 3 and rack.joist.spacing <= 24.01 * INCH
    values = adjusted(member.strength, "permanent", case.service(), member.incised, repetitive)
    M = float(centred_moment(load, L, b))
    before = (
        step(
            "P",
            "w*s",
            {"w": (gravity.joist_line_load, "N/m"), "s": (rack.joist.spacing, "m")},
            (load, "N"),
            "the heaviest stretch of the deck over one joist spacing",
        ),
        step(
            "M",
            "P*(2*L - b)/8",
            {"P": (load, "N"), "L": (L, "m"), "b": (b, "m")},
            (M, "N·m"),
            "statics: simple span, load over the narrowest vessel's width in its middle",
        ),
    )
    S = float(section_modulus(member.thickness, member.width))
    stresses: list[Stress] = [bending(member, values, M, S), shear(member, values, load / 2)]
    if rack.joist.seat == "on beams":
        beam = case.parts.beam
        bed = beam.thickness  # of a pair the inner one is all that is sure to bear
        C_b = 1.0  # the joist's end
        stresses.append(across_the_grain(member, values, load / 2, member.thickness * bed, C_b))
        if beam.strength is not None:
            below = adjusted(beam.strength, "permanent", case.service(), beam.incised)
            area = member.thickness * bed
            stresses.append(across_the_grain(beam, below, load / 2, area, C_b, "bearing on the beam"))
    found = [strongest_claim(id, subject, question, stresses, "D", (*member.values, *values.values), "joists", before)]
    I = float(second_moment(member.thickness, member.width))  # noqa: E741
    delta = float(centred_deflection(load, L, b, values.E * I))
    line = step(
        "delta",
        "P*(8*L**3 - 4*L*b**2 + b**3)/(384*E*I_x)",
        {"P": (load, "N"), "L": (L, "m"), "b": (b, "m"), "E": (values.E, "N/m²"), "I_x": (I, "m⁴")},
        (delta, "m"),
        "beam theory",
    )
    found.append(sag(id, subject, delta, L, rack.wet, (*before[:1], line), values.values, is_european(member)))
    return found
