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

DRIVER = shutil.which("chromedriver")
BROWSER = shutil.which("chromium")


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


def opened(folder: Path):
    """A session; files that the page saves go into the folder."""
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
    options.add_experimental_option("prefs", {"download.default_directory": str(folder)})
    return webdriver.Chrome(options=options, service=Service(executable_path=DRIVER))


class PocketPage:
    """The pocket page on a phone."""

    def __init__(self, driver, path: Path) -> None:
        self.driver, self.url = driver, path.as_uri()

    def open(self, width=360, height=740, address=""):
        """Anew, at this size, at this address behind the `#`."""
        self.driver.execute_cdp_cmd(
            "Emulation.setDeviceMetricsOverride",
            {"width": width, "height": height, "deviceScaleFactor": 2, "mobile": True},
        )
        self.driver.get("about:blank")
        self.driver.get(self.url + (f"#{address}" if address else ""))
        return self

    def run(self, script, *arguments):
        """What a script in the page returns."""
        return self.driver.execute_script(script, *arguments)

    def text(self, name):
        """What an element shows; empty where it is not shown."""
        return self.run("const e = document.getElementById(arguments[0]); return e.innerText;", name)

    def at(self, iso):
        """The page in a rehearsal that stands at this moment."""
        self.run("window.location.hash = 'at=' + arguments[0];", iso)
        self.run("window.dispatchEvent(new HashChangeEvent('hashchange'));")

    def touch(self, name):
        self.run("document.getElementById(arguments[0]).click();", name)

    def requests(self):
        """Addresses asked for since the last look."""
        events = (json.loads(one["message"])["message"] for one in self.driver.get_log("performance"))
        return [e["params"]["request"]["url"] for e in events if e["method"] == "Network.requestWillBeSent"]

    def complaints(self):
        """What the console was told since the last look."""
        return [one["message"] for one in self.driver.get_log("browser")]
