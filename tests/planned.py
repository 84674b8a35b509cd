"""A plan and a doubt for the tests of the report, each worked out once."""

from functools import cache

from brimfast.assess.doubt.doubt import doubt
from brimfast.assess.plan.improve import improve
from brimfast.reports.improve_words import the_plan
from brimfast.reports.plan_content import Planned
from brimfast.shared.reading import read_bytes
from tests.builders import ONE_BAY, WEIGHED, read

# One body and the water of a small room: few enough sets to try them all by the whole pipeline.
SMALL = WEIGHED.replace("sill: 1 in", "sill: 0.3 in, sockets: [{name: strip, height: 1.5 in}]")


@cache
def improved_small():
    """What was read, and the search that tries every set."""
    source = read(SMALL)
    return source, improve(source.installation, source.raw, tries=1000)


@cache
def planned_rack():
    """A bay of the rack with thinner bolts, few tries."""
    thin = ONE_BAY.replace("diameter: 0.5 in, length: 6 in, count: 2", "diameter: 0.375 in, length: 6 in, count: 2")
    source = read_bytes(thin.encode(), "rack.yaml")
    improvement = improve(source.installation, source.raw, tries=8)
    plan = the_plan(improvement, "balanced")
    assert plan is not None
    return Planned(improvement, plan)


@cache
def doubted_tank():
    source = read_bytes(WEIGHED.encode(), "weighed.yaml")
    return doubt(source.installation, source.raw, count=1000, seed=1)
