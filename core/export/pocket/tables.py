"""The cards of the page as plain tables: all that is there without a script, and all that is printed."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape

from core.base.drawing_svg import svg_of
from core.base.times import clock
from core.export.pocket.lines import lines_of, middle
from core.export.pocket.pictures import lighter, sky_pictures
from core.sheet.content import SheetContent
from core.sheet.dials import PrintedDial
from core.sheet.hand.line import HandLine
from core.sheet.pass_card import PassCard

#: What the hand does, in a word each.
KIND_WORDS = {"set": "set", "hold": "hold", "move": "MOVE", "word": ""}

_HEADS = ("UTC, local", "AZ", "EL", "do")


def cards_html(content: SheetContent) -> str:
    """Every contact's card, in order."""
    if not content.cards:
        return "<p>No contacts this evening.</p>"
    pictures = sky_pictures([card.polar for card in content.cards])
    cards = (_card(content, card, plot) for card, plot in zip(content.cards, pictures.plots, strict=True))
    return pictures.shared + "".join(cards)


def told_html(content: SheetContent) -> str:
    """What is said of the evening as a whole: picks that match nothing, refusals, where to stow."""
    return _paragraphs(content.evening.told)


def cautions_html(content: SheetContent) -> str:
    """What comes before this page, and the cautions of the set-up card."""
    set_up = content.set_up
    lines = "".join(f"<li><b>{escape(what)}.</b> {escape(words)}</li>" for what, words in set_up.cautions)
    return f"<p><b>{escape(set_up.defer)}</b></p><ul>{lines}</ul>"


def warnings_html(content: SheetContent) -> str:
    """What must not be missed."""
    return "".join(f"<p class=warning>{escape(text)}</p>" for text in content.set_up.warnings)


def foot_html(content: SheetContent) -> str:
    """The sheet's foot: plan, making time, elements, seat, zone."""
    return (
        f"<p><b>Plan {escape(content.identity)}</b>, made {escape(content.made)}, "
        f"{escape(content.elements)}</p>"
        f"<p>{escape(content.seat)}; UTC and local time {escape(content.time_zone)}</p>"
    )


def _card(content: SheetContent, card: PassCard, plot: str) -> str:
    name = f"card-{card.number}"
    lines = lines_of(card, middle(content))
    table = _table(lines, content) if lines else ""
    start = (
        f"<p class=start>start AZ {_dial(card.start_azimuth)} EL {_dial(card.start_elevation)}</p>"
        if card.start_azimuth.figure
        else ""
    )
    way = _paragraphs(["; ".join(text for text in (card.posture, card.turn) if text)])
    before = f"<p class={'warning' if card.late else 'before'}>{escape(card.before)}</p>"
    return (
        f"<section class=card id={name} aria-labelledby={name}-head><h3 id={name}-head>"
        f"{card.number} of {card.of}: {escape(card.satellite)}</h3>"
        f"<p class=spans>{svg_of(lighter(card.mark), '')} <b>{escape(card.verdict)}</b><br>"
        f"UTC {escape(card.utc)}<br>local {escape(card.local)}</p>{start}<div class=inside>"
        f"{before}{way}{table}<p><b>{escape(card.after)}</b></p>"
        f"{_paragraphs((card.peak, card.reason, *card.facts, card.twice))}"
        f"<p>Catalogue number {escape(card.norad_id)}</p>{plot}</div></section>"
    )


def _table(lines: Iterable[HandLine], content: SheetContent) -> str:
    heads = "".join(f"<th scope=col>{head}</th>" for head in _HEADS)
    rows = "".join(_row(line, content) for line in lines)
    return f"<table class=lines><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table>"


def _row(line: HandLine, content: SheetContent) -> str:
    until = "" if line.until_s is None else f" until {clock(line.until_s)}"
    words = (f"{KIND_WORDS[line.kind]}{until}".strip(), line.turn, line.note)
    mark = " class=strong" if line.strong else ""
    local = clock(line.utc_s + _local_offset_s(line.utc_s, content))
    return (
        f"<tr{mark}><td>{clock(line.utc_s)}<small>{local}</small></td><td>{_dial(line.azimuth)}</td>"
        f"<td>{_dial(line.elevation)}</td><td>{escape(', '.join(word for word in words if word))}</td></tr>"
    )


def _local_offset_s(utc_s: float, content: SheetContent) -> float:
    offset_s = content.local_offsets[0][1]
    for from_s, following_s in content.local_offsets:
        offset_s = following_s if from_s <= utc_s else offset_s
    return offset_s


def _dial(dial: PrintedDial) -> str:
    if not dial.figure:
        return ""
    round_ = f" <small>({escape(dial.time_round)})</small>" if dial.time_round else ""
    return f"<b>{escape(dial.figure)}</b>{round_}"


def _paragraphs(texts: Iterable[str]) -> str:
    return "".join(f"<p>{escape(text)}</p>" for text in texts if text)
