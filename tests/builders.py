"""Installation texts for the tests, and the way from a text to its assessment."""

import os
import pickle
from functools import cache, lru_cache

from brimfast.assess.pipeline import before_water, with_water
from brimfast.shared.demo import demo
from brimfast.shared.reading import read_bytes

RACK = """
installation: test rack
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 24 ft, width: 16 ft, sill: 3 in, floor: {kind: timber floor}, use: dwelling}
racks:
  r:
    bays: 2
    bay_length: 5 ft
    width: 32 in
    deck_height: 26 in
    post: 4x4 douglas fir-larch No.2
    beam: 2x8 douglas fir-larch No.2
    joist: {size: 2x6, spacing: 12 in, seat: between beams}
    deck: 23/32 in plywood
    beam_runs: each bay
vessels:
  - {name: bed, kind: bed, on: r, length: 9 ft, width: 30 in, depth: 10 in, water: 8 in, fill: gravel, fill_depth: 9 in}
  - {name: tank, kind: tank, diameter: 4 ft, depth: 30 in, water: 27 in}
joints:
  - rack: r
    where: beam to post
    fasteners: {kind: through-bolt, diameter: 0.5 in, length: 6 in, count: 2, spread: 4 in}
  - {rack: r, where: joist to beam, fasteners: {kind: framing tie, nails: 4 + 4, nail: 0.148 in x 1.5 in}}
pumps:
  - {name: pump, from: tank, to: bed, flow: 600 gal/h, intake: 4 in, outlet: 3 in}
"""

WEIGHED = """
installation: test weighed
site: {standard: asce7-16, S_DS: 1.0}
room: {length: 12 ft, width: 10 ft, sill: 1 in}
vessels:
  - {name: tank, kind: tank, mass: 500 lb, centre_of_mass: 30 in, footprint: 48 in x 18 in, holds: 50 gal}
"""

ONE_BAY = RACK.replace("bays: 2", "bays: 1").replace("length: 9 ft", "length: 4.5 ft")

# A second tier, rails, knees; every storey stiff both ways.
TIERS = (
    RACK.replace(
        "    beam_runs: each bay",
        """    beam_runs: each bay
    upper_tiers: [{deck_height: 60 in}]
    rails:
      - {height: 84 in, member: 2x4}
      - {height: 80 in, member: 2x4, face: back}
    braces:
      - {face: front, bay: 1, kind: knee, leg: 12 in, member: 2x4}
      - {face: front, bay: 2, member: 2x4}
      - {face: front, bay: 2, storey: 2, member: 2x4}
      - {face: back, bay: 1, kind: x, member: 2x4}
      - {face: back, bay: 1, storey: 2, kind: x, member: 2x4}
      - {face: left, member: 2x4}
      - {face: left, storey: 2, member: 2x4}
    panels:
      - {face: right, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}
      - {face: right, storey: 2, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}""",
    )
    .replace(
        "  - {name: tank, kind: tank",
        "  - {name: trays, kind: bed, on: r, tier: 2, length: 6 ft, width: 28 in, depth: 6 in, water: 4 in, fill: perlite}\n"
        "  - {name: tank, kind: tank",
    )
    .replace(
        "joints:",
        "joints:\n  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 4 in}}",
    )
)

# A tank with a lid, in a pan; its pump fills the bed.
LIDDED = RACK.replace(
    "depth: 30 in, water: 27 in}",
    "depth: 30 in, water: 27 in, lid: {fastenings: 12, allowable: 400 lb, source: t, opening: 4 in x 4 in, mass: 20 lb}}",
)
# The bed overflows into the pan under its rack, the tank into its own.
PANNED = RACK.replace(
    "depth: 30 in, water: 27 in}", "depth: 30 in, water: 27 in, pan: {length: 8 ft, width: 8 ft, height: 4 in}}"
).replace("    beam_runs: each bay", "    beam_runs: each bay\n    pan: {length: 13 ft, width: 6 ft, height: 4 in}")

GUSSET = "leg: 14 in, thickness: 15/32 in, nail: 0.131 in x 2.5 in, nails: 10"
GUSSETED = RACK.replace(
    "    beam_runs: each bay",
    f"""    beam_runs: whole length
    gussets:
      - {{face: front, bay: 1, {GUSSET}}}
      - {{face: front, bay: 2, {GUSSET}}}
      - {{face: back, bay: 1, {GUSSET}}}
      - {{face: back, bay: 2, {GUSSET}}}
    braces:
      - {{face: left, kind: x, member: 2x4}}
      - {{face: right, kind: x, member: 2x4}}""",
)

# Two alike, beam against beam; everything braced.
JOIN = "{kind: through-bolt, diameter: 0.5 in, length: 4 in, count: 2}"
_RACKS = RACK[RACK.index("  r:\n") : RACK.index("vessels:")].replace(
    "    beam_runs: each bay",
    """    beam_runs: each bay
    braces:
      - {face: front, bay: 1, kind: x, member: 2x4}
      - {face: back, bay: 1, kind: x, member: 2x4}
      - {face: left, kind: x, member: 2x4}
      - {face: right, kind: x, member: 2x4}""",
)
_JOINTS = RACK[RACK.index("  - rack: r\n") : RACK.index("pumps:")]
_BRACES = "  - {rack: r, where: brace to post, fasteners: {kind: lag screw, diameter: 0.375 in, length: 4 in}}\n"
_BED = "  - {name: bed, kind: bed, on: r, length: 9 ft, width: 30 in, depth: 10 in, water: 8 in, fill: gravel, fill_depth: 9 in}\n"
JOINED = (
    RACK[: RACK.index("  r:\n")]
    + _RACKS.replace("  r:\n", "  r:\n    at: 2 ft x 2 ft\n")
    + _RACKS.replace("  r:\n", f"  s:\n    joined_to: {{rack: r, fasteners: {JOIN}}}\n")
    + "vessels:\n"
    + _BED
    + _BED.replace("name: bed", "name: other").replace("on: r", "on: s")
    + "joints:\n"
    + "".join((_JOINTS + _BRACES).replace("rack: r", f"rack: {name}") for name in "rs")
)
APART = JOINED.replace(f"    joined_to: {{rack: r, fasteners: {JOIN}}}\n", "    at: 2 ft x 6 ft\n")


if os.environ.get("MUTANT_UNDER_TEST") == "stats":  # which test calls what: see tests/mutants.py

    def cache(function):
        return function

    def lru_cache(maxsize):
        return lambda function: function


def with_lines(text, *lines):
    """More lines of every rack whose beams end at each post."""
    return text.replace("    beam_runs: each bay\n", "    beam_runs: each bay\n" + "".join(lines))


@lru_cache(maxsize=64)
def dry(text):
    """All but what the water does; kept, as are those below, so nobody may change it."""
    return before_water(read_bytes(text.encode(), "test.yaml").installation)


@lru_cache(maxsize=32)
def assessed(text):
    return wet(dry(text))


@cache
def assessed_demo(name):
    return wet(before_water(demo(name).installation))


def wet(known):
    """With what the water does, run once for all that ask the same of it."""
    return with_water(known, _ran(pickle.dumps(known.question)))


@cache
def _ran(question):
    return pickle.loads(question).answer()


def read(text):
    return read_bytes(text.encode(), "t")


def found(assessment, id_part):
    matching = [finding for finding in assessment.findings if id_part in finding.id]
    assert matching, f"no finding {id_part!r} among {[finding.id for finding in assessment.findings]}"
    return matching[0]
