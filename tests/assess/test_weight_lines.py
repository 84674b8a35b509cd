"""The lines of the take-off come to the weights that the computation uses."""

import pytest

from brimfast.assess.pipeline import assess
from brimfast.assess.weight_lines import loaded_lines, weighing_lines
from brimfast.shared.constants import GRAVITY
from brimfast.shared.demo import demo
from tests.builders import RACK, TIERS, WEIGHED, assessed


@pytest.mark.parametrize("text", [RACK, TIERS, WEIGHED, None])
def test_lines_come_to_what_the_bodies_weigh(text):
    assessment = assess(demo("nursery").installation) if text is None else assessed(text)
    bodies = {body.name: body for body in assessment.bodies}
    for name, vessel in assessment.vessels.items():
        weight, height = weighing_lines(vessel.weighing)
        assert weight.result.value == pytest.approx(bodies[name].weight, rel=1e-12)
        assert height.result.value == pytest.approx(bodies[name].height, rel=1e-12)
    for name, rack in assessment.racks.items():
        assert weighing_lines(rack.weighing)[0].result.value == pytest.approx(rack.mass * GRAVITY, rel=1e-12)
        weight, height = loaded_lines(assessment.installation, name, assessment.racks, assessment.vessels)
        assert weight.result.value == pytest.approx(bodies[f"rack {name}"].weight, rel=1e-12)
        assert height.result.value == pytest.approx(bodies[f"rack {name}"].height, rel=1e-12)
