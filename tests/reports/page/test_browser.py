"""In a real browser: a new user's whole way, mistakes, reloads, two tabs, keyboard alone, no script, and who cannot see."""

import json
import re
from importlib.resources import files

import pytest

from brimfast.reports.page import page_words
from brimfast.reports.page.form_words import STEPS
from brimfast.shared.demo import demo_bytes
from brimfast.shared.reading import read_bytes
from tests.browsers import Served, follow, launched, tab, until, watch


@pytest.fixture(scope="module")
def browser():
    with launched() as found:
        yield found


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("water")


@pytest.fixture(scope="module")
def served(browser, folder):
    with Served(folder) as found:
        yield found
        assert found.end() == "", "it must say nothing but its address"


@pytest.fixture
def there(browser, served, folder, request):
    """A tab on a copy of the full demo with a name of its own, and its path."""
    path = folder / f"{re.sub(r'[^a-z]+', '-', request.node.name)[:40]}.yaml"
    path.write_bytes(demo_bytes("nursery"))
    page = tab(browser, served)
    page.path, page.at = path, f"{served.base}/file/{path.name}"
    yield page
    assert page.faults == []
    page.context.close()


def whole(page):
    page.get_by_text(page_words.CURRENT).wait_for()


def raw_of(path):
    return read_bytes(path.read_bytes(), path.name).raw


def answer(page, label, text, piece=None):
    """Types into a field, and leaves it."""
    field = (page.locator(f"fieldset[id='f{piece}']") if piece else page).get_by_label(label, exact=False).first
    field.fill(text)
    field.press("Tab")
    return field


def test_a_new_user_s_whole_way_from_nothing_to_the_pdf(browser, served, folder):
    page = tab(browser, served)
    page.get_by_label("What is it called?").fill("Quarry Hill fish room")
    page.get_by_label("What do you have?").select_option("rack")
    page.get_by_label("Room, length x width").fill("18 ft x 12 ft")
    page.get_by_label("Height of the door sill").fill("1 in")
    page.get_by_label("Residential seismic design category").fill("C")
    page.get_by_role("button", name="Begin").click()
    page.wait_for_url("**/quarry-hill-fish-room.yaml/place")
    path = folder / "quarry-hill-fish-room.yaml"
    page.get_by_role("button", name="Go on: The room").click()
    page.wait_for_url("**/room")
    answer(page, "Width of the doorway", "30 in")
    page.get_by_text("Saved.").wait_for()
    page.get_by_role("button", name="Go on: Racks").click()
    page.wait_for_url("**/racks")
    page.get_by_label("Name").first.fill("long rack")
    page.get_by_label("Bays").press("Tab")
    page.get_by_role("button", name="Remove long rack").wait_for()
    answer(page, "Height of the deck", "750 mm")
    page.get_by_role("button", name="Add a brace").click()
    page.locator("[id='f/racks/long%20rack/braces/0']").wait_for()
    whole(page)
    page.goto(page.url.replace("/racks", "/vessels"))
    before = page.locator("#picture-floor-vessels svg").inner_html()
    page.get_by_role("button", name="Add a barrel").click()
    page.locator("fieldset[id='f/vessels/2']").wait_for()
    assert page.evaluate("document.activeElement.name") == "/vessels/2/name"
    answer(page, "Name", "rain barrel", "/vessels/2")
    answer(page, "Depth of the water", "20 in", "/vessels/2")
    page.locator("#picture-floor-vessels svg").get_by_text("20 in").first.wait_for()
    assert page.locator("#picture-floor-vessels svg").inner_html() != before, "the drawing follows"
    whole(page)
    assert "ratio" in page.locator(".joint").inner_text()
    raw = raw_of(path)
    assert list(raw["racks"]) == ["long rack"] and raw["vessels"][0]["on"] == "long rack"
    assert raw["racks"]["long rack"]["deck_height"] == "750 mm" and raw["vessels"][2]["water"] == "20 in"
    assert "# top of the deck above the floor" in path.read_text(), "comments are kept"

    follow(page, "Where the water goes")
    told = page.locator("#moment-text").inner_text()
    page.locator("#moment").focus()
    page.keyboard.press("Home")
    first = json.loads(page.locator("#moment").get_attribute("data-moments"))[0][2]
    assert page.locator("#moment").input_value() == "0"
    assert page.locator("#moment-text").inner_text() == first != told
    assert page.locator("#water-on-floor").get_attribute("class").startswith("shade-")
    page.get_by_role("button", name="Play").click()
    until(page, "Number(document.getElementById('moment').value) > 2")
    page.get_by_role("button", name="Stop").click()

    follow(page, "What to fix first")
    box = page.locator("input[name=measure]").first
    box.check()
    page.locator("#tried table").wait_for()
    put = page.get_by_role("button", name="Put these into the file")
    put.wait_for()
    assert page.locator("#tried tbody tr").count() > 0
    with page.expect_download() as kept:
        page.locator("#tried").get_by_role("link", name="Shopping list").click()
    assert "[ ] " in kept.value.path().read_text(encoding="utf-8")
    box.uncheck()
    page.get_by_text("Nothing is switched on.").wait_for()
    box.check()
    old = path.read_bytes()
    put.click()
    page.get_by_text("Put into the file:").wait_for()
    assert path.read_bytes() != old

    follow(page, "Take it with you")
    with page.expect_download() as kept:
        page.get_by_role("link", name="Report (PDF)", exact=True).click()
    data = kept.value.path().read_bytes()
    assert data.startswith(b"%PDF-") and len(data) > 50_000
    assert kept.value.suggested_filename == "quarry-hill-fish-room.pdf"
    with page.expect_download() as kept:
        page.get_by_role("link", name="The file (YAML)", exact=True).click()
    assert kept.value.path().read_bytes() == path.read_bytes()
    assert page.faults == []
    page.context.close()


def test_a_mistake_stays_in_its_field_through_reload_and_crash_and_the_file_stays_right(browser, tmp_path):
    path = tmp_path / "n.yaml"
    path.write_bytes(demo_bytes("nursery"))
    with Served(tmp_path) as served:
        page = tab(browser, served)
        page.goto(f"{served.base}/file/n.yaml/vessels")
        field = answer(page, "Depth of the water", "9 inn", "/vessels/0")
        error = page.locator("[id='f/vessels/0/water-error']")
        error.get_by_text("did you mean 'in'?").wait_for()
        assert error.inner_text().endswith("[E-UNIT-004]")
        assert field.get_attribute("aria-invalid") == "true"
        assert "f/vessels/0/water-error" in field.get_attribute("aria-describedby")
        assert "Not in the file yet" in page.locator("#said").inner_text()
        assert path.read_bytes() == demo_bytes("nursery")
        page.reload()
        assert page.locator("[id='f/vessels/0/water']").input_value() == "9 inn"
        assert page.faults == []
        served.end(kill=True)
        page.context.close()
    with Served(tmp_path) as served:
        page = tab(browser, served)
        page.goto(f"{served.base}/file/n.yaml/vessels")
        field = page.locator("[id='f/vessels/0/water']")
        assert (
            field.input_value() == "9 inn"
            and "did you mean" in page.locator("[id='f/vessels/0/water-error']").inner_text()
        )
        field.fill("8 in")
        field.press("Tab")
        page.get_by_text("Saved.").wait_for()
        until(page, "document.getElementById('f/vessels/0/water-error').textContent === ''")
        assert field.get_attribute("aria-invalid") is None
        assert raw_of(path)["vessels"][0]["water"] == "8 in"
        assert [one.name for one in tmp_path.iterdir()] == ["n.yaml"]
        assert page.faults == []
        page.context.close()
        assert served.end() == ""


def test_two_tabs_do_not_overwrite_each_other(there):
    page = there
    page.goto(f"{page.at}/room")
    whole(page)
    other = page.context.new_page()
    watch(other)
    other.goto(f"{page.at}/room")
    whole(other)
    answer(page, "Height of the sill", "5 in")
    page.get_by_text("Saved.").wait_for()
    field = answer(other, "Width of the room", "15 ft")
    other.get_by_role("alert").get_by_text("changed elsewhere").wait_for()
    room = raw_of(page.path)["room"]
    assert (room["sill"], room["width"]) == ("5 in", "16 ft")
    assert field.input_value() == "15 ft", "what was typed is still there to be seen"
    other.on("dialog", lambda dialog: dialog.accept())
    other.get_by_role("button", name="Show the file as it is now").click()
    other.locator("[id='f/room/sill']").wait_for()
    until(other, "document.getElementById('f/room/sill').value === '5 in'")
    answer(other, "Width of the room", "15 ft")
    other.get_by_text("Saved.").wait_for()
    assert raw_of(page.path)["room"]["width"] == "15 ft"
    assert [one for one in other.faults if "409" not in one] == []


def test_keyboard_alone_and_the_focus_stays_when_parts_are_made_anew(there):
    page = there
    page.goto(f"{page.at}/room")
    whole(page)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    for _ in range(60):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.name") == "/room/sill":
            break
    outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline not in ("none", ""), "where the focus is can be seen"
    page.keyboard.press("Control+A")
    page.keyboard.type("4 in")
    page.keyboard.press("Tab")
    page.keyboard.type("3 ft")  # into the next field, while the first is taken
    page.get_by_text("Saved.").wait_for()
    assert page.evaluate("document.activeElement.name") == "/room/door"
    assert page.evaluate("document.activeElement.value") == "3 ft"
    page.keyboard.press("Tab")
    whole(page)
    until(page, "document.getElementById('said').textContent.includes('checks')")
    assert raw_of(page.path)["room"]["sill"] == "4 in" and raw_of(page.path)["room"]["door"] == "3 ft"
    for _ in range(80):
        if page.evaluate("document.activeElement.textContent") == "Add a socket":
            break
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    until(page, "document.activeElement.name === '/room/sockets/1/name'")
    for _ in range(80):
        if page.evaluate("document.activeElement.textContent").startswith("Go on:"):
            break
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.wait_for_url("**/racks")
    assert len(raw_of(page.path)["room"]["sockets"]) == 2


def test_the_focus_is_not_lost_with_what_was_pressed(there):
    page = there
    page.goto(f"{page.at}/vessels")
    whole(page)
    page.get_by_role("button", name="It is not round").press("Enter")
    page.get_by_text("described in another way").wait_for()
    assert (
        "fields" in page.evaluate("document.activeElement.id")
        or page.evaluate("document.activeElement.tagName") == "BUTTON"
    )
    page.get_by_role("button", name="Remove mint bed").press("Enter")
    page.get_by_text("Removed vessels").wait_for()
    assert page.evaluate("document.activeElement !== document.body")
    page.locator("[id='f/vessels/0/water']").focus()
    hint = page.locator("[id='f/vessels/0/water-help'] .hint")
    assert hint.evaluate("one => getComputedStyle(one).clipPath") == "none"
    page.keyboard.press("Escape")
    assert hint.evaluate("one => getComputedStyle(one).clipPath") != "none"


def test_without_script_plain_forms_do_it(browser, served, folder):
    path = folder / "plain.yaml"
    path.write_bytes(demo_bytes("nursery"))
    page = tab(browser, served, script=False)
    page.goto(f"{served.base}/file/plain.yaml/vessels")
    page.locator("[id='f/vessels/0/water']").fill("8 in")
    page.locator("[id='f/vessels/1/water']").fill("8 inches deep")
    page.get_by_role("button", name="Save this page").click()
    assert page.locator("[id='f/vessels/1/water']").input_value() == "8 inches deep"
    assert "[E-UNIT-001]" in page.locator("[id='f/vessels/1/water-error']").inner_text()
    assert raw_of(path)["vessels"][0]["water"] == "8 in"
    page.get_by_role("button", name="Add a tank").click()
    assert len(raw_of(path)["vessels"]) == 5
    page.goto(f"{served.base}/file/plain.yaml/water?moment=3")
    assert page.locator("#moment").input_value() == "3"
    page.goto(f"{served.base}/file/plain.yaml/fix")
    page.locator("input[name=measure]").first.check()
    page.get_by_role("button", name="Try what is switched on").click()
    assert page.locator("#tried table").count() == 1
    page.context.close()


def test_a_moment_chosen_before_the_script_has_come_is_shown_when_it_has(there):
    page, held = there, []
    page.route("**/page.js", lambda route: held.append(route))
    page.goto(f"{page.at}/water", wait_until="commit")
    page.locator("#moment").focus()
    page.keyboard.press("Home")
    first = json.loads(page.locator("#moment").get_attribute("data-moments"))[0][2]
    assert page.locator("#moment").input_value() == "0"
    assert page.locator("#moment-text").inner_text() != first
    while not held:
        page.wait_for_timeout(20)
    held[0].continue_()
    page.get_by_text(first, exact=True).wait_for()
    page.wait_for_load_state()


def test_a_plan_is_searched_in_the_background_shown_on_the_way_and_stopped(there):
    page = there
    page.goto(f"{page.at}/fix")
    page.get_by_role("button", name="Search for plans").click()
    page.locator("#progress").wait_for()
    until(page, "document.querySelector('label[for=progress]').textContent.includes('by itself')")
    assert page.evaluate("document.getElementById('progress').max") > 1
    page.get_by_role("button", name="Stop").click()
    page.get_by_text(page_words.SEARCH_STOPPED).first.wait_for()
    assert page.locator("#progress").count() == 0


def test_a_plan_of_a_small_installation_goes_into_the_file(browser, served, folder):
    path = folder / "porch.yaml"
    path.write_bytes(demo_bytes("porch"))
    page = tab(browser, served)
    page.goto(f"{served.base}/file/porch.yaml/fix")
    page.get_by_role("button", name="Search for plans").click()
    page.get_by_role("button", name="Put this plan into the file").first.wait_for()
    with page.expect_download() as kept:
        page.get_by_role("link", name="Shopping list").first.click()
    assert "[ ] " in kept.value.path().read_text()
    page.get_by_role("button", name="Put this plan into the file").last.click()
    page.get_by_text("Put into the file:").wait_for()
    assert b"# the building department knows it" in path.read_bytes() and b"anchors" in path.read_bytes()
    assert page.faults == []
    page.context.close()


AXE = files("axe_playwright_python").joinpath("axe.min.js")
RULES = {"runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}


def faults_for_those_who_cannot_see(page):
    """By the checker, put into the page past its policy."""
    if not page.evaluate("typeof window.axe === 'object'"):
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("rules => axe.run({exclude: ['svg']}, rules)", RULES)
    return [(one["id"], one["help"], [node["html"][:200] for node in one["nodes"][:3]]) for one in found["violations"]]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_nothing_stands_in_the_way_of_those_who_cannot_see(browser, served, folder, scheme):
    """Every page in the light; those with most kinds of parts in the dark as well."""
    for name in ("nursery", "porch"):
        (folder / f"axe-{name}-{scheme}.yaml").write_bytes(demo_bytes(name))
    page = tab(browser, served, scheme=scheme)
    assert faults_for_those_who_cannot_see(page) == []
    for step in STEPS if scheme == "light" else ("racks", "water", "fix"):
        name = "nursery" if step in ("racks", "water", "fix") else "porch"
        page.goto(f"{served.base}/file/axe-{name}-{scheme}.yaml/{step}")
        whole(page)
        if step == "racks":
            answer(page, "Bays", "many", "/racks/north")
            page.locator("[id='f/racks/north/bays-error']").get_by_text("E-TYPE").wait_for()
        if step == "fix":
            page.locator("input[name=measure]").first.check()
            page.locator("#tried table").wait_for()
        assert faults_for_those_who_cannot_see(page) == [], step
    page.context.close()


@pytest.mark.parametrize("width", [360, 768, 1280])
def test_no_page_is_wider_than_its_window_and_no_word_is_cut(browser, served, folder, width):
    (folder / f"wide-{width}.yaml").write_bytes(
        demo_bytes("nursery").replace(b"carp tank", b"the very long carp tank beside the window")
    )
    page = tab(browser, served, width=width)
    for step in STEPS:
        page.goto(f"{served.base}/file/wide-{width}.yaml/{step}")
        over = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert over <= 0, (step, over)
        cut = page.evaluate(
            """() => [...document.querySelectorAll('button, .button, label, legend, h1, h2, h3, .headline, .steps a')]
            .filter(one => one.offsetParent && !one.closest('.unseen') && one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflow !== 'visible')
            .map(one => one.textContent.slice(0, 60))"""
        )
        assert cut == [], step
    page.context.close()


def test_what_breaks_off_says_so_and_is_not_waited_for(browser, served, folder):
    """A fault, and a program that has ended: nothing stays 'being worked out' or 'searching'."""
    (folder / "broken.yaml").write_bytes(demo_bytes("nursery"))
    page, at = tab(browser, served), f"{served.base}/file/broken.yaml"
    page.route("**/results?*", lambda route: route.fulfill(status=500, body="a fault of the tests"))
    page.goto(f"{at}/room")
    page.get_by_role("alert").get_by_text("a fault of the tests").wait_for()
    assert page_words.BROKE_OFF in page.locator("#aside").inner_text() and page.locator(".busy").count() == 0
    page.unroute("**/results?*")
    answer(page, "Height of the sill", "4 in")
    whole(page)
    for asked, step, do in (
        ("**/water?run=*", "water", lambda: page.locator("#run").select_option(index=1)),
        ("**/fix", "fix", lambda: page.locator("input[name=measure]").first.check()),
        ("**/search", "fix", lambda: page.get_by_role("button", name="Search for plans").click()),
    ):
        page.goto(f"{at}/{step}")
        page.route(asked, lambda route: route.abort())
        do()
        page.get_by_role("alert").get_by_text(page_words.NO_ANSWER).wait_for()
        assert page.locator(".busy").count() == 0
        page.unroute(asked)
    page.get_by_role("button", name="Stop").click()
    page.get_by_text(page_words.SEARCH_STOPPED).first.wait_for()
    assert [one for one in page.faults if "Failed to load resource" not in one] == []
    page.context.close()


def test_printed_without_buttons_on_white(there):
    page = there
    page.goto(f"{page.at}/vessels")
    whole(page)
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    assert page.locator("button:visible").count() == 0
    assert page.locator(".answer").is_visible()


def test_what_is_typed_while_the_page_is_left_is_not_lost(there):
    page = there
    page.goto(f"{page.at}/room")
    whole(page)
    page.on("dialog", lambda dialog: dialog.accept())
    page.locator("[id='f/room/sill']").fill("6 in")
    page.get_by_role("link", name="Racks", exact=True).click()
    page.wait_for_url("**/racks")
    assert raw_of(page.path)["room"]["sill"] == "6 in"


def test_nothing_is_asked_of_another_host(there, served):
    page, asked = there, []
    page.on("request", lambda request: asked.append(request.url))
    for step in ("place", "vessels", "water"):
        page.goto(f"{page.at}/{step}")
        whole(page)
    assert asked and all(url.startswith(served.base) for url in asked)
    assert json.dumps(page.evaluate("performance.getEntriesByType('resource').map(one => one.name)")).count("http") > 0
