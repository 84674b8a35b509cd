"""A real browser without a screen, and the page served to it by the very command that a user types."""

import os
import re
import shutil
import subprocess
import sys
import threading
from contextlib import contextmanager

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome-stable", "google-chrome")
PATIENCE = 30_000  # ms: how long the browser waits for what must come


def browser_path():
    """Skips where there is no browser; where everything is to be tested that is a failure."""
    found = next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        why = f"no browser: none of {', '.join(NAMES)} is on the path"
        if os.environ.get("CI", "").casefold() in ("1", "true", "yes"):
            pytest.fail(why)
        pytest.skip(why)
    return found


@contextmanager
def launched():
    from playwright.sync_api import sync_playwright

    path = browser_path()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-gpu"])
        try:
            yield browser
        finally:
            browser.close()


class Served:
    """`brimfast page` of a folder, as a program of its own."""

    def __init__(self, folder, port=0, browser=""):
        """browser: a command line that is opened on the address, as the user's own would be."""
        command = [sys.executable, "-m", "brimfast", "page", str(folder), "--port", str(port)]
        self.program = subprocess.Popen(
            command if browser else [*command, "--no-browser"],
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "BROWSER": browser} if browser else None,
        )
        self.said = []
        self.address = ""
        for line in self.program.stdout:
            self.said.append(line)
            found = re.match(r"http://127\.0\.0\.1:(\d+)/\S*", line)
            if found:
                self.address, self.port = line.strip(), int(found[1])
                break
        if not self.address:
            self.program.kill()
            raise AssertionError("".join(self.said))
        self.base = f"http://127.0.0.1:{self.port}"
        self._rest = threading.Thread(target=self._read, daemon=True)
        self._rest.start()

    def _read(self):
        self.said += list(self.program.stdout)

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.program.poll() is None:
            self.end(kill=True)

    def end(self, kill=False):
        """What it said besides the address."""
        (self.program.kill if kill else self.program.terminate)()
        self.program.wait(20)
        self._rest.join(20)
        self.program.stdout.close()
        return "".join(self.said[2:])


def tab(browser, served, width=1280, height=900, scheme="light", script=True):
    """A tab of a browser of its own that has opened the printed address; what goes wrong in it is an error."""
    context = browser.new_context(
        viewport={"width": width, "height": height},
        color_scheme=scheme,
        java_script_enabled=script,
        accept_downloads=True,
    )
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    page.faults = []
    watch(page)
    page.goto(served.address)
    return page


def follow(page, name):
    """Follows a link and waits until the page's own script has run there."""
    with page.expect_navigation():
        page.get_by_role("link", name=name, exact=True).click()


def until(page, what):
    """Waits for a condition of the page, written in its own language; its policy forbids what the driver has for that."""
    for _ in range(PATIENCE // 50):
        if page.evaluate(what):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never came: {what}")


def watch(page):
    if not hasattr(page, "faults"):
        page.faults = []
    page.on("pageerror", lambda error: page.faults.append(str(error)))
    page.on("console", lambda said: page.faults.append(said.text) if said.type in ("error", "warning") else None)
