"""Who may ask for what: host, origin, key, size, and no path but the folder's own files."""

import json
import os
import re
import socket
import sys
import time
from contextlib import closing
from http.client import HTTPConnection
from urllib.parse import urlsplit

import pytest

from brimfast.reports.page.guard import HEADERS, MOST_POSTED
from brimfast.reports.page.serve import LOOPBACK, chosen, listener
from brimfast.shared.errors import InputError, OutputError
from tests.browsers import Served
from tests.pages import BASE, hidden, nursery, page_of, typed


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    found = tmp_path_factory.mktemp("folder")
    nursery(found)
    return found


@pytest.fixture(scope="module")
def client(folder):
    with page_of(folder) as found:
        yield found


PATHS = ["/", "/file/n.yaml/place", "/file/n.yaml/take/file", "/static/page.css", "/nothing"]


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:9", "evil.example:8123", "", "127.0.0.1:8123.evil.example"]
)
def test_another_host_gets_nothing(client, path, host):
    answer = client.get(path, headers={"host": host})
    assert answer.status_code == 421
    assert "Tern Point" not in answer.text


@pytest.mark.parametrize(
    "origin", ["http://evil.example", "null", "http://127.0.0.1:9", "https://127.0.0.1:8123", f"{BASE}.evil.example"]
)
def test_another_origin_can_neither_read_nor_write(client, folder, origin):
    before = (folder / "n.yaml").read_bytes()
    carried = hidden(client, "room")
    headers = {"origin": origin, "accept": "application/json"}
    answer = client.post("/file/n.yaml/room", data={**carried, "/room/sill": "9 in"}, headers=headers)
    assert answer.status_code == 403
    assert client.get("/file/n.yaml/take/file", headers=headers).status_code == 403
    assert (folder / "n.yaml").read_bytes() == before


def test_a_post_that_says_no_origin_is_refused(client):
    carried = hidden(client, "room")
    del client.headers["origin"]
    try:
        assert client.post("/file/n.yaml/room", data={**carried, "/room/sill": "9 in"}).status_code == 403
    finally:
        client.headers["origin"] = BASE


@pytest.fixture(scope="module")
def stranger(folder):
    with page_of(folder, known=False) as found:
        yield found


@pytest.mark.parametrize("path", PATHS)
@pytest.mark.parametrize("cookie", [None, "", "x" * 40, "$$;=,\\"])
def test_without_the_key_nothing_is_shown(stranger, path, cookie):
    headers = {} if cookie is None else {"cookie": f"brimfast-8123={cookie}"}
    for query in ("", "?key=", "?key=00", f"?other=1&key={stranger.keys.address}", f"?key={stranger.keys.kept}"):
        answer = stranger.get(path + query, headers=headers)
        assert answer.status_code == 403
        assert stranger.keys.kept not in answer.text


@pytest.mark.parametrize("other", ["version=2", "flag", 'a={"x":1}', "ä=ö", '"', "=", "x=" + "y" * 4000])
def test_cookies_of_other_programs_of_this_machine_lock_nobody_out(stranger, other):
    for cookie, status in (
        (f"{other}; brimfast-8123={stranger.keys.kept}", 200),
        (f"brimfast-8123={stranger.keys.kept}; {other}", 200),
        (other, 403),
        (f"{other}; brimfast-8124={stranger.keys.kept}", 403),
    ):
        assert stranger.get("/", headers={"cookie": cookie.encode()}).status_code == status


def test_the_key_that_the_browser_is_begun_with_is_good_once(folder):
    with page_of(folder, known=False) as first:
        assert first.get(f"/?key={first.keys.once}").status_code == 303
        assert first.get("/").status_code == 200
        first.cookies.clear()
        for _ in range(2):
            assert first.get(f"/?key={first.keys.once}").status_code == 403
            assert first.get("/?key=").status_code == 403
        for _ in range(2):
            assert first.get(f"/?key={first.keys.address}").status_code == 303
            first.cookies.clear()


BROWSER = """
import http.cookiejar, sys, urllib.request
opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
with opener.open(sys.argv[1], timeout=60) as answer, open(__file__ + ".said", "w") as said:
    said.write(f"{answer.status} {sys.argv[1]}\\n")
"""


def status_of(address):
    asked = urlsplit(address)
    with closing(HTTPConnection(asked.netloc, timeout=20)) as connection:
        connection.request("GET", f"{asked.path}?{asked.query}")
        return connection.getresponse().status


def test_a_browser_of_the_terminal_finds_the_page_served(tmp_path):
    """It is waited for until it is left; what it was begun with opens nothing more."""
    path, script, said = nursery(tmp_path), tmp_path / "browser.py", tmp_path / "browser.py.said"
    script.write_text(BROWSER)
    with Served(path, browser=f"{sys.executable} {script} %s") as served:
        for _ in range(600):
            if said.exists() and said.read_text().endswith("\n"):
                break
            time.sleep(0.05)
        status, given = said.read_text().split()
        assert status == "200" and given.partition("?")[0] == served.address.partition("?")[0] != given
        assert given != served.address and status_of(given) == 403
        assert status_of(served.address) == 303
        assert served.end() == ""


def test_the_printed_key_opens_and_leaves_the_address(folder):
    with page_of(folder, known=False) as stranger:
        answer = stranger.get(f"/file/n.yaml/place?key={stranger.keys.address}")
        assert answer.status_code == 303 and answer.headers["location"] == "/file/n.yaml/place"
        cookie = answer.headers["set-cookie"].lower()
        assert "httponly" in cookie and "samesite=strict" in cookie and stranger.keys.address not in cookie
        assert stranger.get("/file/n.yaml/place").status_code == 200
        away = stranger.get(f"//evil.example/x?key={stranger.keys.address}")
        assert not away.headers.get("location", "/").startswith("//")


@pytest.mark.parametrize("key", ["", "x", None])
def test_a_form_without_its_own_key_changes_nothing(client, folder, key):
    """The cookie alone is not enough: other servers of this machine are sent it too."""
    before = (folder / "n.yaml").read_bytes()
    carried = hidden(client, "room")
    carried = {name: value for name, value in carried.items() if name != "form_key"}
    data = carried if key is None else {**carried, "form_key": key}
    for path in ("/file/n.yaml/room", "/file/n.yaml/fix", "/file/n.yaml/text", "/"):
        answer = client.post(path, data={**data, "/room/sill": "9 in", "text": "a: b", "how": "demo", "demo": "porch"})
        assert answer.status_code == 403
    assert (folder / "n.yaml").read_bytes() == before
    assert not (folder / "porch.yaml").exists()


@pytest.mark.parametrize("path", [*PATHS, "/file/n.yaml/text", "/file/n.yaml/water", "/file/absent.yaml/place"])
def test_every_answer_forbids_what_is_not_our_own(client, path):
    answer = client.get(path)
    for name, value in HEADERS.items():
        assert answer.headers[name] == value
    policy = answer.headers["content-security-policy"]
    assert "default-src 'none'" in policy and "unsafe" not in policy and "*" not in policy and "data:" not in policy


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/file/n.yaml/place",
        "/file/n.yaml/racks",
        "/file/n.yaml/water",
        "/file/n.yaml/fix",
        "/file/n.yaml/text",
        "/file/n.yaml/take",
    ],
)
def test_pages_keep_the_policy(client, path):
    """No script, style or address in the page that the policy would stop."""
    text = client.get(path).text
    assert " style=" not in text and "<style" not in text and "javascript:" not in text
    assert text.count("<script") == 1 and re.findall(r"<[^>]*\son\w+\s*=", text) == []
    for scheme in ("http://", "https://", "//"):
        assert f'src="{scheme}' not in text and f'href="{scheme}' not in text and f'action="{scheme}' not in text


TRAVERSALS = [
    "../outside.yaml", "..%2Foutside.yaml", "%2e%2e%2foutside.yaml", "..%5Coutside.yaml", "%2Fetc%2Fpasswd", "/etc/passwd",
    "sub%2Fin.yaml", ".n.yaml.typed", ".hidden.yaml", "n.yaml%00", "link.yaml", "pipe.yaml", "folder.yaml", "n.txt", "x" * 300 + ".yaml",
]  # fmt: skip


@pytest.fixture(scope="module")
def around(tmp_path_factory):
    """A client of the page of a folder with all that must not be reached from it."""
    there = tmp_path_factory.mktemp("around")
    root, outside = there / "root", there / "outside.yaml"
    (root / "sub").mkdir(parents=True)
    nursery(root)
    for path in (outside, root / "sub" / "in.yaml", root / ".hidden.yaml", root / "n.txt"):
        path.write_text("installation: secret of elsewhere\n")
    (root / "link.yaml").symlink_to(outside)
    (root / "folder.yaml").mkdir()
    os.mkfifo(root / "pipe.yaml")
    with page_of(root) as client:
        yield client, root, outside


@pytest.mark.parametrize("name", TRAVERSALS)
def test_no_path_but_the_folder_s_own_files(around, name):
    client, root, outside = around
    before = outside.read_bytes()
    carried = hidden(client, "room")
    for step in ("place", "text", "take/file", "take/report.html"):
        answer = client.get(f"/file/{name}/{step}")
        assert answer.status_code in (400, 403, 404), answer.status_code
        assert "secret of elsewhere" not in answer.text and "root:" not in answer.text
    for step in ("text", "room"):
        answer = client.post(
            f"/file/{name}/{step}", data={**carried, "text": "installation: x\n", "/room/sill": "9 in"}
        )
        assert answer.status_code in (400, 403, 404, 405)
    listed = client.get("/").text
    assert re.findall(r'href="/file/([^"]+)/place"', listed) == ["n.yaml"]
    assert outside.read_bytes() == before
    assert sorted(path.name for path in root.iterdir()) == sorted(
        ["sub", "n.yaml", ".hidden.yaml", "n.txt", "link.yaml", "folder.yaml", "pipe.yaml"]
    )


def test_what_is_typed_is_not_written_through_a_link(tmp_path):
    root, outside = tmp_path / "root", tmp_path / "outside"
    root.mkdir()
    outside.write_text("kept")
    nursery(root)
    (root / ".n.yaml.typed").symlink_to(outside)
    with page_of(root) as client:
        answer = typed(client, "room", {"/room/sill": "nine"})
        assert answer.status_code == 400 and "E-FILE-003" in answer.text
    assert outside.read_text() == "kept"


@pytest.mark.parametrize("said", [True, False])
def test_more_than_an_installation_needs_is_refused(client, said):
    carried = hidden(client, "text")
    body = b"form_key=" + carried["form_key"].encode() + b"&text=" + b"a" * (MOST_POSTED + 1)

    def pieces():
        for start in range(0, len(body), 65536):
            yield body[start : start + 65536]

    kind = {"content-type": "application/x-www-form-urlencoded"}
    content = body if said else pieces()
    assert client.post("/file/n.yaml/text", content=content, headers=kind).status_code == 413


@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_other_methods_are_refused(client, method):
    assert client.request(method, "/file/n.yaml/place").status_code == 405


BOMBS = {
    "aliases": b"a: &a [x,x,x,x,x,x,x,x,x]\nb: &b [*a,*a,*a,*a,*a,*a]\nc: [*b,*b,*b,*b,*b]\n",
    "depth": b"a: " + b"[" * 4000 + b"]" * 4000,
    "many values": b"a: [" + b"x, " * 30000 + b"x]",
    "a tag": b"installation: !!python/object/apply:os.system ['true']\n",
    "a huge number": b"a: " + b"9" * 5000,
    "binary": bytes(range(256)),
}


@pytest.mark.parametrize("name", BOMBS)
def test_bombs_are_refused_in_a_line_and_harm_nothing(tmp_path, name):
    nursery(tmp_path)
    with page_of(tmp_path) as client:
        carried = hidden(client, "text")
        before = (tmp_path / "n.yaml").read_bytes()
        text = BOMBS[name].decode("latin-1")
        answer = client.post(
            "/file/n.yaml/text", data={**carried, "text": text}, headers={"accept": "application/json"}
        )
        assert answer.status_code == 200 and "[E-" in answer.json()["alert"]
        assert (tmp_path / "n.yaml").read_bytes() == before
        files = {"file": ("bomb.yaml", BOMBS[name], "application/yaml")}
        answer = client.post("/", data={"form_key": carried["form_key"], "how": "file"}, files=files)
        if answer.status_code == 303:
            shown = client.get(answer.headers["location"])
            assert shown.status_code == 200 and "[E-" in shown.text
        else:
            assert answer.status_code == 422 and "[E-" in answer.text


@pytest.mark.parametrize(
    "data",
    [
        b"[" * 100000,
        b'{"values": []}',
        b'{"values": {"/x": 3, "/room/sill": "9 in"}, "of": 4, "text": []}',
        b"\xff\xfe",
    ],
)
def test_a_spoilt_note_of_what_was_typed_counts_as_none(tmp_path, data):
    nursery(tmp_path)
    (tmp_path / ".n.yaml.typed").write_bytes(data)
    with page_of(tmp_path) as client:
        assert client.get("/file/n.yaml/room").status_code == 200


EVIL = [
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "{{ 7*7 }}",
    "</textarea><b>",
    "' onfocus='alert(1)",
]


@pytest.mark.parametrize("evil", EVIL)
def test_names_are_text_and_nothing_else(tmp_path, evil):
    """In the form, the drawings, the results, the text, the answers of scripts."""
    path = nursery(tmp_path)
    quoted = json.dumps(evil, ensure_ascii=False)
    told = path.read_text()
    for key in ("name", "from", "to"):
        assert f"{key}: carp tank" in told
        told = told.replace(f"{key}: carp tank", f"{key}: {quoted}")
    path.write_text(told.replace("Tern Point watercress shed", quoted))
    assert "carp tank" not in told
    with page_of(tmp_path) as client:
        for step in ("place", "vessels", "flow", "water", "fix", "take", "text"):
            text = client.get(f"/file/n.yaml/{step}").text
            assert "<script>" not in text and "<img" not in text and "onfocus='" not in text.replace("&#39;", "")
            assert "</textarea><b>" not in text
        answer = typed(client, "vessels", {"/vessels/2/water": "28 in"}).json()
        assert "<script>" not in answer["fragments"]["aside"] and "<img" not in answer["fragments"]["aside"]
        bad = typed(client, "vessels", {"/vessels/2/water": evil}, script=False)
        shown = client.get(bad.headers["location"]).text
        assert "<script>" not in shown and "<img" not in shown


def test_it_listens_on_loopback_alone_and_says_when_it_can_not():
    listening = listener(0)
    try:
        host, port = listening.getsockname()
        assert host == LOOPBACK == "127.0.0.1"
        socket.create_connection((host, port), 5).close()  # it can be opened as soon as its address is known
        with pytest.raises(OutputError) as caught:
            listener(port)
        assert caught.value.problems[0].code == "E-PAGE-001"
    finally:
        listening.close()


def test_a_folder_or_a_file_of_it_is_chosen(tmp_path):
    path = nursery(tmp_path)
    assert chosen(tmp_path) == (tmp_path, "")
    assert chosen(path) == (tmp_path.resolve(), "n.yaml")
    (tmp_path / "n.txt").write_text("")
    for wrong in (tmp_path / "absent", tmp_path / "n.txt"):
        with pytest.raises(InputError):
            chosen(wrong)
