"""What is wrong between the parts of an installation: names that point to nothing, things that do not fit."""

from __future__ import annotations

from brimfast.shared.errors import Problem
from brimfast.shared.installation.agree_hung import hung
from brimfast.shared.installation.agree_names import names, references
from brimfast.shared.installation.agree_places import in_room, on_racks, pans
from brimfast.shared.installation.agree_racks import braces, tiers
from brimfast.shared.installation.agree_water import doorways, floor_drains, pipes, pumps
from brimfast.shared.installation.model import Installation

# In this order several problems of one place are listed.
CHECKS = (
    names,
    references,
    on_racks,
    in_room,
    pans,
    doorways,
    pumps,
    pipes,
    floor_drains,
    braces,
    tiers,
    hung,
)


def disagreements(installation: Installation) -> list[Problem]:
    return [problem for check in CHECKS for problem in check(installation)]
