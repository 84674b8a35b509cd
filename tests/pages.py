"""The page asked without a browser."""

import re
from contextlib import contextmanager
from html import unescape

from starlette.testclient import TestClient

from brimfast.reports.page.app import application
from brimfast.reports.page.guard import Keys
from brimfast.shared.demo import demo_bytes

HOST = "127.0.0.1:8123"
BASE = f"http://{HOST}"
HOSTS = frozenset({HOST, "localhost:8123"})


@contextmanager
def page_of(folder, known=True):
    """A client of the page of a folder; known: it has been given the key. Water runs in this process."""
    keys = Keys(b"a secret of the tests")
    guard = application(folder, keys, HOSTS, processes=0)
    with TestClient(guard, base_url=BASE, follow_redirects=False) as client:
        client.keys = keys
        client.headers["origin"] = BASE
        if known:
            assert client.get("/", params={"key": keys.address}).status_code == 303
        yield client
    guard.app.state.shared.end()


def nursery(folder, name="n.yaml"):
    path = folder / name
    path.write_bytes(demo_bytes("nursery"))
    return path


def hidden(client, step, name="n.yaml"):
    """What the form of a step carries along."""
    text = client.get(f"/file/{name}/{step}").text
    return dict(re.findall(r'<input type="hidden" name="(form_key|revision|shape)" value="([^"]*)"', text))


def typed(client, step, values, name="n.yaml", script=True, carried=None, **more):
    """A step posted with these answers."""
    data = {**(carried or hidden(client, step, name)), **values, **more}
    accept = {"accept": "application/json"} if script else {}
    return client.post(f"/file/{name}/{step}", data=data, headers=accept)


def value_of(page, pointer):
    """What a field of a page says."""
    at = page.index(f'name="{pointer}"')
    found = re.search(r'value="([^"]*)"', page[at:])
    return unescape(found[1])


def errors_of(page, pointer):
    at = page.index(f'id="f{pointer}-error"')
    inside = page[at : page.index("</p>", at)].partition(">")[2]
    return unescape(re.sub(r"<[^>]+>", "", inside)).strip()
