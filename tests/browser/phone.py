"""A real browser of a phone's size, without a screen, driven by its local driver: nothing is downloaded.

Debian's chromium and chromium-driver and the extra `browser` bring it (`sh .ci/setup browser`); where one of
them is absent the tests of this folder are skipped and say so.
"""

from __future__ import annotations

import importlib.util
import json
import os
import shutil
from pathlib import Path

from core.base.times import parse_iso
from core.export.pocket.page import pocket_page

DRIVER = shutil.which("chromedriver")
BROWSER = shutil.which("chromium")

VIEWS = ("now", "log", "cards", "plan-view")
SCHEMES = ("light", "dusk")
#: Small, usual and large phones, and one on its side.
SIZES = ((320, 640), (360, 740), (412, 915), (740, 360))


def absent() -> str:
    """What is missing, in words; empty where all is there."""
    missing = [
        name
        for name, there in (
            ("chromium", BROWSER),
            ("chromedriver", DRIVER),
            ("selenium", importlib.util.find_spec("selenium")),
        )
        if not there
    ]
    return f"not installed: {', '.join(missing)}; sh .ci/setup browser" if missing else ""


def opened(downloads: Path):
    """A session; what a page saves goes into the folder."""
    from selenium import webdriver
    from selenium.webdriver.chrome.service import Service

    options = webdriver.ChromeOptions()
    options.binary_location = BROWSER
    words = ["--headless=new", "--disable-gpu", "--hide-scrollbars", "--disable-dev-shm-usage"]
    words += ["--disable-background-networking", "--no-first-run", "--disable-extensions"]
    words += ["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []
    for word in words:
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(executable_path=DRIVER))
    driver.execute_cdp_cmd(
        "Browser.setDownloadBehavior", {"behavior": "allow", "downloadPath": str(downloads)}
    )
    driver.downloads = downloads
    return driver


class PocketPage:
    """The pocket page on a phone."""

    def __init__(self, driver, path: Path, content=None) -> None:
        self.driver, self.content, self.url = driver, content, path.as_uri()
        self._clock = None

    @classmethod
    def of(cls, driver, content, folder: Path):
        """The page of a sheet's content, written to a file."""
        path = folder / "evening.html"
        path.write_text(pocket_page(content), encoding="utf-8")
        return cls(driver, path, content)

    def open(self, size=(360, 740), address="", clock=None):
        """Anew and with nothing kept, at this size; ``clock`` is where the phone's clock stands."""
        self.reopen(size, address, clock)
        if self.run("const kept = localStorage.length + sessionStorage.length;"
                    "localStorage.clear(); sessionStorage.clear(); return kept;"):  # fmt: skip
            self.reopen(size, address, clock)
        return self

    def reopen(self, size=(360, 740), address="", clock=None):
        """Anew, with what is kept on the phone."""
        self._tell("Emulation.setDeviceMetricsOverride", width=size[0], height=size[1], deviceScaleFactor=1,
                   mobile=True)  # fmt: skip
        if self._clock is not None:
            self._tell("Page.removeScriptToEvaluateOnNewDocument", identifier=self._clock)
            self._clock = None
        if clock is not None:
            source = f"window.standing_ms = {parse_iso(clock) * 1000.0}; Date.now = () => window.standing_ms;"
            told = self._tell("Page.addScriptToEvaluateOnNewDocument", source=source)
            self._clock = told["identifier"]
        self.driver.get("about:blank")
        self.driver.get(self.url + (f"#{address}" if address else ""))
        return self

    def _tell(self, command, **arguments):
        return self.driver.execute_cdp_cmd(command, arguments)

    def run(self, script, *arguments):
        """What a script in the page returns."""
        return self.driver.execute_script(script, *arguments)

    def text(self, name):
        """What an element shows; empty where it is not shown."""
        script = (
            "const e = document.getElementById(arguments[0]); return e.checkVisibility() ? e.innerText : '';"
        )
        return self.run(script, name).strip()

    def texts(self, *names):
        """What several elements show."""
        script = (
            "return arguments[0].map((name) => document.getElementById(name))"
            ".map((e) => e.checkVisibility() ? e.innerText.trim() : '');"
        )
        return self.run(script, names)

    def rehearse(self, iso):
        """The page in a rehearsal that stands at this moment."""
        self.run(
            "history.replaceState(null, '', '#at=' + arguments[0]);"
            "window.dispatchEvent(new HashChangeEvent('hashchange'));",
            iso,
        )

    @property
    def state(self):
        """Where in the evening the page believes to be."""
        return self.run("return document.documentElement.dataset.state")

    def element(self, name):
        """To type into."""
        return self.driver.find_element("id", name)

    def click(self, selector):
        """A touch, where nothing lies over it."""
        found = self.driver.find_element("css selector", selector)
        self.run("arguments[0].scrollIntoView({block: 'center'});", found)
        found.click()

    def view(self, name):
        """Another of the four views, by its button."""
        self.click(f"[data-to={name}]")

    def scheme(self, name):
        """Other colours, by their button."""
        self.view("plan-view")
        self.click(f"input[name=scheme][value={name}]")

    def unfold(self):
        """Every card, open."""
        self.run("document.querySelectorAll('.card:not(.open) h3 button').forEach((b) => b.click());")

    def requests(self):
        """Addresses asked for since the last look."""
        events = (json.loads(one["message"])["message"] for one in self.driver.get_log("performance"))
        return [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]

    def complaints(self):
        """What the console was told since the last look."""
        return [one["message"] for one in self.driver.get_log("browser")]

    def nodes(self):
        """(role, name) of everything that is read aloud."""
        tree = self._tell("Accessibility.getFullAXTree")["nodes"]
        seen = [node for node in tree if not node["ignored"]]
        return [
            (node["role"]["value"], node.get("name", {}).get("value", "").strip())
            for node in seen
            if "role" in node
        ]

    def pdf(self):
        """The page as it is printed, base64."""
        return self._tell("Page.printToPDF", printBackground=True)["data"]

    def media(self, name):
        """As the page is laid out for paper ("print"), or for the screen again ("")."""
        self._tell("Emulation.setEmulatedMedia", media=name)

    def scripts(self, allowed):
        """Whether scripts run from the next opening on."""
        self._tell("Emulation.setScriptExecutionDisabled", value=not allowed)
