"""What is said of sloshing: waves against the rim, and what cannot be assessed."""

from __future__ import annotations

from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.standard import Standard, standard_of
from brimfast.assess.slosh.case import Slosh
from brimfast.assess.slosh.lid import HEAD, TOPIC, lid_finding
from brimfast.assess.slosh.splash import splash
from brimfast.assess.slosh.water import WAYS
from brimfast.assess.slosh.wave import WAVE
from brimfast.data_tables.loader import factor_used
from brimfast.shared.findings import Caution, Finding, finding, not_assessed, step
from brimfast.shared.installation.model import Installation

INDEX = "steeper than the theory covers (a fifth of length or depth): an index, bounded by the depth"


def only_weighed(installation: Installation) -> list[Finding]:
    """Vessels of which only the weight is known."""
    standard = standard_of(installation.site)
    found = []
    for vessel in installation.vessels:
        if vessel.weighed:
            reason = "only its weight is known: give inside sizes, depth and water"
            found.append(
                not_assessed(
                    f"slosh/{vessel.name}/weighed",
                    TOPIC,
                    vessel.name,
                    "Does its water slosh over the rim?",
                    "length",
                    reason,
                    standard.freeboard,
                )
            )
    return found


def rim_finding(wave: Slosh, standard: Standard) -> Finding:
    id, f = f"slosh/{wave.vessel}/{wave.way}", wave.water.freeboard
    question = f"Does its water slosh over the rim, shaken {WAYS[wave.way]}?"
    if not wave.assessed:
        return not_assessed(id, TOPIC, wave.vessel, question, "length", wave.why, standard.freeboard)
    volume, lines = splash(wave)
    free = step("f", "f", {"f": (f, "m")}, (f, "m"), "the installation file", "rim above the water at rest")
    values = (*wave.values, *standard.freeboard_values, *((factor_used("shaking_duration"),) if volume > 0 else ()))
    details = {"one wave to and fro": f"{wave.period:.2f} s", "acceleration": f"{wave.acceleration:.2f} g"}
    if wave.index:
        details["index"] = INDEX
    if wave.near:
        details["near the rack's period"] = wave.near
    basis = "; ".join(part for part in (WAVE, INDEX if wave.index else "", wave.builds_up, standard.freeboard) if part)
    if wave.lid is not None:
        return lid_finding(wave, (*wave.steps, free), lines, f"{basis}; {HEAD}", details)
    steps = (*wave.steps, free, *lines)
    if wave.index and wave.wave <= f:
        reason = f"{wave.builds_up or 'the wave is steep'}; by the theory it stays below the rim, but breaking waves run up higher"
        return not_assessed(
            id,
            TOPIC,
            wave.vessel,
            question,
            "length",
            reason,
            basis,
            demand=wave.wave,
            advice_key="slosh",
            steps=steps,
            values=values,
            details=details,
        )
    reason = ""
    if wave.wave > f:
        reason = "it splashes over the rim" + (f" ({wave.builds_up})" if wave.builds_up else "")
    return finding(
        id,
        TOPIC,
        wave.vessel,
        question,
        wave.wave,
        f,
        "length",
        basis,
        reason=reason,
        advice_key="slosh",
        steps=steps,
        values=values,
        details=details,
    )


def slosh_cautions(
    waves: tuple[Slosh, ...], bodies: tuple[FreeBody, ...], forces: dict[str, Force]
) -> tuple[Caution, ...]:
    """Waves in step with a rack, and racks that sloshing pushes more than their frames carry."""
    found = []
    near = [f"{wave.vessel} {WAYS[wave.way]} ({wave.near})" for wave in waves if wave.near]
    if near:
        found.append(
            Caution(
                "Water that sways with its rack",
                f"The waves' period lies within 20 % of the rack's: {'; '.join(near)}. Each builds the other up. Another depth "
                "of water or a stiffer rack parts them; until then the waves are taken as high as the water is deep.",
            )
        )
    more = [
        f"{body.name} ({ratio:.2f} times)"
        for body in bodies
        if body.kind == "rack" and (ratio := _over_rigid(body, forces[body.name])) > 1
    ]
    if more:
        found.append(
            Caution(
                "Sloshing pushes more than the frame carries",
                f"With the waves at their full spectrum push or tipping is larger than with all water rigid: {'; '.join(more)}. "
                "Tipping, sliding and anchors use the larger; joints, braces and members are checked with all water "
                "rigid, so raise their ratios by as much before relying on them.",
            )
        )
    return tuple(found)


def _over_rigid(body: FreeBody, force: Force) -> float:
    """The largest of sloshing over all water rigid, of push and tipping in every direction; 0 without free water."""
    rigid = force.horizontal
    found = [one.sloshing for one in body.directions if one.sloshing is not None]
    return max((max(one.force / rigid, one.moment / (rigid * body.height)) for one in found), default=0.0)
