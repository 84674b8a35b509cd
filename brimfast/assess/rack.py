"""Do timber and joints of one rack carry weight and earthquake?"""

from __future__ import annotations

from brimfast.assess.joints.case import RackCase
from brimfast.assess.joints.findings import joint_findings
from brimfast.assess.members.findings import member_findings
from brimfast.assess.weight import VesselWeight
from brimfast.shared.findings import Finding
from brimfast.shared.installation.model import Installation


def case_findings(case: RackCase, installation: Installation, vessels: dict[str, VesselWeight]) -> list[Finding]:
    return [*member_findings(case, installation, vessels), *joint_findings(case)]
