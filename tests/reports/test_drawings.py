"""The drawings: to scale, every mark there, no word over another or off the sheet, and the same words as SVG."""

import itertools
import json
import xml.etree.ElementTree as ElementTree
from functools import cache

import pytest
from reportlab.graphics import renderSVG
from reportlab.graphics.shapes import Circle, Line, Polygon, PolyLine, Rect, String
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimfast.assess.frame.cases import ALLOWABLE
from brimfast.assess.joints.layout import beam_to_post_layout
from brimfast.reports import choice
from brimfast.reports.doubt_words import chance_text
from brimfast.reports.drawings.chances import chance_bars
from brimfast.reports.drawings.elevation import drawn_racks, drawn_vessels, floor_vessels, not_drawn, rack_elevation
from brimfast.reports.drawings.forces import frame_forces
from brimfast.reports.drawings.gusset_detail import gusset_detail, gussets_alike
from brimfast.reports.drawings.joint_details import BEAM, BRACE, joint_detail
from brimfast.reports.drawings.joist_details import joist_detail
from brimfast.reports.drawings.marks import SHOWN
from brimfast.reports.drawings.panel_details import panel_detail, panels_alike
from brimfast.reports.drawings.places import place_of
from brimfast.reports.drawings.plan import plan
from brimfast.reports.drawings.pond import pond_depth
from brimfast.reports.drawings.ratios import CUT, before_and_after, ratio_bars, worst_findings
from brimfast.reports.drawings.sheet import Sheet, fitted, width_of
from brimfast.reports.drawings.waves import waves, worst_waves
from brimfast.reports.figures import figures
from brimfast.reports.layout import arrange, pan_size
from brimfast.reports.pdf_style import INK, VERDICT_COLOURS, WOOD, drawable
from brimfast.shared.constants import INCH
from brimfast.shared.demo import DEMOS
from brimfast.shared.findings import severity
from brimfast.shared.units import show
from tests.assess.test_frame_rack import CORNER
from tests.builders import GUSSETED, JOINED, LIDDED, PANNED, RACK, TIERS, WEIGHED, assessed, assessed_demo

WIDTHS = (512.0, 495.3)  # between the margins of US letter and of A4
LONG = "<b>" + "w" * 38 + "&" + "m" * 38
BARRELS = "\n".join(
    f"  - {{name: barrel {index}, kind: barrel, diameter: 1 ft, depth: 2 ft, water: 20 in}}" for index in range(40)
)
TEXTS = {
    "rack": RACK,
    "tiers": TIERS,
    "corner": CORNER.replace("SIDE", "front"),
    "weighed": WEIGHED,
    "lidded": LIDDED,
    "panned": PANNED,
    "gusseted": GUSSETED,
    "joined": JOINED,
    "named long": RACK.replace("name: tank,", f"name: {json.dumps(LONG)},").replace(
        "from: tank", f"from: {json.dumps(LONG)}"
    ),
    "rack named long": TIERS.replace("  r:", f"  {json.dumps(LONG)}:")
    .replace("on: r,", f"on: {json.dumps(LONG)},")
    .replace("rack: r", f"rack: {json.dumps(LONG)}"),
    "tiny room": WEIGHED.replace("length: 12 ft, width: 10 ft", "length: 5 ft, width: 3 ft"),
    "huge room": RACK.replace("length: 24 ft, width: 16 ft", "length: 200 ft, width: 90 ft"),
    "narrow room": RACK.replace("length: 24 ft, width: 16 ft", "length: 60 ft, width: 4.5 ft"),
    "many vessels": RACK.replace("  - {name: tank, kind: tank", f"{BARRELS}\n  - {{name: tank, kind: tank"),
    "many bays": TIERS.replace("bays: 2", "bays: 8").replace("bay_length: 5 ft", "bay_length: 2.5 ft"),
    "many sockets": RACK.replace(
        "sill: 3 in,",
        "sill: 3 in, sockets: ["
        + ", ".join(f"{{name: strip {n}, height: {1 + n / 20:.2f} in}}" for n in range(14))
        + "], drains: [{bore: 2 in}, {bore: 2 in, at: 3 ft x 15 ft, height: -0.5 in}], next: [{name: hall, length: 9 ft, width: 4 ft}],",
    ),
}
TIE = "{kind: framing tie, nails: 4 + 4, nail: 0.148 in x 1.5 in}"
TEXTS |= {
    "two large ties": RACK.replace(TIE, TIE.replace("4 + 4", "10 + 14").replace("nail:", "count: 2, nail:")),
    "tie on the beam": RACK.replace("between beams", "on beams"),
    "toe-nailed": RACK.replace(TIE, "{kind: nail, nail: 0.148 in x 3.25 in, count: 3, toe_nailed: yes}"),
    "nailed down": RACK.replace("between beams", "on beams").replace(
        TIE, "{kind: nail, nail: 0.148 in x 7 in, count: 2}"
    ),
    "by its maker": RACK.replace(TIE, "{kind: framing tie, allowable: 350 lb, source: a table}"),
    "sheets in pieces": RACK.replace("bay_length: 5 ft", "bay_length: 9 ft")
    .replace("deck_height: 26 in", "deck_height: 112 in")
    .replace(
        "    beam_runs: each bay",
        "    beam_runs: each bay\n    panels:\n"
        "      - {face: back, bay: 2, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 2 in}\n"
        "      - {face: left, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}",
    ),
}
CASES = [(name, system) for name in (*DEMOS, *TEXTS) for system in ("us", "si")]


@cache
def case(name):
    return assessed_demo(name) if name in DEMOS else assessed(TEXTS[name])


@cache
def every(name, system, width):
    """All drawings by name."""
    assessment, found = case(name), {}
    for name in drawn_racks(assessment):
        found[f"elevation {name}"] = rack_elevation(assessment, name, system, width).drawing
        for where in (BEAM, BRACE):
            found[f"{where} {name}"] = joint_detail(assessment, name, where, system, width)
        found[f"joist {name}"] = joist_detail(assessment, name, system, width)
        for number, alike in enumerate(panels_alike(assessment, name)):
            found[f"panel {number} {name}"] = panel_detail(assessment, name, alike, system, width)
        for number, alike in enumerate(gussets_alike(assessment, name)):
            found[f"gusset {number} {name}"] = gusset_detail(assessment, name, alike, system, width)
        for direction in ("along", "across"):
            keyed = frame_forces(assessment, name, direction, system, width)
            found[f"forces {name} {direction}"] = keyed and keyed.drawing
    for name, keyed in (
        ("vessels", floor_vessels(assessment, system, width)),
        ("plan", plan(assessment, arrange(assessment), system, width, 300)),
        ("waves", waves(assessment, system, width)),
    ):
        found[name] = keyed and keyed.drawing
    found["pond"] = pond_depth(assessment, system, width, 170)
    found["worst"] = ratio_bars(assessment, worst_findings(assessment), width)
    for topic in choice.TOPICS:
        of_topic = [finding for finding in assessment.findings if finding.topic == topic]
        found[f"topic {topic}"] = ratio_bars(assessment, of_topic, width)
    rows = [(f"{one.subject}: {one.question}", one.ratio, (one.ratio or 3.0) / 2) for one in worst_findings(assessment)]
    found["before and after"] = before_and_after(rows, width)
    shares = [min((one.ratio or 3.0) / 3, 1.0) ** 2 for one in worst_findings(assessment)]
    chances = [(label, share, chance_text(share)) for (label, *_), share in zip(rows, shares, strict=True)]
    found["chances"] = chance_bars(chances, width)
    return {name: drawing for name, drawing in found.items() if drawing is not None}


def strings(drawing):
    return [shape for shape in drawing.contents if isinstance(shape, String)]


def text_of(drawing):
    return " ".join(shape.text for shape in strings(drawing))


def covered(shape):
    """What a line of text covers: from under its descenders to over its capitals (DejaVu Sans Condensed)."""
    assert shape.textAnchor == "start"
    wide = stringWidth(shape.text, shape.fontName, shape.fontSize)
    return shape.x, shape.y - 0.24 * shape.fontSize, shape.x + wide, shape.y + 0.76 * shape.fontSize


def corners(shape):
    if isinstance(shape, Line):
        return [(shape.x1, shape.y1), (shape.x2, shape.y2)]
    if isinstance(shape, Rect):
        return [(shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height)]
    if isinstance(shape, Circle):
        return [(shape.cx - shape.r, shape.cy - shape.r), (shape.cx + shape.r, shape.cy + shape.r)]
    if isinstance(shape, Polygon | PolyLine):
        return list(zip(shape.points[::2], shape.points[1::2], strict=True))
    return []


@pytest.mark.parametrize(("name", "system"), CASES)
def test_no_word_covers_another_and_nothing_leaves_its_sheet(name, system):
    for what, drawing in every(name, system, WIDTHS[system == "si"]).items():
        boxes = [(shape.text, covered(shape)) for shape in strings(drawing)]
        assert boxes, what
        for text, (left, low, right, high) in boxes:
            assert left >= 0 and low >= 0 and right <= drawing.width and high <= drawing.height, (what, text)
        for (one, a), (other, b) in itertools.combinations(boxes, 2):
            across, up = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
            assert min(across, up) < 0.05, (what, one, other)
        for shape in drawing.contents:
            for x, y in corners(shape):
                assert -0.5 <= x <= drawing.width + 0.5 and -0.5 <= y <= drawing.height + 0.5, (what, shape)


@pytest.mark.parametrize(("name", "system"), CASES)
def test_every_drawing_is_svg_with_the_same_words(name, system):
    for what, drawing in every(name, system, WIDTHS[system == "si"]).items():
        root = ElementTree.fromstring(renderSVG.drawToString(drawing))
        texts = ["".join(one.itertext()).strip() for one in root.iter("{http://www.w3.org/2000/svg}text")]
        assert sorted(texts) == sorted(shape.text.strip() for shape in strings(drawing)), what


@pytest.mark.parametrize("name", ["nursery", "tiers", "corner", "many bays"])
def test_all_that_is_short_or_close_of_a_rack_is_marked_and_keyed(name):
    assessment = case(name)
    tags = choice.finding_numbers(assessment)
    for rack in drawn_racks(assessment):
        keyed = rack_elevation(assessment, rack, "us", WIDTHS[0])
        drawn = text_of(keyed.drawing).split()
        mine = [
            one
            for one in assessment.findings
            if one.verdict in SHOWN and (one.subject == f"rack {rack}" or one.subject.startswith(f"rack {rack},"))
        ]
        assert mine
        for finding in mine:
            assert place_of(assessment, rack, finding) is not None, finding.id
            assert tags[finding.id] in drawn, finding.id
        rows = [number for number, _ in keyed.key if number != "…"]
        assert rows == [tags[one.id] for one in sorted(mine, key=severity)][: len(rows)]
        assert len(rows) == len(mine) or keyed.key[-1][0] == "…"


def test_a_mark_stands_where_the_joint_is():
    """The worst of two joints along the rack: by the file's own sizes, over the scale of the bays' dimension."""
    assessment = case("nursery")
    finding = next(one for one in assessment.findings if one.id == "joint/north/beam to post/earthquake")
    assert "front post 1" in finding.details["fasteners"]
    place = place_of(assessment, "north", finding)
    assert (place.view, place.aside) == ("front", 0.0)
    assert place.height == assessment.racks["north"].beam_centre
    weight = next(one for one in assessment.findings if one.id == "joint/north/beam to post/gravity")
    bay = assessment.installation.racks["north"].bay_length
    assert place_of(assessment, "north", weight).aside == (assessment.gravity["north"].joint_worst_post - 1) * bay


def test_vessels_are_to_scale():
    """The tank of the nursery: 60 in wide and 34 in high (its file) with walls on either side."""
    assessment = case("nursery")
    drawing = floor_vessels(assessment, "us", WIDTHS[0]).drawing
    walls = [shape for shape in drawing.contents if isinstance(shape, Rect) and shape.height > 3 * shape.width]
    left, right = walls[0], walls[1]
    outside = right.x + right.width - left.x
    vessel = assessment.vessels["carp tank"]
    assert left.height / outside == pytest.approx(34 * INCH / vessel.length, rel=1e-9)


def test_a_stand_is_as_wide_as_it_is_said_to_be():
    """A barrel of 24 in on 12 in by 12 in: wood half as wide, in its middle."""
    stand = "{name: tank, kind: barrel, diameter: 24 in, depth: 30 in, water: 28 in, stand: {height: 12 in, footprint: 12 in x 12 in}}"
    text = "\n".join(f"  - {stand}" if "name: tank" in line else line for line in RACK.splitlines())
    assessment = assessed(text)
    shapes = floor_vessels(assessment, "us", WIDTHS[0]).drawing.contents
    (wood,) = (one for one in shapes if isinstance(one, Rect) and one.fillColor == WOOD)
    shell = [one for one in shapes if isinstance(one, Rect) and one.y == pytest.approx(wood.y + wood.height)]
    left, right = min(one.x for one in shell), max(one.x + one.width for one in shell)
    outside = assessment.vessels["tank"].length
    assert wood.width / (right - left) == pytest.approx(12 * INCH / outside, rel=0.01)
    assert wood.x + wood.width / 2 == pytest.approx((left + right) / 2, abs=0.1)


@pytest.mark.parametrize("name", ["rack", "tiers"])
def test_fasteners_stand_as_they_are_computed(name):
    """Spacing between circles over the beam's depth, and each distance of the layout in the table."""
    assessment = case(name)
    rack, parts = assessment.installation.racks["r"], assessment.resolved.racks["r"]
    fasteners = next(one for one in assessment.installation.joints if one.where == BEAM).fasteners
    layout = beam_to_post_layout(rack, parts, fasteners, leans=not rack.braced("along"))
    drawing = joint_detail(assessment, "r", BEAM, "us", WIDTHS[0])
    circles = [shape for shape in drawing.contents if isinstance(shape, Circle)]
    assert len(circles) == 2 * fasteners.count  # two beams meet on the post
    heights = sorted({round(shape.cy, 6) for shape in circles})
    post, beam = [shape for shape in drawing.contents if isinstance(shape, Rect) and shape.fillColor == WOOD][:2]
    deep = beam.height
    assert post.width / deep == pytest.approx(parts.post.width / parts.beam.width, rel=1e-6)
    assert (heights[-1] - heights[0]) / deep == pytest.approx(fasteners.spread / parts.beam.width, rel=1e-6)
    assert circles[0].r / deep * 2 == pytest.approx(layout.diameter / parts.beam.width, rel=1e-6)
    said = text_of(drawing)
    for check in layout.checks:
        least = check.distances.least * layout.diameter
        mark = "✗ " if check.actual < least * (1 - 1e-9) else ""
        assert f"{mark}{show(check.actual, 'length', 'us')}" in said
        assert show(least, "length", "us") in said


def test_what_the_file_does_not_say_of_a_braces_end_is_not_made_up():
    drawing = joint_detail(case("tiers"), "r", BRACE, "us", WIDTHS[0])
    texts = [shape.text for shape in strings(drawing)]
    assert "?" in texts
    assert any("wanted" in text for text in texts)
    assert joint_detail(case("rack"), "r", BRACE, "us", WIDTHS[0]) is None


def heads_and_shanks(drawing):
    """Circles of nails, and lines as heavy as nails."""
    lines = [one for one in drawing.contents if isinstance(one, Line) and one.strokeColor == INK]
    return [one for one in drawing.contents if isinstance(one, Circle)], [
        one for one in lines if one.strokeWidth > 0.85
    ]


@pytest.mark.parametrize(
    ("name", "on_joist", "on_beam", "ties"),
    [("rack", 4, 4, 1), ("tie on the beam", 4, 4, 1), ("two large ties", 10, 14, 2)],
)
def test_a_tie_has_its_nails_as_long_as_they_are(name, on_joist, on_beam, ties):
    """Each leg from its face in one view and from its edge in the other; nail, joist and beam to one scale."""
    assessment = case(name)
    parts = assessment.resolved.racks["r"]
    drawing = joist_detail(assessment, "r", "us", WIDTHS[0])
    heads, shanks = heads_and_shanks(drawing)
    assert len(heads) == on_joist + ties * on_beam
    assert len(shanks) == on_beam + ties * on_joist
    beam, joist = [one for one in drawing.contents if isinstance(one, Rect) and one.fillColor == WOOD][:2]
    scale = beam.width / parts.beam.thickness
    assert beam.height / scale == pytest.approx(parts.beam.width)
    assert joist.height / scale == pytest.approx(parts.joist.width)
    for one in shanks:
        assert abs(one.x2 - one.x1) / scale == pytest.approx(1.5 * INCH, rel=1e-6)
    on_top = assessment.installation.racks["r"].joist.seat == "on beams"
    assert joist.y + (0 if on_top else joist.height) == pytest.approx(beam.y + beam.height)
    for one in heads[:on_joist]:
        assert joist.y < one.cy < joist.y + joist.height
    said = text_of(drawing)
    assert f"{on_joist} + {on_beam} nails" in said
    assert ("1.5 in on the beam" in said) == on_top and ("none: it hangs" in said) != on_top
    assert "taken: not in the file" in said


def test_what_holds_a_joist_is_not_made_up():
    silent = assessed(RACK.replace(f"  - {{rack: r, where: joist to beam, fasteners: {TIE}}}\n", ""))
    for assessment, told in ((silent, "the file does not say"), (case("by its maker"), "by its maker's value")):
        drawing = joist_detail(assessment, "r", "us", WIDTHS[0])
        assert heads_and_shanks(drawing) == ([], []) and told in text_of(drawing)


def test_nails_of_a_joist_stand_in_their_woods():
    """Down through the joist into the beam, by their length: 7 in through 5 1/2 in of joist."""
    drawing = joist_detail(case("nailed down"), "r", "us", WIDTHS[0])
    joist = [one for one in drawing.contents if isinstance(one, Rect) and one.fillColor == WOOD][1]
    _, shanks = heads_and_shanks(drawing)
    assert len(shanks) == 1 + 2
    for one in shanks:
        assert max(one.y1, one.y2) == pytest.approx(joist.y + joist.height)
        assert (joist.y - min(one.y1, one.y2)) / joist.height == pytest.approx(1.5 / 5.5, rel=1e-6)
    assert "toe-nailed" in text_of(joist_detail(case("toe-nailed"), "r", "us", WIDTHS[0]))


def test_a_panel_is_nailed_no_wider_than_it_says():
    """Sheets, wood behind joints and nails of the panel in pieces, in the scale of its length; each nail counted."""
    assessment = case("sheets in pieces")
    back, left = panels_alike(assessment, "r")
    assert (back.places, left.places) == (("back bay 2",), ("left bay 1",))
    drawing = panel_detail(assessment, "r", back, "us", WIDTHS[0])
    sheets = [one for one in drawing.contents if isinstance(one, Rect) and one.strokeWidth == 1.1]
    assert len(sheets) == back.sheets.across * back.sheets.up > 3
    scale = (max(one.x + one.width for one in sheets) - min(one.x for one in sheets)) / back.length
    edges = [one for one in drawing.contents if isinstance(one, Circle) and one.fillColor == INK]
    field = [one for one in drawing.contents if isinstance(one, Circle) and one.fillColor != INK]
    assert field and str(len(edges) + len(field)) in text_of(drawing).split()
    for one in sheets:
        inside = [
            (dot.cx, dot.cy)
            for dot in edges
            if one.x < dot.cx < one.x + one.width and one.y < dot.cy < one.y + one.height
        ]
        for place in (min, max):
            for this, other in ((0, 1), (1, 0)):
                at = place(dot[this] for dot in inside)
                row = sorted(dot[other] for dot in inside if abs(dot[this] - at) < 1e-6)
                assert max(b - a for a, b in itertools.pairwise(row)) / scale <= 2 * INCH * (1 + 1e-9)
    weight = assessment.racks["r"]
    assert back.top - back.foot == pytest.approx(weight.beam_top)
    said = text_of(drawing)
    for size in (back.length, back.top - back.foot, 2 * INCH, 12 * INCH, 3 / 8 * INCH):
        assert show(size, "length", "us") in said
    assert "posts, beam, bottom rail" in said
    assert "posts, top and bottom rail" in text_of(panel_detail(assessment, "r", left, "us", WIDTHS[0]))


def test_a_gusset_has_its_nails_where_they_are_counted():
    """Both legs' nails to scale: as far apart as the file's count makes them, none outside the plate's legs."""
    assessment = case("gusseted")
    (alike,) = gussets_alike(assessment, "r")
    assert len(alike.places) == 4
    drawing = gusset_detail(assessment, "r", alike, "us", WIDTHS[0])
    nails = [one for one in drawing.contents if isinstance(one, Circle)]
    assert len(nails) == 2 * alike.gusset.nails
    timbers = [one for one in drawing.contents if isinstance(one, Rect) and one.strokeWidth == 0.8]
    scale = timbers[0].width / assessment.resolved.racks["r"].post.width
    upright = sorted({round(one.cy, 3) for one in nails[: alike.gusset.nails]})
    steps = [(b - a) / scale / INCH for a, b in itertools.pairwise(upright)]
    assert steps == pytest.approx([2.03125] * 4, abs=0.002)
    beam = timbers[-1]
    assert all(one.cy < beam.y for one in nails[: alike.gusset.nails]), "into the post alone, below the beam"
    said = text_of(drawing)
    for size in (alike.gusset.leg, alike.gusset.thickness, 2.03125 * INCH):
        assert show(size, "length", "us") in said


def test_kinds_that_are_not_drawn_are_counted():
    """Three kinds of gusset, of which two are drawn; one kind leaves nothing to count."""
    leg = "- {face: back, bay: 1, leg: 14 in"
    assert GUSSETED.count(leg) == 1
    three = GUSSETED.replace(leg, leg.replace("14", "15")).replace(
        "back, bay: 2, leg: 14 in", "back, bay: 2, leg: 16 in"
    )
    found = [one for one in figures(assessed(three), "us", WIDTHS[0]) if ", gusset " in one.subtitle]
    assert [one.after for one in found] == ["", "1 more kind of gusset is not drawn."]
    assert [one.after for one in figures(case("gusseted"), "us", WIDTHS[0]) if ", gusset " in one.subtitle] == [""]


def test_the_title_counts_the_worst_only_where_there_are_more():
    few, many = (figures(case(name), "us", WIDTHS[0])[0].title for name in ("weighed", "tiers"))
    assert few == "What was found, at a glance" and many == "The worst 15 at a glance"


def test_panels_of_one_kind_are_drawn_once():
    twice = TIERS.replace(
        "      - {face: right, thickness",
        "      - {face: left, thickness: 15/32 in, nail: 0.131 in, edge_spacing: 6 in}\n      - {face: right, thickness",
        1,
    )
    twice = twice.replace("      - {face: left, member: 2x4}\n", "")
    kinds = panels_alike(assessed(twice), "r")
    assert [one.places for one in kinds] == [
        ("left bay 1, storey 1", "right bay 1, storey 1"),
        ("right bay 1, storey 2",),
    ]


def test_details_say_all_that_they_were_given():
    """Nothing of a table is left out for want of room."""
    for name in ("two large ties", "toe-nailed", "sheets in pieces"):
        assessment = case(name)
        drawings = [joist_detail(assessment, "r", "si", WIDTHS[1])]
        drawings += [panel_detail(assessment, "r", one, "si", WIDTHS[1]) for one in panels_alike(assessment, "r")]
        for drawing in drawings:
            said = text_of(drawing)
            for ending in ("carries all.",) if "joists" in said else ("is there.",):
                assert ending in said


@pytest.mark.parametrize("direction", ["along", "across"])
def test_forces_are_those_of_the_frame(direction):
    """The largest push on a post in the direction is drawn, the largest uplift of any foot is said."""
    acts = case("tiers").frames["r"]
    picks = acts.pick(direction, *ALLOWABLE)
    most = acts.posts.total["P"][:, picks].max()
    keyed = frame_forces(case("tiers"), "r", direction, "us", WIDTHS[0])
    drawn = text_of(keyed.drawing)
    assert f"pressed {show(most, 'force', 'us')}" in drawn
    least = acts.feet.total["N"][:, picks].min()
    assert least < 0 and show(-least, "force", "us") in dict(keyed.key)["uplift"]


def test_a_frame_that_gives_way_is_not_drawn():
    assessment = case("nursery")
    assert assessment.frames["north"].gives_way("across")
    assert frame_forces(assessment, "north", "across", "us", WIDTHS[0]) is None
    assert frame_forces(assessment, "north", "along", "us", WIDTHS[0]) is not None


def test_a_wave_passes_the_rim_where_it_is_said_to():
    assessment = case("nursery")
    wave = worst_waves(assessment)[0]
    assert wave.wave > wave.water.freeboard
    drawing = waves(assessment, "us", WIDTHS[0]).drawing
    profile = next(shape for shape in drawing.contents if isinstance(shape, PolyLine))
    crest, middle = max(profile.points[1::2]), profile.points[1::2][len(profile.points) // 4]
    rim = next(shape.y1 for shape in drawing.contents if isinstance(shape, Line) and shape.strokeDashArray == [1, 2])
    assert (crest - middle) / (rim - middle) == pytest.approx(wave.wave / wave.water.freeboard, rel=1e-6)


def test_bars_are_as_long_as_their_ratios_and_cut_ones_say_so():
    rows = [("a", 0.5, 0.25), ("b", 9.0, 1.0), ("c", None, 0.9)]
    drawing = before_and_after(rows, WIDTHS[0])
    bars = [shape for shape in drawing.contents if isinstance(shape, Rect)]
    lengths = [bar.width for bar in bars]
    assert lengths[0] == pytest.approx(2 * lengths[1])
    assert lengths[2] == pytest.approx(CUT * lengths[3])
    assert lengths[4] == lengths[2]
    assert [bar.strokeColor for bar in bars] == [
        VERDICT_COLOURS[verdict] for verdict in ("holds", "holds", "short", "close", "short", "close")
    ]
    said = text_of(drawing)
    for end in ("✓ 0.50", "✓ 0.25", "✗ 9.00", "~ 1.00", "✗ no capacity", "~ 0.90"):
        assert end in said
    assert before_and_after([], WIDTHS[0]) is None


def test_bars_of_chances_are_as_long_as_their_odds():
    """By hand: the logarithms of the odds of 10, 50 and 90 in 100 are -2.197, 0 and 2.197; of 999 to 1 6.907."""
    drawing = chance_bars([("a", 0.1, "10 %"), ("b", 0.5, "50 %"), ("c", 0.9, "90 %"), ("d", 1.0, "all")], WIDTHS[0])
    low, even, high, whole = [bar.width for bar in drawing.contents if isinstance(bar, Rect)]
    assert (low / whole, even / whole) == (pytest.approx(0.5 - 2.1972 / 13.8135, abs=1e-4), pytest.approx(0.5))
    assert high - even == pytest.approx(even - low)
    said = text_of(drawing)
    assert all(word in said.split() for word in ("a", "b", "c", "d", "all"))
    assert chance_bars([], WIDTHS[0]) is None


def test_the_worst_are_the_worst():
    assessment = case("nursery")
    shown = worst_findings(assessment)
    least = min(one.ratio for one in shown if one.ratio is not None)
    left = [one for one in assessment.findings if one not in shown and not one.practice and not one.code_position]
    assert all(one.ratio is None or one.ratio <= least for one in left)


def test_the_plan_says_which_way_the_water_goes():
    keyed = plan(case("nursery"), arrange(case("nursery")), "us", WIDTHS[0], 300)
    key = dict(keyed.key)
    worst = case("nursery").spill.worst
    assert show(worst.reached, "volume", "us") in key["A"] and "carp tank" in key["A"]
    assert show(worst.drained, "volume", "us") in key["B"]
    assert "C" not in key and worst.leaves == 0
    assert "3 in" in key["sill"]
    assert "power strip 4 in" in key["live"]
    assert {"A", "B"} <= {shape.text for shape in strings(keyed.drawing)}
    leaving = case("rented-room")
    key = dict(plan(leaving, arrange(leaving), "si", WIDTHS[1], 300).key)
    assert show(leaving.spill.worst.leaves, "volume", "si") in key["C"]


def test_a_pan_without_a_place_stays_in_the_room_and_nothing_else_stands_in_it():
    assessment = case("panned")
    room, placed = assessment.installation.room, arrange(assessment)
    spots = []
    for one in placed:
        length, width = pan_size(assessment.installation, one.name, one.kind)
        spots.append((one.x + (one.length - length) / 2, one.y + (one.width - width) / 2, length, width))
    assert len(spots) == 2
    for x, y, length, width in spots:
        assert 0 <= x <= x + length <= room.length and 0 <= y <= y + width <= room.width
    (x, y, length, width), (x_2, y_2, length_2, width_2) = spots
    assert x + length <= x_2 or x_2 + length_2 <= x or y + width <= y_2 or y_2 + width_2 <= y


@pytest.mark.parametrize("name", ["nursery", "rack", "panned"])
def test_the_worst_mishap_is_said_whole(name):
    assessment = case(name)
    worst = assessment.spill.worst.event.text
    lines = [shape.text for shape in strings(pond_depth(assessment, "us", WIDTHS[0], 170))]
    assert f"worst mishap: {worst}" in " ".join(lines) and "…" not in "".join(lines)
    assert worst in dict(plan(assessment, arrange(assessment), "us", WIDTHS[0], 300).key)["A"]


def test_heights_that_matter_stand_beside_the_pond():
    said = text_of(pond_depth(case("nursery"), "us", WIDTHS[0], 170))
    assert "lowest sill 3 in" in said and "power strip 4 in" in said
    assert show(case("nursery").spill.worst.depth, "length", "us") in said


def test_what_is_left_out_is_counted():
    assessment = case("many vessels")
    assert not_drawn(assessment) == len(assessment.installation.on_floor()) - len(drawn_vessels(assessment)) > 0


def test_a_sheet_keeps_words_apart():
    sheet = Sheet(120, 40)
    assert sheet.put("first", [(10, 10, "start")])
    assert sheet.put("second", [(12, 10, "start")]) is None
    assert sheet.put("off", [(119, 10, "start")]) is None
    assert sheet.near("third", 12, 12) is not None
    assert fitted("a long name that is cut", 40).endswith("…")
    assert width_of(fitted("a long name that is cut", 40)) <= 40
    assert drawable("tank 🐟") == "tank □"


@pytest.mark.parametrize(("name", "system"), CASES)
def test_bars_say_the_whole_question(name, system):
    shown = worst_findings(case(name))
    said = "".join(text_of(ratio_bars(case(name), shown, WIDTHS[system == "si"])).split())
    for one in shown:
        of_words = max(len(word) for word in one.subject.split()) < 30  # a name in one longer word is cut
        asked = f"{one.subject}: {one.question}" if of_words else one.question
        assert drawable("".join(asked.split())) in said
