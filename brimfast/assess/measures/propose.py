"""All measures that could help an installation, and that can be built."""

from __future__ import annotations

from brimfast.assess.measures.bracing import bracing_measures
from brimfast.assess.measures.fasteners import fastener_measures
from brimfast.assess.measures.joining import joining_measures
from brimfast.assess.measures.measure import Measure
from brimfast.assess.measures.pans import pan_measures
from brimfast.assess.measures.standing import standing_measures
from brimfast.assess.measures.water import water_measures
from brimfast.assess.pipeline import Assessment

KINDS = (fastener_measures, bracing_measures, joining_measures, standing_measures, water_measures, pan_measures)


def propose(assessment: Assessment) -> tuple[Measure, ...]:
    """In the order of the kinds above; each for something that is short or close."""
    return tuple(measure for kind in KINDS for measure in kind(assessment))
