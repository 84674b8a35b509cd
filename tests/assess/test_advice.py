"""Advice fits what the file says is there."""

from tests.assess.test_joints import BRACED, PANELLED
from tests.builders import RACK, assessed, found


def measures(assessment, subject):
    return [advice.measure for advice in assessment.advice if advice.subject == subject]


def test_bolts_that_are_there_are_not_advised_anew():
    thin = assessed(BRACED.replace("diameter: 0.5 in, length: 6 in}}", "diameter: 0.25 in, length: 6 in}}"))
    assert found(thin, "joint/r/brace to post/along").verdict == "short"
    bolted = measures(thin, "rack r, brace to post")
    assert "more through-bolts, where edges and ends leave room" in bolted
    assert "a through-bolt at each end of the braces" not in bolted
    screws = assessed(
        BRACED.replace(
            "kind: through-bolt, diameter: 0.5 in, length: 6 in}}",
            "kind: wood screw, diameter: 0.216 in, length: 3 in}}",
        )
    )
    assert "a through-bolt at each end of the braces" in measures(screws, "rack r, brace to post")


def test_braces_are_not_advised_where_they_are():
    weak = BRACED.replace("count: 2, spread: 4 in", "count: 1").replace(
        "diameter: 0.5 in, length: 6 in, count", "diameter: 0.25 in, length: 6 in, count"
    )
    assessment = assessed(weak)
    assert found(assessment, "beam to post/earthquake").verdict == "short"
    assert not [measure for measure in measures(assessment, "rack r, beam to post") if "bracing" in measure]


def test_panels_that_lift_want_something_that_holds_them_down():
    assessment = assessed(PANELLED)
    assert found(assessment, "panel/along/hold-down").verdict == "not assessed"
    said = measures(assessment, "rack r, panels along")
    assert "hold-downs or anchors at the panels' end posts" in said
    assert not [measure for measure in said if "maker" in measure]


def test_a_slab_has_no_joists_to_lay_planks_across():
    timber = assessed(RACK)
    assert found(timber, "floor/r/post").verdict == "short"
    assert any("joists" in one for one in measures(timber, "rack r"))
    for kind in ("slab on grade", "concrete floor"):
        slab = assessed(RACK.replace("kind: timber floor", f"kind: {kind}"))
        assert found(slab, "floor/r/post").verdict == "short"
        said = [one for one in measures(slab, "rack r") if "feet" in one or "floor" in one]
        assert any("plates under the feet" in one for one in said)
        assert not any("joists" in one or "planks" in one or "ground floor" in one for one in said)
