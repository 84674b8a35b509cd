"""What all joint checks of one rack need to know."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from brimfast.assess.bodies import FreeBody
from brimfast.assess.demand.force import Force
from brimfast.assess.demand.vertical import Vertical
from brimfast.assess.frame.actions import RackActions
from brimfast.assess.gravity import Gravity
from brimfast.assess.parts import RackParts
from brimfast.assess.timber.service import Service, service_of
from brimfast.assess.weight import RackWeight
from brimfast.shared.findings import Finding, Step, not_assessed
from brimfast.shared.installation.joint import Joint
from brimfast.shared.installation.rack import Rack

TOPIC = "joints"
UPRIGHT = math.pi / 2


@dataclass(frozen=True)
class RackCase:
    """One rack with its weights, its earthquake force and its joints by place."""

    name: str
    rack: Rack
    parts: RackParts
    weight: RackWeight
    gravity: Gravity
    body: FreeBody
    force: Force
    vertical: Vertical
    joints: dict[str, Joint]
    frame: RackActions | None = None
    why_no_frame: str = ""

    def acts(self, direction: str) -> RackActions | None:
        """The frame's actions where every case of a direction balances; None where plain statics must do."""
        return self.frame if self.frame is not None and self.frame.balances(direction) else None

    def without_frame(self, direction: str) -> str:
        """Why a direction is by plain statics."""
        if self.frame is None:
            return self.why_no_frame
        return f"the frame does not balance {direction}: {self.frame.gives_way(direction)}"

    def subject(self, where: str) -> str:
        return f"rack {self.name}, {where}"

    def service(self, joint: Joint | None = None) -> Service:
        """Wet or dry as the joint says, else as the rack; how warm, as the rack."""
        service = service_of(self.rack)
        return service if joint is None or joint.wet is None else replace(service, wet=joint.wet)

    def couple_height(self, direction: str) -> float:
        """Height (m) over which the tipping couple reaches the posts through the joints.

        Braces take the couple of the force at the beam's height; what lies above passes through the
        joints. With no braces all of it does.
        """
        if self.rack.braced(direction):
            return max(self.body.height - self.weight.beam_centre, 0.0)
        return self.body.height

    @property
    def across(self) -> float:
        """From post centre to post centre across the rack (m)."""
        return self.body.directions[1].base

    def couple(self, direction: str) -> float:
        """Force (N, strength level) that the tipping couple puts on one post through its joint.

        Along, on the two end posts of a side: F h_e/L/2. Across, by the joint's share of its side's weight:
        F h_e/base k_j. Plain statics.
        """
        moment = self.force.horizontal * self.couple_height(direction)
        if direction == "along":
            return moment / self.rack.length / 2
        return moment / self.across * self.share_of_worst()

    def share_of_worst(self) -> float:
        """The worst joint's share of its side's weight."""
        return self.gravity.joint_worst / self.gravity.side_weight

    def missing(self, where: str, reason: str) -> Finding:
        return not_assessed(
            f"joint/{self.name}/{where}",
            TOPIC,
            self.subject(where),
            "Do its fasteners carry it?",
            "force",
            reason + "; count them and add them under joints",
            advice_key="describe joint",
        )

    def outside(
        self,
        id: str,
        where: str,
        question: str,
        demand: float,
        reason: str,
        steps: tuple[Step, ...],
        described: bool = True,
    ) -> Finding:
        """What the equations do not cover; described: whether the file says how it is fastened."""
        return not_assessed(
            f"joint/{self.name}/{where}/{id}",
            TOPIC,
            self.subject(where),
            question,
            "force",
            reason,
            "NDS 2018 chapter 12",
            demand=demand,
            advice_key="" if described else "describe joint",
            steps=steps,
        )
