"""The HTML report: complete, one file that needs nothing else, readable by all, nobody's markup but ours."""

import itertools
import json
import re
from datetime import date
from functools import cache
from importlib.resources import files
from xml.etree import ElementTree

import html5lib
import pytest
from markupsafe import Markup, escape
from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Polygon, PolyLine, Rect, String
from reportlab.lib.colors import HexColor
from reportlab.pdfbase.pdfmetrics import stringWidth

from brimfast.reports import card_words, choice, improve_words, owner_content, renter_words, summary_words, words
from brimfast.reports.doubt_content import MOST_LIMITS, chances
from brimfast.reports.figures import figures
from brimfast.reports.html_drawings import inline_svg
from brimfast.reports.html_report import html_bytes
from brimfast.reports.html_style import finalized, symbols, visible
from brimfast.reports.parts_content import plain_ratio
from brimfast.reports.pdf_style import BOLD
from brimfast.reports.plan_content import sheets
from brimfast.shared.demo import DEMOS, demo
from tests.builders import RACK, TIERS, WEIGHED, assessed, assessed_demo
from tests.planned import doubted_tank, planned_rack
from tests.reported import DAY, SHA, pdf, reader

CSS = files("brimfast.reports").joinpath("templates/report.css").read_text(encoding="utf-8")


def page(assessment, system="us", planned=None, doubted=None):
    return html_bytes(assessment, SHA, system, DAY, planned, doubted).decode()


def parsed(text):
    """The tree, of a text in which a strict parser finds no fault."""
    tree = html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(text)
    for element in tree.iter():
        if isinstance(element.tag, str):
            element.tag = element.tag.rpartition("}")[2]
    return tree


def said(element):
    return " ".join("".join(element.itertext()).split())


def by_id(tree):
    return {element.get("id"): element for element in tree.iter() if element.get("id")}


TEXTS = {"tiers": TIERS, "weighed": WEIGHED}


@pytest.fixture(scope="module", params=[*DEMOS, *TEXTS, "planned", "doubted"])
def report(request):
    """What a page is made from."""
    if request.param in TEXTS:
        return assessed(TEXTS[request.param]), "us"
    if request.param == "planned":
        return planned_rack().improvement.assessment, "us", planned_rack()
    if request.param == "doubted":
        return assessed(WEIGHED), "us", None, doubted_tank()
    return assessed_demo(request.param), demo(request.param).installation.system


@pytest.fixture(scope="module")
def source(report):
    return page(*report)


@pytest.fixture(scope="module")
def tree(source):
    return parsed(source)


def test_who_decides_is_the_last_word(tree):
    """Of all that is in the page but its foot, as on the last page of the PDF."""
    main = by_id(tree)["main"]
    assert said(main).endswith(owner_content.closing_words(SHA))


def test_every_finding_is_there_with_ratio_and_verdict(report, tree):
    assessment, system, *_ = report
    rows = {element.get("data-finding"): element for element in tree.iter("tr") if element.get("data-finding")}
    assert set(rows) == {finding.id for finding in assessment.findings}
    tags = choice.finding_numbers(assessment)
    for finding in assessment.findings:
        row = rows[finding.id]
        cells = [said(cell) for cell in row]
        assert row.get("id") == cells[0] == tags[finding.id]
        assert cells[1] == " ".join(finding.subject.split())
        assert cells[2].startswith(finding.question)
        assert cells[3] == words.amount(finding.demand, finding, system)
        assert cells[4] == words.amount(finding.capacity, finding, system)
        assert cells[5] == plain_ratio(finding)
        assert cells[6] == words.verdict_text(finding)  # by mark and word
        assert row[6][0].get("class").split()[0] == "verdict"  # and by colour


def test_says_what_the_pdf_says(report, tree):
    """Each paragraph of the owner's page, each caution, each step of the calculation, in the same words."""
    assessment, system, *asked = report
    planned = asked[0] if asked else None
    after = assessment if planned is None else planned.plan.assessment
    installation = after.installation
    text = said(tree.find("body"))
    for sentence in (
        summary_words.headline(assessment),
        summary_words.what_it_weighs(assessment, system),
        summary_words.what_the_code_asks(assessment),
        *(text for _, text in owner_content.page_facts(assessment, system, named=True)[2:] if "_" not in text),
        *summary_words.when_to_stop(assessment),
        renter_words.total(assessment, system),
        renter_words.cost_note(assessment),
        *renter_words.cheap_lines(assessment, planned and planned.improvement, renter_words.MOST_CHEAP)[0],
        *renter_words.ask_landlord(assessment, system),
        *renter_words.ask_insurer(assessment),
        *itertools.chain(*card_words.monthly(installation)),
        *card_words.after_shaking(installation),
        *itertools.chain(*card_words.level_rows(installation, after, system)),
        *itertools.chain(*card_words.shut_off(installation)),
        *card_words.CALL,
        card_words.BENEATH,
        words.DEFER,
        f"SHA-256 {SHA}",
        "2026-11-25",
        *(caution.text for caution in assessment.cautions),
        *(value.confirm_in for value in assessment.values_to_confirm()),
        *(words.sentence(finding, system)[1:] for finding in choice.worst(assessment)),
        *(step.source for finding in assessment.findings for step in finding.steps if "_" not in step.source),
    ):
        assert " ".join(sentence.split()) in text
    assert ("invented" in text) == assessment.installation.invented
    assert "safe" not in text.lower().replace("safe side", "")


def test_it_needs_nothing_but_itself(source, tree):
    """No script, no frame, no image, no font, no style of elsewhere; no address at all, but within the page."""
    ids = by_id(tree)
    allowed = {"charset", "http-equiv", "name", "content"}
    for element in tree.iter():
        if not isinstance(element.tag, str):
            continue
        assert element.tag not in {"script", "link", "img", "iframe", "object", "embed", "base", "form", "image", "use"}
        for name, value in element.attrib.items():
            assert not str(name).startswith("on")
            assert name not in {"src", "srcset", "action", "data", "poster", "background"}
            if name == "href":
                assert value.startswith("#") and value[1:] in ids
            if element.tag == "meta":
                assert name in allowed
    assert not any(word in source for word in ("://", "url(", "@import", "@font-face"))
    policy = next(one.get("content") for one in tree.iter("meta") if one.get("http-equiv"))
    assert policy.startswith("default-src 'none'")


def test_whoever_listens_finds_the_way(tree):
    assert tree.get("lang") == "en" and said(tree.find("head/title")).startswith("brimfast report: ")
    body = tree.find("body")
    for landmark in ("header", "nav", "main", "footer"):
        assert len(list(body.iter(landmark))) == 1
    assert body[0].get("class") == "skip" and body[0].get("href") == "#main"
    levels = [int(element.tag[1]) for element in body.iter() if re.fullmatch("h[1-6]", str(element.tag))]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(later <= earlier + 1 for earlier, later in itertools.pairwise(levels))
    every = [element.get("id") for element in body.iter() if element.get("id")]
    assert len(every) == len(set(every))
    ids = by_id(tree)
    for element in body.iter():
        for name in (element.get("aria-labelledby") or "").split():
            assert said(ids[name])
    for section in body.iter("section"):
        assert section[0].tag == "h2" and section[0].get("id") == section.get("aria-labelledby")


def test_tables_have_captions_and_headings(tree):
    tables = list(tree.iter("table"))
    assert len(tables) > 3
    for table in tables:
        assert table[0].tag == "caption" and said(table[0])
        columns = [cell.get("scope") for cell in table.find("thead/tr")]
        assert set(columns) == {"col"}
        rows = list(table.find("tbody"))
        assert rows
        for row in rows:
            assert len(row) == len(columns)
            assert [cell.get("scope") for cell in row if cell.tag == "th"] == ["row"]
            assert all(said(cell) for cell in row if cell.tag == "th")


def test_drawings_have_names_and_descriptions(tree):
    drawings = list(tree.iter("svg"))
    assert len(drawings) >= 2
    for drawing in drawings:
        assert drawing.get("role") == "img"
        assert [said(drawing[0]), said(drawing[1])] != ["", ""]
        assert drawing[0].tag == "title" and drawing[1].tag == "desc"
        assert drawing.get("viewBox") and drawing.get("width") is None
        assert len(drawing[2]) > 8
        assert all(label.get("textLength") for label in drawing.iter("text"))


def test_shapes_and_labels_stand_where_they_were_drawn():
    """A page counts from the top, a drawing from its foot."""
    drawing = Drawing(200, 100)
    drawing.add(Rect(10, 20, 30, 40, fillColor=HexColor("#102030"), fillOpacity=0.5, strokeColor=None))
    drawing.add(Line(0, 0, 200, 100, strokeColor=HexColor("#ff0000"), strokeWidth=1.5, strokeDashArray=[3, 2]))
    drawing.add(String(5, 90, "<up> & on", fontName=BOLD, fontSize=8, fillColor=HexColor("#000000")))
    drawing.add(Group(Circle(50, 60, 7, fillColor=None, strokeColor=HexColor("#00ff00"))))
    drawing.add(PolyLine([0, 0, 10, 10], strokeColor=HexColor("#00ff00")))
    drawing.add(Polygon([0, 0, 10, 10, 20, 0], fillColor=HexColor("#00ff00"), strokeColor=None))
    text = str(inline_svg(drawing, "d", "A <title>", "What it is", Markup("<rect/>"), styled=False))
    assert "style" not in text
    root = ElementTree.fromstring(text)
    assert root.get("viewBox") == "0 0 200.00 100.00"
    assert [one.tag for one in root] == ["title", "desc", "rect", "g"]
    box, line, label, disc, lines, area = root[3]
    assert box.attrib == {"x": "10", "y": "40", "width": "30", "height": "40", "fill": "#102030", "fill-opacity": "0.5"}
    assert [line.get(key) for key in ("x1", "y1", "x2", "y2")] == ["0", "100", "200", "0"]
    assert (line.get("stroke-dasharray"), line.get("stroke-width"), line.get("fill")) == ("3 2", "1.5", None)
    assert (label.text, label.get("x"), label.get("y"), label.get("font-weight")) == ("<up> & on", "5", "10", "700")
    assert float(label.get("textLength")) == pytest.approx(stringWidth("<up> & on", BOLD, 8), abs=0.01)
    assert (disc.get("cy"), disc.get("fill")) == ("40", "none")
    assert lines.get("points") == "0,100 10,90" and lines.get("fill") == "none"
    assert area.get("points") == "0,100 10,90 20,100" and area.get("fill") == "#00ff00"


def test_every_label_of_the_drawings_is_on_the_page():
    assessment = assessed(RACK)
    told = [label.text for label in parsed(page(assessment)).iter("text")]
    drawn = [
        one.text
        for figure in figures(assessment, "us", 560.0, 330.0)
        for one in figure.drawing.contents
        if isinstance(one, String)
    ]
    assert len(drawn) > 10
    assert told[: len(drawn)] == drawn


def test_the_plan_stands_there_as_in_the_pdf():
    """Every answer before and after with its word, what to buy, cautions before work, every step; cards once it is built."""
    planned = planned_rack()
    tree = parsed(page(planned.improvement.assessment, "us", planned))
    found, tables = sheets(planned), {said(one[0]): one for one in tree.iter("table")}
    (section,) = (one for one in tree.iter("section") if one.get("aria-labelledby") == "plan")
    text = said(section)
    for sentence in (found.title, found.takes, found.proven, found.prices, *found.worse, *found.left, *found.first):
        assert " ".join(sentence.split()) in text
    rows = [[said(cell) for cell in row] for row in tables["Every question that matters, before and after"][2]]
    assert len(rows) == len(found.rows) > 3
    for row, one in zip(rows, found.rows, strict=True):
        assert row[:2] == [one.what, one.question]
        for cell, answer in zip(row[2:], (one.before, one.after), strict=True):
            assert cell == "not asked" if answer is None else cell.endswith(answer.verdict)
            assert answer is None or answer.ratio is None or f"{answer.ratio:.2f}" in cell or answer.ratio >= 100
    bought = [[said(cell) for cell in row] for row in tables["Shopping list"][2]]
    assert [(count, what, about) for what, count, about in bought[:-1]] == list(found.shopping)
    assert bought[-1] == ["together", "", found.together]
    drilled = [
        tuple(said(cell) for cell in row) for row in tables["Every place that is fastened otherwise than before"][2]
    ]
    assert drilled == list(found.places) and drilled
    assert len(list(section.iter("svg"))) == 1
    order = [
        text.index(title) for title in ("What to buy", "Before you begin", "Drilling and bolting", "How it is done")
    ]
    assert order == sorted(order)
    for caution in improve_words.CAUTIONS:
        assert order[1] < text.index(caution) < order[2]
    works = [said(one) for one in section.iter("h4")]
    assert works == [" ".join(one.title.split()) for one in found.works] and works
    for step in (step for one in found.works for step in one.steps):
        assert " ".join(step.split()) in text
    (cards,) = (one for one in tree.iter("section") if one.get("aria-labelledby") == "cards")
    assert "Valid once the plan is built." in said(cards)
    assert "Valid once" not in page(assessed(RACK))


def test_chances_stand_there_as_in_the_pdf():
    doubted = doubted_tank()
    tree = parsed(page(assessed(WEIGHED), "us", None, doubted))
    (section,) = (one for one in tree.iter("section") if one.get("aria-labelledby") == "chances")
    found = chances(doubted, "us", MOST_LIMITS)
    text = said(section)
    for sentence in (found.headline, *found.notes, found.limits_note, *found.measure, *found.accuracy, *found.not_in):
        assert " ".join(sentence.split()) in text
    outcomes, limits = ([tuple(said(cell) for cell in row) for row in one[2]] for one in section.iter("table"))
    assert outcomes == list(found.outcomes) and limits == list(found.limits) and limits
    (drawing,) = section.iter("svg")
    assert all(chance in said(drawing[1]) for _, _, chance in found.bars)
    assert "How likely it is" not in page(assessed(WEIGHED))


EVIL = [
    "</title><script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "]]>&#60;script&#62; & <svg onload=alert(1)> <!-- ",
    "{{ 7 * 7 }}{% raw %}",
    "</style><style>*{display:none}",
    "水槽 аквариум 🐟",
]
NAMED = """
installation: {0}
site: {{standard: asce7-16, S_DS: 1.0}}
room:
  {{length: 24 ft, width: 16 ft, sill: 1 in, use: dwelling, door: 32 in,
   floor: {{kind: timber floor, live_load: 40 psf, live_load_source: {1}}},
   drains: [{{bore: 2 in}}], sockets: [{{name: {3}, height: 4 in}}],
   next: [{{name: {4}, length: 12 ft, width: 4 ft, door: 32 in, sill: 1/2 in}}]}}
racks:
  {5}:
    {{bays: 2, bay_length: 5 ft, width: 32 in, deck_height: 26 in, post: 4x4 douglas fir-larch No.2,
     beam: 2x8 douglas fir-larch No.2, joist: {{size: 2x6, spacing: 12 in, seat: between beams}},
     deck: 23/32 in plywood, beam_runs: each bay,
     component: {{R_p: 1.5, reason: {6}}},
     feet: {{anchored: yes, tension: 700 lb, shear: 600 lb, source: {7}}}}}
vessels:
  - {{name: {8}, kind: bed, on: {5}, length: 9 ft, width: 30 in, depth: 10 in, water: 8 in, fill: gravel, fill_depth: 9 in}}
  - {{name: {9}, kind: tank, diameter: 4 ft, depth: 30 in, water: 27 in}}
pumps:
  - {{name: {10}, from: {9}, to: {8}, flow: 600 gal/h, intake: 4 in, outlet: 3 in}}
pipes:
  - {{name: {11}, from: {8}, to: {9}, bore: 2 in, intake: 6 in, outlet: 20 in, length: 3 ft}}
supplies:
  - {{name: {12}, to: {9}, flow: 300 gal/h, unattended: 1 h}}
hung:
  - {{name: {13}, from: ceiling, mass: 22 lb, drop: 30 in, over: {8}}}
joints:
  - {{rack: {5}, where: beam to post, fasteners: {{kind: framing tie, allowable: 350 lb, source: {14}}}}}
"""


@cache
def shape(name):
    """Elements with their attributes (of drawings the outside), text and source of the page with that in every name."""
    names = [json.dumps(f"{name}{index}", ensure_ascii=False) for index in range(15)]
    source = page(assessed(NAMED.format(*names)))
    tree = parsed(source)
    drawn = {inner for drawing in tree.iter("svg") for inner in drawing.iter() if inner is not drawing}
    found = [(one.tag, sorted(map(str, one.attrib))) for one in tree.iter() if one not in drawn]
    return found, said(tree), source


@pytest.mark.parametrize("evil", EVIL)
def test_names_are_text_and_nothing_else(evil):
    """The same page with harmless names has the same elements and attributes, one by one."""
    found, text, source = shape(evil)
    assert found == shape("tame")[0]
    for index in (0, 5, 8, 9, 11, 12, 13):
        assert " ".join(f"{evil}{index}".split()) in text
    if "<" in evil:
        assert evil not in source and str(escape(evil)) in source
    assert source.count("<style") == 1 and "<script" not in source


def test_what_turns_or_hides_text_is_shown_as_a_box():
    """No file can hold such characters; if one ever could, they still would not act."""
    assert visible("a\u202eb\u200bc 🐟") == "a□b□c 🐟"
    assert finalized("\u202e<b>") == "□<b>" and finalized(Markup("<b>")) == "<b>"
    assert symbols("<i> S_DS \u202e") == "&lt;i&gt; S<sub>DS</sub> □"
    named = assessed(WEIGHED.replace("name: tank,", "name: tank_2,"))
    assert "tank_2" in page(named) and "tank<sub>" not in page(named)


def test_same_input_same_bytes(report, source):
    assert page(*report) == source
    assert html_bytes(report[0], SHA, report[1], date(2026, 1, 2), *report[2:]).decode() != source


def test_every_topic_of_the_pdf_has_its_heading(report, tree):
    outline = reader(pdf(*report)).outline
    headings = {said(element) for element in tree.iter("h2")}
    sections = {" ".join(one.title.split()) for part in outline if isinstance(part, list) for one in part}
    assert len(sections) > 10
    headings |= {said(element) for element in tree.iter("h3")}
    assert sections <= headings


# WCAG 2.2, success criterion 1.4.3 (AA): 4.5 to 1 for text; relative luminance as defined there.


def luminance(colour):
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def palettes():
    """Light, dark, print: each set of variables in the style sheet."""
    return [
        dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", block)) for block in re.findall(r":root \{(.*?)\}", CSS, re.DOTALL)
    ]


def test_contrast_by_definition():
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#777777", "#ffffff") == pytest.approx(4.48, abs=0.005)  # by hand: 1.05 / (0.1845 + 0.05)


def test_all_text_stands_out_from_all_it_can_stand_on():
    fore = set(re.findall(r"(?<![-\w])color: var\(--(\w+)\)", CSS))
    back = set(re.findall(r"background: var\(--(\w+)\)", CSS))
    assert {"ink", "quiet", "link", "short", "close", "holds", "open"} <= fore and back == {"page", "panel"}
    assert re.findall(r"(?<![-\w])color: #", CSS) == []
    found = palettes()
    assert len(found) == 3
    for palette in found:
        for text in fore:
            for ground in back:
                assert contrast(palette[text], palette[ground]) >= 4.5, (text, ground)
    for palette in found:  # 1.4.11: what has the focus is outlined, 3 to 1
        assert contrast(palette["link"], palette["page"]) >= 3.0
