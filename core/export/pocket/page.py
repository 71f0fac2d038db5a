"""The pocket page: one file, nothing loaded, no figure made on the phone but the clock's."""

from __future__ import annotations

import base64
import hashlib
import re
from html import escape

from core.export.pocket.data import page_json
from core.export.pocket.tables import (
    cards_html,
    cautions_html,
    foot_html,
    how_read_html,
    told_html,
    warnings_html,
)
from core.sheet.content import SheetContent
from resources import bundled

#: In this order, as one script.
_SCRIPTS = ("clock.js", "moment.js", "hand.js", "views.js", "log.js", "awake.js", "start.js")

_PLACE = re.compile(r"\{\{(\w+)\}\}")


def pocket_page(content: SheetContent) -> str:
    """The page of a sheet's content as HTML.

    All texts stand in it escaped, tables as elements, and what the clock needs as JSON in an element that is
    never run; a policy in its head lets only its own script and style run, and nothing be loaded.
    """
    style, script = _resource("pocket.css") + _paper(content), _script()
    parts = {
        "title": escape(content.title),
        "kind": escape(content.kind),
        "policy": _policy(script, style),
        "style": style,
        "script": script,
        "plan": page_json(content),
        "hours": escape(content.hours),
        "site": escape(content.site),
        "warnings": warnings_html(content),
        "told": told_html(content),
        "how_read": how_read_html(content),
        "cards": cards_html(content),
        "cautions": cautions_html(),
        "foot": foot_html(content),
    }
    # In one go: what comes out of the plan is never read as a place to fill in.
    return _PLACE.sub(lambda place: parts[place[1]], _resource("page.html"))


def _paper(content: SheetContent) -> str:
    """What stands at the foot of every page that is printed."""
    foot = f"Plan {content.identity}, made {content.made}; UTC and local time {content.time_zone}; page "
    return (
        "@page { margin: 12mm 12mm 16mm; @bottom-left { font: 9pt sans-serif; "
        f'content: "{_css_words(foot)}" counter(page) " of " counter(pages); }} }}\n'
    )


def _css_words(text: str) -> str:
    """Inside quotation marks of a style; all but ASCII letters, figures and spaces by number."""
    plain = frozenset("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789 ")
    return "".join(mark if mark in plain else f"\\{ord(mark):x} " for mark in text)


def _policy(script: str, style: str) -> str:
    return (
        f"default-src 'none'; script-src '{_hash(script)}'; style-src '{_hash(style)}'; "
        "img-src data:; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    digest = hashlib.sha256(text.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"


def _script() -> str:
    body = "\n".join(_resource(name) for name in _SCRIPTS)
    return f'"use strict";\n(() => {{\n{body}}})();\n'


def _resource(name: str) -> str:
    return bundled("pocket", name).read_text(encoding="utf-8")
