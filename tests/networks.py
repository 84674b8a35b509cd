"""Small water networks for the tests."""

import math

from brimfast.assess.network.model import DRAINED, ROOM, RUNS, SEWER, Event, Link, Node
from brimfast.shared.constants import GALLON, INCH

NOTHING_WRONG = Event("e", "k", "s", "t")
GRATE = math.pi / 4 * (4 * INCH) ** 2 * 0.5  # 4 in, half open


def tank(name="tank", area=1.08, start=0.54, base=0.0, rim=1.0):
    return Node(name, area, start, base, base + rim)


def floor(area=20.0):
    return Node(ROOM, area, 0.0, is_room=True)


def hole(source="tank", target=ROOM, z=2.0, bore=INCH):
    """C 0.62, in the bottom at a height above the floor."""
    return Link("hole", RUNS, source, target, z_in=z, z_out=z, bore=bore, losses=1 / 0.62**2, rim=10.0, opening=10.0)


def drain(pipe_gpm):
    pipe = pipe_gpm * GALLON / 60
    return Link("drain", DRAINED, ROOM, SEWER, rim=math.pi * 4 * INCH, opening=GRATE, pipe_flow=pipe)
