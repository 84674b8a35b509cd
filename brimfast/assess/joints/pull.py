"""How hard can a beam pull on the fasteners that hold it to its post?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from brimfast.assess.joints.capacity import FastenerCapacity
from brimfast.assess.timber.fastener import NotAssessableError
from brimfast.assess.timber.withdrawal import (
    PER_INCH,
    combined_nail,
    combined_screw,
    pull_through,
    reference_withdrawal,
    thread_length,
)
from brimfast.data_tables.loader import factor_si, factor_used, screw_root
from brimfast.shared.constants import INCH, POUND_FORCE
from brimfast.shared.findings import Step, Value, step
from brimfast.shared.installation.joint import Fasteners


@dataclass(frozen=True)
class PullCapacity:
    """W' p of one fastener (N); None where pull does not go by withdrawal, and why."""

    each: float | None
    nail: bool
    steps: tuple[Step, ...]
    values: tuple[Value, ...]
    reason: str

    @property
    def expression(self) -> str:
        if self.nail:
            return "W_p*Z_each/(W_p*cos(alpha) + Z_each*sin(alpha))"
        return "W_p*Z_each/(W_p*cos(alpha)**2 + Z_each*sin(alpha)**2)"

    @property
    def source(self) -> str:
        return (
            "NDS 2018 (12.4-2), lateral with withdrawal" if self.nail else "NDS 2018 (12.4-1), lateral with withdrawal"
        )

    def combine(self, Z: ArrayLike, alpha: ArrayLike) -> NDArray[np.float64]:
        assert self.each is not None
        return np.asarray((combined_nail if self.nail else combined_screw)(Z, self.each, alpha))


def pull_capacity(
    fasteners: Fasteners, lateral: FastenerCapacity, G_main: float, G_side: float, pairs: bool
) -> PullCapacity:
    """Withdrawal from the post times thread, no more than the head's pull-through in the beam where the head is known.

    Earthquake duration. Raises NotAssessableError where no thread reaches the post.
    """
    kind = fasteners.kind
    if lateral.data is None:
        return PullCapacity(None, False, (), (), "the pull on typed-in fasteners is not assessed")
    if fasteners.toe_nailed:
        return PullCapacity(None, False, (), (), "the pull on toe-nails is not assessed")
    if kind == "framing tie":
        return PullCapacity(None, False, (), (), "the pull on a framing tie is not assessed")
    if kind == "through-bolt":
        why = "beams on both sides of the post hold each other" if pairs else "bolts take the pull by their washers"
        return PullCapacity(None, False, (), (), f"{why}; the washers are not assessed")
    thread, said, values = _thread(fasteners, lateral)
    W, reference = reference_withdrawal(kind, G_main, lateral.data.D)
    C_D = factor_si("C_D_earthquake")
    key = "C_M_withdrawal_nail" if kind == "nail" else "C_M_withdrawal_screw"
    C_M = factor_si(key) if lateral.service.wet else 1.0
    if lateral.service.wet:
        values.append(factor_used(key))
    C_t, _, warm = lateral.service.temperature(joint=True)
    values += [*warm, factor_used("C_D_earthquake")]
    each = W * thread * C_D * C_M * C_t
    steps = [
        reference,
        step(
            "W_p",
            "W*p*C_D*C_M*C_t",
            {"W": (W / PER_INCH, "lb/in"), "p": (thread / INCH, "in"), "C_D": C_D, "C_M": C_M, "C_t": C_t},
            (each / POUND_FORCE, "lb"),
            "NDS 2018 Table 11.3.1",
            said,
            any_units=False,
        ),
    ]
    head, reason = _head(fasteners), "withdrawal; pull-through of the head is not assessed: give head, its diameter"
    if head is not None:
        factors = {"C_D": C_D, "C_M": C_M, "C_t": C_t}
        through, reason, line = _through(head, G_side, lateral.sides.thickness_side, factors, each)
        steps.append(line)
        each = min(each, through)
    return PullCapacity(each, kind == "nail", tuple(steps), tuple(values), reason)


def _thread(fasteners: Fasteners, lateral: FastenerCapacity) -> tuple[float, str, list[Value]]:
    """What of thread or nail stands in the post (m), where it is from, and what was assumed.

    Raises NotAssessableError where none does.
    """
    assert lateral.data is not None
    kind, D = fasteners.kind, lateral.data.D
    length = fasteners.length or (fasteners.nail[1] if fasteners.nail else 0.0)
    row = screw_root(kind, D)
    tip = row.tip_in * INCH if row is not None and kind == "lag screw" else 0.0
    reaches = length - lateral.sides.thickness_side - tip
    values: list[Value] = []
    if kind == "nail":
        thread, said = reaches, "its penetration"
    else:
        whole, assumed = thread_length(kind, D, length, fasteners.thread)
        said = "usual thread length assumed" if assumed else "thread given in the file"
        values.extend(assumed)
        thread = min(reaches, whole - tip)
    thread = min(thread, lateral.sides.thickness_main)
    if thread <= 0:
        raise NotAssessableError("no thread reaches into the post")
    return thread, said, values


def _through(
    head: float, G_side: float, t: float, factors: dict[str, float], withdrawal: float
) -> tuple[float, str, Step]:
    """The head's pull-through (N) in a side member so thick (m), and whether that or withdrawal governs."""
    through = float(pull_through(G_side, head, t))
    for factor in factors.values():
        through *= factor
    reason = "withdrawal governs" if withdrawal <= through else "pull-through of the head governs"
    thin = t <= 2.5 * head
    line = step(
        "W_H",
        f"{'690*pi*D_H*G**2*t' if thin else '1725*pi*D_H**2*G**2'}*C_D*C_M*C_t",
        {
            "D_H": (head / INCH, "in"),
            "G": G_side,
            **({"t": (t / INCH, "in")} if thin else {}),
            **factors,
        },
        (through / POUND_FORCE, "lb"),
        "NDS 2018 (12.2-6)",
        reason,
        any_units=False,
    )
    return through, reason, line


def _head(fasteners: Fasteners) -> float | None:
    if fasteners.head is not None:
        return fasteners.head
    row = screw_root(fasteners.kind, fasteners.diameter or 0.0) if fasteners.kind == "wood screw" else None
    return row.head_in * INCH if row is not None and row.head_in else None
