"""The pages of the report: who finds what where, numbers of other pages, cards, sheets to work by, the page of chances."""

import re
from dataclasses import replace
from pathlib import Path

import pypdf
import pytest
from reportlab.platypus import Table

from brimfast.assess.doubt.doubt import doubt
from brimfast.reports import (
    bolting,
    card_words,
    choice,
    doubt_content,
    doubt_words,
    improve_words,
    owner_content,
    plan_content,
    renter_words,
    summary_words,
    words,
)
from brimfast.reports.drawings.keyed import body_key
from brimfast.reports.inputs_table import input_rows
from brimfast.reports.pdf_cards import PAD, cards
from brimfast.reports.pdf_flow import needs
from brimfast.reports.sheet import sheet
from brimfast.shared.demo import DEMOS, demo
from brimfast.shared.reading import read_bytes
from tests.builders import APART, GUSSETED, JOINED, LIDDED, PANNED, RACK, TIERS, WEIGHED, assessed, assessed_demo
from tests.planned import doubted_tank, planned_rack
from tests.reported import assessed_of, pages_of, pdf, reader_of
from tests.reported import reader as read

OWNER, RENTER, INSPECTION, WALL = 0, 1, 2, 3  # pages of a report without plan and doubt
ENGINEER = "licensed structural engineer"


def reader(assessment, system="us", planned=None, doubted=None):
    return read(pdf(assessment, system, planned, doubted))


def flat(text):
    return " ".join(text.split())


def texts(found):
    return [flat(page.extract_text()) for page in found.pages]


def flat_pages(what, system="us"):
    return [flat(page) for page in pages_of(what, system)]


@pytest.fixture(scope="module")
def nursery():
    return assessed_demo("nursery"), reader_of("nursery"), flat_pages("nursery")


@pytest.fixture(scope="module")
def planned():
    return planned_rack()


def test_every_font_is_in_the_file(nursery):
    fonts = set()
    for page in nursery[1].pages:
        for font in page["/Resources"]["/Font"].values():
            fonts.add(font["/BaseFont"])
            assert "/FontFile2" in font["/FontDescriptor"], font["/BaseFont"]
    assert len(fonts) == 2


def test_the_outline_has_two_levels_and_leads_to_its_pages(nursery):
    _, found, pages = nursery
    entries = []
    for item in found.outline:
        entries += [(one, 1) for one in item] if isinstance(item, list) else [(item, 0)]
    assert {level for _, level in entries} == {0, 1}
    numbers = [found.get_destination_page_number(entry) for entry, _ in entries]
    assert numbers == sorted(numbers)
    for (entry, level), number in zip(entries, numbers, strict=True):
        if level == 1:
            assert flat(entry.title) in pages[number], entry.title
    assert [entry.title for entry, level in entries if level == 0][:2] == ["For the owner", "For the renter"]


def test_page_numbers_of_findings_lead_to_their_calculation_and_back(nursery):
    assessment, _, pages = nursery
    tags = choice.finding_numbers(assessment)
    calculated = sheet(assessment).of_findings
    for finding in assessment.findings:
        tag = tags[finding.id]
        if finding.id not in calculated:
            continue
        row = next(
            number
            for number, text in enumerate(pages, 1)
            if re.search(rf"\b{tag} p\. \d+ {re.escape(finding.subject[:6])}", text)
        )
        there = int(re.search(rf"\b{tag} p\. (\d+)", pages[row - 1])[1])
        heading = flat(f"{tag} {finding.subject}: {finding.question}")
        assert heading in pages[there - 1]
        back = re.search(re.escape(heading) + r" table: page (\d+)", pages[there - 1])
        assert int(back[1]) == row


def test_equations_are_numbered_in_reading_order(nursery):
    assessment, _, pages = nursery
    last = max(line.number for block in sheet(assessment).blocks() for line in block.lines)
    whole = " ".join(pages).split("3 Forces on each body")[1]
    place = 0
    for number in range(13, last + 1):
        place = whole.find(f" ({number})", place + 1)
        assert place > 0, number


def test_inputs_and_assumptions_stand_before_the_calculation(nursery):
    text = " ".join(nursery[2])
    order = [
        "For the engineer What",
        "Inputs: what the file gives",
        "Taken for granted",
        "Confirm before relying on it Values",
        "Calculation Each line",
        "1 Weights",
    ]
    places = [text.index(part) for part in order]
    assert places == sorted(places)


def keys_of(value):
    if isinstance(value, dict):
        for key, item in value.items():
            yield key
            yield from keys_of(item)
    elif isinstance(value, list):
        for item in value:
            yield from keys_of(item)


PRICED = f"""{WEIGHED}
exposure: {{building: 200000, costs: {{low: 3.50 / ft2, high: 12 / ft2}}}}
prices: {{through-bolt 1/2: 4.20, door curb: {{low: 8, high: 15.5}}, hour of work: 60}}
doubt:
  shaking: 40 %
  fasteners: {{median: 1.5, spread: 20 %}}
  water: 1 in
  hazard: [0.3 once in 50 years, 1 once in 475 years]
"""


def test_prices_and_doubt_stand_among_the_inputs_as_the_file_has_them():
    installation = read_bytes(PRICED.encode(), "w.yaml").installation
    found = dict(input_rows(installation, "us"))
    assert found["prices"] == "through-bolt 1/2 4.20; door curb (low 8; high 15.50); hour of work 60"
    assert found["doubt"] == (
        "shaking 40 %; fasteners (median 1.5; spread 20 %); water 1 in (25.4 mm); "
        "hazard 0.3 once in 50 years, 1 once in 475 years"
    )
    assert found["exposure"] == "costs (low 3.50 / ft² (37.67 / m²); high 12 / ft² (129.17 / m²)); building 200,000"
    assert dict(input_rows(installation, "si"))["exposure"].startswith("costs (low 37.67 / m² (3.50 / ft²); high")
    assert {"doubt", "prices"}.isdisjoint(dict(input_rows(read_bytes(WEIGHED.encode(), "w.yaml").installation, "us")))


@pytest.mark.parametrize("name", [*DEMOS, "priced"])
def test_every_key_of_the_file_is_among_the_inputs(name):
    source = demo(name) if name in DEMOS else read_bytes(PRICED.encode(), "w.yaml")
    shown = " ".join(f"{what} {text}" for what, text in input_rows(source.installation, "us"))
    raw = {key: value for key, value in source.raw.items() if key not in ("installation", "invented", "units")}
    for key in keys_of(
        {
            part: value
            for part, value in raw.items()
            if part not in ("racks", "vessels", "joints", "pumps", "pipes", "supplies", "hung")
        }
    ):
        assert key in shown
    for part in ("vessels", "pumps", "pipes", "supplies", "hung"):
        for one in raw.get(part, []):
            assert one["name"] in shown
            for key in one:
                assert key == "name" or f"{key} " in shown


def test_inputs_show_both_systems_and_ranges():
    text = WEIGHED.replace("mass: 500 lb", "mass: 480 to 520 lb")
    found = dict(input_rows(read_bytes(text.encode(), "w.yaml").installation, "us"))
    assert "12 ft (3.66 m)" in found["room"]
    assert "between 480 lb and 520 lb" in found["tank"]


@pytest.mark.parametrize("text", [RACK, TIERS, WEIGHED])
@pytest.mark.parametrize("system", ["us", "si"])
def test_owner_renter_and_cards_have_a_page_each(text, system):
    pages = flat_pages(text, system)
    assert "What to do first" in pages[OWNER]
    assert "When to stop and call an engineer" in pages[OWNER]
    assert pages[RENTER].startswith("If you rent the room")
    assert "Inspection card" in pages[INSPECTION]
    assert "Card for the wall" in pages[WALL]
    assert pages[WALL + 1].startswith("Drawings")
    for page in (OWNER, RENTER, WALL):
        assert ENGINEER in pages[page]
    assert ENGINEER in pages[-1]
    assert len(pages[-1]) > 500  # the last words do not stand alone


def test_the_renter_reads_litres_and_gallons():
    assessment = assessed(RACK)
    page = flat_pages(RACK)[RENTER]
    water = sum(item.water_volume for item in assessment.vessels.values())
    assert f"{words.both(water, 'volume', 'us')} of water" in page
    assert all("gal" in row[1] and " L)" in row[1] for row in renter_words.rows(assessment, "us"))
    below = RACK.replace("joints:", "exposure: {below: shop or office, flooring: tile}\njoints:")
    told = flat_pages(below)[RENTER]
    assert "shop or office" in told and "Who is below" in told
    assert "Who is below" not in page


def test_the_renters_water_is_that_of_the_mishap_not_of_what_the_room_holds():
    drained = WEIGHED.replace("sill: 1 in", "sill: 0.3 in, drains: [{bore: 2 in, grate: 4 in, blocked: 50 %}]")
    assessment = assessed(drained)
    run = assessment.spill.worst
    takes, out = (words.both(one, "volume", "us") for one in (run.drained, run.leaves))
    told = renter_words.where_it_goes(assessment, "us")
    assert (
        f"Of the water of the worst single mishap its floor drain takes {takes}, and {out} goes out by the door."
        in told
    )
    dry = renter_words.where_it_goes(assessed(WEIGHED), "us")
    assert "It has no floor drain. Of the water of the worst single mishap nothing goes over the sill." in dry


def test_the_landlord_is_told_how_much_water_not_a_guess():
    gravel = assessed(RACK)
    asked = renter_words.ask_landlord(gravel, "us")[0]
    water = words.both(sum(one.water_volume for one in gravel.vessels.values()), "volume", "us")
    assert f", with {water} of water in it that can get out?" in asked and "most of it" not in asked


def test_cards_name_what_the_file_has():
    assessment = assessed(
        RACK.replace("intake: 4 in,", "intake: 4 in, anti_siphon: yes,")
        + "supplies:\n  - {name: hose, to: tank, flow: 5 gal/min, unattended: 20 min}\n"
        + "pipes:\n  - {name: return, from: bed, to: tank, bore: 2 in, intake: 8 in, outlet: 20 in, length: 3 ft}\n"
    )
    found = dict(card_words.monthly(assessment.installation))
    assert "2 through-bolts a joint: nuts retightened" in found["Rack r, beam to post"]
    assert "siphon hole open" in found["pump"]
    assert "20 min" in found["hose"]
    assert {"return", "bed", "tank", "Rack r, joist to beam", "Rack r, feet"} <= set(found)
    pages = texts(reader(assessment))
    assert all(what in pages[INSPECTION] for what in found)
    assert "8 in (203 mm)" in pages[WALL]
    assert "27 in (686 mm)" in pages[WALL]
    for what, _ in card_words.shut_off(assessment.installation):
        assert what in pages[WALL]


def test_no_page_but_those_of_cards_and_drawings_is_left_nearly_empty(nursery):
    pages = nursery[2]
    short = [number for number, text in enumerate(pages) if len(text) < 700 and not text.startswith("Drawings")]
    ends = {number - 1 for number, text in enumerate(pages) if text.startswith("For the engineer")}
    assert set(short) <= {*ends, len(pages) - 1}
    assert all(len(pages[number]) > 300 for number in short)


def test_what_the_file_lacks_is_on_no_card():
    found = dict(card_words.monthly(assessed(WEIGHED).installation))
    assert set(found) == {"tank", "power"}
    assert not any(" rack" in text for text in card_words.after_shaking(assessed(WEIGHED).installation))


def test_cards_of_a_hundred_vessels_still_fit_their_cut_line():
    """The same tank a hundred times over: only the cards are made, nothing is computed."""
    one = assessed(WEIGHED)
    vessel = one.installation.vessels[0]
    many = [vessel.model_copy(update={"name": f"barrel number {index}"}) for index in range(100)]
    assessment = replace(
        one,
        installation=one.installation.model_copy(update={"vessels": many}),
        vessels={each.name: one.vessels["tank"] for each in many},
    )
    for card in (item for item in cards(assessment, None, "us", 500, 700) if isinstance(item, Table)):
        (inside,) = card._cellvalues[0]
        assert any("more of the kind" in getattr(item, "text", "") for item in inside)
        assert needs(inside, 500 - 2 * PAD) <= card._argH[0] - 2 * PAD


def test_sheets_to_work_by(planned):
    improvement, plan = planned.improvement, planned.plan
    found = reader(improvement.assessment, planned=planned)
    text = " ".join(texts(found))
    for title in (
        "Before and after",
        "The same as bars",
        "What to buy",
        "Before you begin",
        "Drilling and bolting",
        "How it is done",
    ):
        assert title in text
    for count, what, _ in improve_words.need_rows(plan.needs, improvement.assessment.installation):
        assert flat(what) in text and count in text
    for caution in improve_words.CAUTIONS:
        assert caution in text
    for measure in plan.measures:
        assert flat(measure.title) in text
    assert text.index("Before you begin") < text.index("Drilling and bolting") < text.index("How it is done")
    assert ENGINEER in texts(found)[-1]


def test_sheets_to_work_by_are_the_same_bytes_again(planned):
    both = [pdf(planned.improvement.assessment, planned=planned) for _ in range(2)]
    assert both[0] == both[1]


def test_drilling_sheet_counts_every_fastener():
    """By hand: 2 rows of 3 posts with 4 bolts each are 24. NDS 12.1.3.2 (from memory): holes 1/32 to 1/16 in larger."""
    before = read_bytes(RACK.encode(), "a.yaml").installation
    text = RACK.replace(
        "count: 2, spread: 4 in", "count: 4, spread: 5 in, columns: 2, gauge: 1.5 in, end_distance: 3 in"
    )
    text = text.replace(
        "beam_runs: each bay",
        "beam_runs: each bay\n    feet: {anchored: yes, tension: 700 lb, shear: 600 lb, source: t}",
    )
    (joint, feet) = bolting.places(before, read_bytes(text.encode(), "b.yaml").installation)
    assert joint.where == "Rack r, beam to post"
    assert joint.what == "through-bolt 1/2 in x 6 in"
    assert joint.count == "4 in each of 6: 24"
    assert joint.hole == "17/32 in to 9/16 in"
    assert "outermost 5 in apart" in joint.distances
    assert "2 columns 1 1/2 in apart" in joint.distances
    assert "3 in from the wood's end" in joint.distances
    assert feet.count == "6"
    assert "700 lb (3,110 N) of pull" in feet.what
    assert bolting.places(before, before) == []


def test_without_a_plan_nothing_is_searched(monkeypatch, tmp_path):
    from brimfast.reports import cli, doubting, improving

    def never(*_, **__):
        raise AssertionError("searched")

    monkeypatch.setattr(improving, "improved", never)
    monkeypatch.setattr(doubting, "doubted", never)
    file = tmp_path / "w.yaml"
    file.write_text(WEIGHED)
    cli.report(file, output=None, units=None, date="2026-11-25", plan=None, doubt=False, tries=64, samples=1000, jobs=1)
    assert (tmp_path / "w.pdf").exists()


def with_cheap_plan(folder: Path, doubt: bool, kind: str = "pdf") -> None:
    """Writes w.pdf or w.html into the folder."""
    from brimfast.reports import cli

    file = folder / "w.yaml"
    file.write_text(WEIGHED)
    cli.report(
        file,
        output=folder / f"w.{kind}",
        units=None,
        date="2026-11-25",
        plan=cli.PlanName.cheap,
        doubt=doubt,
        tries=8,
        samples=1000,
        jobs=1,
    )


def test_report_with_plan_and_doubt_from_the_command_line(tmp_path):
    with_cheap_plan(tmp_path, doubt=True)
    text = " ".join(texts(pypdf.PdfReader(tmp_path / "w.pdf")))
    assert "What to buy" in text
    assert "How likely it is" in text
    with_cheap_plan(tmp_path, doubt=True, kind="html")
    whole = (tmp_path / "w.html").read_text(encoding="utf-8")
    assert 'id="plan"' in whole and 'id="chances"' in whole


def test_where_there_is_no_plan_the_report_is_written_without(monkeypatch, tmp_path, capsys, planned):
    from brimfast.reports import improving

    monkeypatch.setattr(improving, "improved", lambda *_: replace(planned.improvement, plans=()))
    with_cheap_plan(tmp_path, doubt=False)
    assert "there is no plan" in capsys.readouterr().err
    assert "What to buy" not in " ".join(texts(pypdf.PdfReader(tmp_path / "w.pdf")))


def test_the_owner_sees_a_picture_with_its_key_where_it_fits():
    page = flat_pages(WEIGHED)[OWNER]
    assert "1 tank, 500 lb" in page
    assert "Looked at. What the file says" in page


def test_the_page_of_chances_is_one_page():
    source = demo("porch")
    found = doubt(source.installation, source.raw, count=1000, seed=1)
    pages = texts(reader(assessed_demo("porch"), doubted=found))
    (page,) = (text for text in pages if "How likely it is" in text)
    assert flat(doubt_words.headline(found)) in page
    assert "What to measure first" in page
    assert ENGINEER in page
    for one in found.limits[:3]:
        assert flat(doubt_words.limit_text(one.limit)) in page


def in_order(text, parts):
    """Each part of the text after the one before it; how far that is."""
    place = 0
    for part in parts:
        found = text.find(flat(part), place)
        assert found >= 0, (part, text[place : place + 200])
        place = found + len(flat(part))
    return place


@pytest.mark.parametrize("what", ["nursery", TIERS], ids=["nursery", "tiers"])
def test_text_is_taken_out_in_the_order_in_which_it_is_read(what):
    """Beside each other stand picture and counts, a card's columns, cells of a table, a key's columns."""
    assessment, pages = assessed_of(what), flat_pages(what)
    number = choice.counts(assessment)
    facts = [lead for lead, _ in owner_content.page_facts(assessment, "us", named=False)]
    worst = [part for one in choice.worst(assessment) for part in (choice.DANGERS[choice.danger(one)], one.question)]
    steps = [words.capital(one.measure) for one in summary_words.first_steps(assessment)]
    in_order(
        pages[OWNER],
        [
            assessment.installation.installation,
            summary_words.headline(assessment),
            *(
                f"{words.MARKS[key]} {number[key]} {owner_content.COUNT_NAMES[key]}"
                for key in owner_content.COUNT_ORDER
            ),
            *facts,
            owner_content.WORST,
            *worst,
            owner_content.FIRST,
            *steps,
            owner_content.STOP,
            words.DEFER,
        ],
    )
    installation = assessment.installation
    rows = [part for row in card_words.monthly(installation) for part in row]
    in_order(pages[INSPECTION], [*rows, card_words.AFTER, *card_words.after_shaking(installation)])
    levels = [part for row in card_words.level_rows(installation, assessment, "us") for part in row]
    off = [part for row in card_words.shut_off(installation) for part in row]
    in_order(pages[WALL], [*levels, card_words.TROUBLE, *off, card_words.BENEATH, *card_words.CALL])
    whole = " ".join(re.sub(r" [^ ]+  ·  .{10,40}  ·  brimfast .*? page \d+ of \d+", "", page) for page in pages)
    after = whole[whole.index("What was found Each question") :]
    tags = choice.finding_numbers(assessment)
    by_number = sorted(assessment.findings, key=lambda one: int(tags[one.id][1:]))
    in_order(after, [part for one in by_number for part in (f" {tags[one.id]} ", one.question, one.verdict)])
    key = [f"{number} {text}" for number, text in body_key(assessment, "us")]
    in_order(whole[whole.index("From above To scale") :], key)


def test_sheets_and_chances_are_taken_out_row_by_row(planned):
    found = plan_content.sheets(planned)
    whole = " ".join(texts(reader(planned.improvement.assessment, planned=planned)))
    for row in [*found.shopping, *found.places]:
        in_order(whole, row)
    rows = [part for one in found.rows for part in (one.what, one.question, improve_words.answer_text(one.before))]
    in_order(whole[whole.index(plan_content.BEFORE_NOTE) :], rows)
    doubted = doubted_tank()
    said = doubt_content.chances(doubted, "us", 4)
    page = next(one for one in texts(reader(assessed(WEIGHED), doubted=doubted)) if doubt_content.TITLE in one)
    in_order(page, [part for row in (*said.outcomes, *said.limits) for part in row if part])


def test_says_who_it_is_by_and_about(nursery):
    found = nursery[1].metadata
    assert found.author.startswith("brimfast")
    assert "earthquake" in found.subject
    assert "asce7-22" in found["/Keywords"]
    assert nursery[1].trailer["/Root"]["/Lang"] == "en"


def test_lids_pans_gussets_and_joined_racks_are_on_the_cards_and_sheets():
    def read(text):
        return read_bytes(text.encode(), "t.yaml").installation

    looked = [dict(card_words.monthly(read(text))) for text in (LIDDED, PANNED, GUSSETED, JOINED)]
    assert "all 12 fastenings of its lid closed" in looked[0]["tank"]
    assert "empty and dry" in looked[1]["Rack r, pan"] and "its pan empty" in looked[1]["tank"]
    assert looked[2]["Rack r, gussets"].startswith("front bay 1, front bay 2, back bay 1, back bay 2: no nail")
    assert looked[3]["Rack s, joined to rack r"].startswith("2 through-bolts a post")
    (lid,) = bolting.places(read(RACK), read(LIDDED))
    assert (lid.where, lid.count) == ("tank, lid", "12")
    bare = GUSSETED[: GUSSETED.index("    gussets:")] + GUSSETED[GUSSETED.index("    braces:") :]
    plates = bolting.places(read(bare), read(GUSSETED))
    assert len(plates) == 4 and all("4 legs: 40" in place.count for place in plates)
    (bolts,) = bolting.places(read(APART), read(JOINED))
    assert bolts.count == "2 beside each of 3 posts: 6"
