"""What stands by itself in the open, by standards of which only the rules for parts of buildings are here."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.demand.force import Body, Force
from brimfast.assess.demand.motion import GroundMotion
from brimfast.assess.demand.vertical import vertical_step
from brimfast.shared.findings import step
from brimfast.shared.installation.site import Site

IN_THE_OPEN = "in the open the standard's rules for structures hold, of which this version has none for anchoring"
ROW = "stands by itself: elastic, nothing reduced"


def elastic_force(S_max: ArrayLike, W: ArrayLike) -> NDArray[np.float64]:
    """Base shear (unit of W) by the plateau of the elastic spectrum, nothing reduced for ductility: V = S_max W.

    S_max plateau (g), W weight. The most that any period can bring: the safe side of every standard's rule.
    """
    return np.asarray(np.asarray(S_max, float) * np.asarray(W, float))


def force(body: Body, site: Site, motion: GroundMotion) -> Force:
    W = body.weight
    V = float(elastic_force(motion.plateau, W))
    main = step(
        "V",
        f"{motion.symbol}*W",
        {motion.symbol: (motion.plateau, "g"), "W": (W, "N")},
        (V, "N"),
        motion.spectrum,
        "plateau of the elastic spectrum, nothing reduced: the safe side",
    )
    return Force(
        body.name,
        W,
        V,
        motion.vertical.share * W,
        1.0,
        ROW,
        "the elastic plateau",
        f"{motion.spectrum}, elastic plateau",
        (main, vertical_step(motion.vertical, W)),
        motion.values,
        overstrength_source="elastic: nothing to add",
    )
