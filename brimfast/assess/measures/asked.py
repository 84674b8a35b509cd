"""Is there anything that a measure could help with?"""

from __future__ import annotations

import re

from brimfast.assess.pipeline import Assessment

# A least distance is kept or not; that it is just kept leaves nothing to be desired.
JUST_KEPT = ("/distances", "/shrinkage")


def asks(assessment: Assessment, *patterns: str) -> bool:
    """Whether a finding whose id matches one of the patterns is short or close."""
    return any(
        finding.verdict in ("short", "close")
        and not finding.practice
        and not (finding.verdict == "close" and finding.id.endswith(JUST_KEPT))
        and any(re.match(pattern, finding.id) for pattern in patterns)
        for finding in assessment.findings
    )


def rack_asks(assessment: Assessment, name: str, *patterns: str) -> bool:
    """As asks, with {} in a pattern for the rack's name."""
    return asks(assessment, *(pattern.replace("{}", re.escape(name)) for pattern in patterns))
