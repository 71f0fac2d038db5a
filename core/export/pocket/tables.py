"""The cards of the page as plain tables: all that is there without a script, and all that is printed."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from core.base.drawing_svg import svg_of
from core.export.pocket.pictures import lighter, sky_pictures
from core.sheet.content import SheetContent
from core.sheet.dials import PrintedDial
from core.sheet.hand.line import HandLine
from core.sheet.pass_card import PassCard
from core.sheet.set_up.advice import CAUTIONS, DEFER

_HEADS = ("UTC", "AZ", "EL", "turn")
#: A note of so many characters stands beside the dials on a narrow phone.
_BESIDE = 4


def cards_html(content: SheetContent) -> str:
    """Every contact's card, in order."""
    if not content.cards:
        return "<p>No contacts this evening.</p>"
    pictures = sky_pictures([card.polar for card in content.cards])
    cards = (_card(card, plot) for card, plot in zip(content.cards, pictures.plots, strict=True))
    return pictures.shared + "".join(cards)


def told_html(content: SheetContent) -> str:
    """What is said of the evening as a whole: picks that match nothing, where to stow and the set-up is."""
    return _paragraphs((*content.evening.told, content.set_up_elsewhere))


def cautions_html() -> str:
    """What comes before this page, and the cautions of the set-up card."""
    lines = "".join(f"<li><b>{escape(what)}.</b> {escape(words)}</li>" for what, words in CAUTIONS)
    return f"<p><b>{escape(DEFER)}</b></p><ul>{lines}</ul>"


def warnings_html(content: SheetContent) -> str:
    """What must not be missed."""
    return "".join(f"<p class=warning>{escape(text)}</p>" for text in content.warnings)


def foot_html(content: SheetContent) -> str:
    """The sheet's foot: plan, making time, elements, seat, zone."""
    return (
        f"<p><b>Plan {escape(content.identity)}</b>, made {escape(content.made)}, "
        f"{escape(content.elements)}</p>"
        f"<p>{escape(content.seat)}; UTC and local time {escape(content.time_zone)}</p>"
    )


def how_read_html(content: SheetContent) -> str:
    """How the lines are made and read."""
    return _paragraphs([content.how_read])


def _card(card: PassCard, plot: str) -> str:
    name = f"card-{card.number}"
    table = _table(card.lines) if card.lines else ""
    start = (
        f"<p class=start>start AZ {_dial(card.start_azimuth)} EL {_dial(card.start_elevation)}</p>"
        if card.start_azimuth.figure
        else ""
    )
    way = f"{card.posture}, azimuth {card.turn}" if card.posture else ""
    before = f"<p class={'warning' if card.late else 'before'}>{escape(card.before)}</p>"
    return (
        f"<section class=card id={name} aria-labelledby={name}-head><h3 id={name}-head>"
        f"{card.number} of {card.of}: {escape(card.satellite)}</h3>"
        f"<p class=spans>{svg_of(lighter(card.mark), '')} <b>{escape(card.verdict)}</b><br>"
        f"<b>{escape(card.utc)} UTC</b><br>{escape(card.local)} local</p>{start}<div class=inside>"
        f"{before}{_paragraphs((way, card.peak, card.light, *card.radio))}{table}"
        f"<p><b>{escape(card.after)}</b></p>{_paragraphs(card.below)}"
        f"<p>Catalogue number {escape(card.norad_id)}</p>{plot}</div></section>"
    )


def _table(lines: Iterable[HandLine]) -> str:
    heads = "".join(f"<th scope=col>{head}</th>" for head in _HEADS)
    rows = "".join(_row(line) for line in lines)
    return f"<table><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _row(line: HandLine) -> str:
    """One line; its kind is told in the note's words and by the row's look. A long note has a row below."""
    note = f"<b>{escape(line.note)}</b>" if line.strong else escape(line.note)
    kind = "" if line.kind == "set" else line.kind
    cells = f"<td>{line.utc}</td><td>{_cell(line.azimuth)}</td><td>{_cell(line.elevation)}</td>"
    if len(line.note) <= _BESIDE:
        words = ", ".join(text for text in (line.turn, note) if text)
        return f"<tr{_class(kind)}>{cells}<td>{words}</td></tr>"
    return (
        f"<tr{_class(kind, 'over')}>{cells}<td>{line.turn}</td></tr>"
        f"<tr{_class(kind, 'note')}><td colspan=4>{note}</td></tr>"
    )


def _class(*names: str) -> str:
    told = " ".join(name for name in names if name)
    return f' class="{told}"' if told else ""


def _cell(dial: PrintedDial) -> str:
    round_ = f"<i>{escape(dial.time_round)}</i>" if dial.time_round else ""
    return f"{escape(dial.figure)}{round_}"


def _dial(dial: PrintedDial) -> str:
    round_ = f" <small>({escape(dial.time_round)})</small>" if dial.time_round else ""
    return f"<b>{escape(dial.figure)}</b>{round_}"


def _paragraphs(texts: Iterable[str]) -> str:
    return "".join(f"<p>{escape(text)}</p>" for text in texts if text)
