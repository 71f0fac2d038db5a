"""Pages of invented evenings, and what a reader of HTML finds in them."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from html.parser import HTMLParser

from core.export.pocket.page import pocket_page
from core.sheet.content import sheet_content
from tests.core.sheet.samples import EVERY_KIND, MADE_S, Wanted, evening

#: Elements that have no end.
VOID = frozenset({"meta", "link", "br", "input"})

#: What a plan's words may try: an end of the script, an attribute, markup, a turned direction, sheer length.
HOSTILE = (
    '</script><script>document.title="taken"</script>',
    '"><img src=x onerror="document.title=\'taken\'">',
    "'; document.title='taken'; //",
    "<!--<script>{{cards}}{{script}}",
    "\u202eegap eht nrut\u202c \u2028 \u2029 \u0000",
    "&lt;b&gt; &amp; <svg onload=alert(1)>",
    "W" * 120,
    "${document.title='taken'} `` \\u003c",
)


def hostile_evening():
    """A plan and result whose every free text is hostile."""
    wanted = tuple(
        Wanted(one.word, name, one.after_s, one.peak_deg, one.heading_deg, one.height_km, one.resting)
        for one, name in zip(EVERY_KIND, HOSTILE, strict=True)
    )
    return evening(wanted, title=HOSTILE[0] + HOSTILE[1], site_name=HOSTILE[0])


def crowded_evening(contacts=20):
    """An evening of so many contacts, one of every kind after the other."""
    wanted = [
        Wanted(
            one.word,
            f"INVENTED-{i + 1}",
            900.0 + 1800.0 * i,
            one.peak_deg,
            one.heading_deg,
            one.height_km,
            one.resting,
            one.notch,
        )
        for i, one in ((i, EVERY_KIND[i % 5]) for i in range(contacts))
    ]
    hours = ("2024-11-01T17:00:00Z", "2024-11-02T04:00:00Z")
    return evening(tuple(wanted), title="Twenty in a night", hours=hours)


def content_of(made):
    """The sheet's content of a plan and its result."""
    return sheet_content(*made, MADE_S)


def page_of(made):
    return pocket_page(content_of(made))


@dataclass
class Found:
    """What is in a page: elements with their attributes, texts by the element they stand in."""

    elements: list = field(default_factory=list)
    texts: dict = field(default_factory=dict)

    def attributes(self):
        return [(tag, name, value or "") for tag, pairs in self.elements for name, value in pairs]

    def of(self, tag):
        return self.texts.get(tag, [])

    @property
    def plan(self):
        """The document for the clock."""
        return json.loads(self.of("script")[0])


class _Reader(HTMLParser):
    def __init__(self):
        super().__init__()
        self.found, self.open = Found(), []

    def handle_starttag(self, tag, attrs):
        self.found.elements.append((tag, attrs))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag, attrs):
        self.found.elements.append((tag, attrs))

    def handle_endtag(self, tag):
        assert self.open, f"</{tag}> ends nothing"
        assert self.open[-1] == tag, f"</{tag}> ends <{self.open[-1]}>, line {self.getpos()[0]}"
        self.open.pop()

    def handle_data(self, data):
        if self.open and data.strip():
            self.found.texts.setdefault(self.open[-1], []).append(data)


def read(page):
    """The page's elements and texts; an element that is not closed in its turn fails."""
    reader = _Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader.found
