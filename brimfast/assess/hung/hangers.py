"""Do the hangers hold what swings on them?"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.hung.swing import TOPIC
from brimfast.data_tables.loader import factor_si, factor_used
from brimfast.shared.constants import GRAVITY, POUND_FORCE
from brimfast.shared.findings import Finding, Value, finding, not_assessed, step
from brimfast.shared.installation.hung import Hung

Array = NDArray[np.float64]
BASIS = "ASCE 7-16 section 13.5.1, exception for what hangs on chains; one hanger takes all of the sideways part"
QUESTION = "Does each hanger, with its hook and what holds it, carry its load?"
NOT_HERE = "hook, chain and what holds them are not in the file: add allowable, the weakest of them, with source"


def hanger_load(W: ArrayLike, n: ArrayLike, k: ArrayLike = 1.4) -> Array:
    """Largest load of one hanger (N): F = max(√[(k W/n)² + (k W)²], 3 W/n), n at most 2.

    k W down and k W sideways at once: of more than two hangers two may carry all that is down, and a pull along
    their line may go onto one. 3 W: at the bottom of a swing from level, the most on a taut chain (W + 2 W by
    energy). W weight (N), n number of hangers. Source: ASCE 7-16 section 13.5.1 (k); statics, mechanics.
    """
    W, k = np.asarray(W, float), np.asarray(k, float)
    n = np.minimum(np.asarray(n, float), 2.0)
    return np.asarray(np.maximum(np.hypot(k * W / n, k * W), 3 * W / n))


def hanger_finding(thing: Hung) -> Finding:
    """One hanger against the value that the file gives."""
    id = f"hung/{thing.name}/hangers"
    W, n, k = thing.mass * GRAVITY, thing.hangers, factor_si("hung_load")
    even = 2**0.5 * k * W / n
    F = float(hanger_load(W, n, k))
    line = step(
        "F",
        "max(sqrt((k*W/min(n, 2))**2 + (k*W)**2), 3*W/min(n, 2))",
        {"k": k, "W": (W, "N"), "n": n},
        (F, "N"),
        "ASCE 7-16 section 13.5.1; mechanics",
        "the allowable value is not raised for the earthquake: the safe side",
    )
    values = [factor_used("hung_load")]
    details = {"if all hangers shared evenly": f"{even / POUND_FORCE:.0f} lb ({even:.0f} N) each"}
    if thing.allowable is None:
        return not_assessed(
            id,
            TOPIC,
            thing.name,
            QUESTION,
            "force",
            NOT_HERE,
            BASIS,
            demand=F,
            advice_key="describe hung",
            steps=(line,),
            values=tuple(values),
            details=details,
        )
    text = f"{thing.allowable / POUND_FORCE:.0f} lb"
    values.append(Value(f"what one hanger of {thing.name} may carry", text, thing.source or "", "given in the file"))
    reason = "with a single hanger nothing is left when it fails" if n == 1 else ""
    return finding(
        id,
        TOPIC,
        thing.name,
        QUESTION,
        F,
        thing.allowable,
        "force",
        BASIS,
        reason=reason,
        advice_key="hangers",
        steps=(line,),
        values=tuple(values),
        details=details,
    )
