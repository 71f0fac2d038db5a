import io
import mmap
import re
import struct
import zlib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from core.elements.model import ElementSet
from core.mount.model.results import Reason, Sentence, Topic
from core.place.site import Site
from core.plan.document import Evening, Plan, Satellite
from core.sheet.content import sheet_content
from core.sheet.render import as_json, pdf_of, png_of, sheet_pdf, sheet_png
from tests.core.sheet.samples import EVERY_KIND, HOSTILE_TITLE, MADE_S, evening
from tests.lasting import result_of

PAPERS = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}
POINTS_PER_MM = 72.0 / 25.4


@pytest.fixture(scope="module")
def content():
    return sheet_content(*evening(), MADE_S)


@pytest.fixture(scope="module", params=["a4", "letter"])
def paper(request):
    return request.param


@pytest.fixture(scope="module")
def pages(content, paper):
    return _pages(pdf_of(content, paper))


@pytest.fixture(scope="module")
def texts(pages):
    """Each page's text without white space."""
    return [_squeezed(page.extract_text()) for page in pages]


@pytest.fixture(scope="module")
def pieces(pages):
    """Each page's pieces of text with place and size."""
    return [_pieces(page) for page in pages]


def _pages(pdf):
    return list(PdfReader(io.BytesIO(pdf)).pages)


def _squeezed(text):
    return re.sub(r"[\s\u200b]+", "", text)


def _pieces(page):
    """(text, x, y, size) in points from the lower left corner."""
    found = []

    def visit(text, cm, tm, _font, size):
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            scale = abs(tm[0] * cm[0] + tm[1] * cm[2])
            found.append((text.strip(), x, y, size * scale))

    page.extract_text(visitor_text=visit)
    return found


def _ink(png):
    """(height, width) bool: not white. Decodes 8-bit RGB(A) pictures (PNG specification, section 9)."""
    width, height, depth, colour = struct.unpack(">IIBB", png[16:26])
    assert depth == 8
    channels = {0: 1, 2: 3, 4: 2, 6: 4}[colour]
    data, at = b"", 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        if png[at + 4 : at + 8] == b"IDAT":
            data += png[at + 8 : at + 8 + length]
        at += 12 + length
    raw = np.frombuffer(zlib.decompress(data), dtype=np.uint8).reshape(height, 1 + width * channels)
    rows = np.zeros((height + 1, width + 1, channels), dtype=np.int64)
    for y in range(height):
        kind, line = raw[y, 0], raw[y, 1:].reshape(width, channels).astype(np.int64)
        if kind in {0, 2}:
            rows[y + 1, 1:] = (line + (rows[y, 1:] if kind == 2 else 0)) % 256
        elif kind == 1:
            rows[y + 1, 1:] = np.cumsum(line, axis=0) % 256
        else:
            for x in range(width):
                left, up, corner = rows[y + 1, x], rows[y, x + 1], rows[y, x]
                if kind == 3:
                    guess = (left + up) // 2
                else:
                    p = left + up - corner
                    a, b, c = abs(p - left), abs(p - up), abs(p - corner)
                    guess = np.where((a <= b) & (a <= c), left, np.where(b <= c, up, corner))
                rows[y + 1, x + 1] = (line[x] + guess) % 256
    return (rows[1:, 1:, : min(channels, 3)] < 250).any(axis=2)


def test_every_dial_figure_that_went_in_comes_out(content, texts):
    text = "".join(texts)
    figures = [dial.figure for dial in content.dials() if dial.figure]
    assert len(figures) > 200
    for figure in figures:
        assert figure in text


def _printed(line):
    if line.kind == "move":
        return line.utc + line.note
    if line.kind == "word":
        return line.utc + line.note
    first = line.note if line.turn == "" and len(line.note) < 6 else line.turn
    return line.utc + first + line.azimuth.figure + line.azimuth.time_round + line.elevation.figure


def test_every_line_of_every_card_stands_whole(content, texts):
    for card in content.cards:
        page = next(t for t in texts if f"Logof{card.number}:" in t)
        for line in card.lines:
            whole = _squeezed(_printed(line))
            below = line.utc + line.azimuth.figure + line.azimuth.time_round + line.elevation.figure
            assert whole in page or _squeezed(below + line.note) in page


def test_each_pass_is_on_one_page(content, texts):
    for card in content.cards:
        head = _squeezed(f"{card.utc} UTC")
        on = [i for i, t in enumerate(texts) if f"Logof{card.number}:" in t]
        assert len(on) == 1
        assert head in texts[on[0]]
        for line in card.lines:
            assert line.utc in texts[on[0]]


def test_the_evenings_list_says_on_which_page_a_card_is(content, texts):
    listed = next(t for t in texts if "Theeveninginorder" in t)
    for card in content.cards:
        page = next(i for i, t in enumerate(texts, start=1) if f"Logof{card.number}:" in t)
        start = content.evening.lines[card.number - 1].start_elevation.figure
        assert re.search(re.escape(_squeezed(start)) + str(page) + re.escape(_squeezed(card.verdict)), listed)


def test_identity_zone_seat_and_number_on_every_page(content, texts):
    count = len(texts)
    for number, squeezed in enumerate(texts, start=1):
        for part in (
            f"Plan {content.identity}",
            f"made {content.made}",
            content.elements,
            "keyway 143.0 true, hole B (offset -30, drilled 30)",
            f"UTC and local time {content.time_zone}",
            f"page {number} of {count}",
        ):
            assert _squeezed(part) in squeezed, (number, part)


def test_hostile_text_is_printed_as_it_is(texts):
    text = "".join(texts)
    assert _squeezed(HOSTILE_TITLE) in text
    assert _squeezed('#let x = $y$ *b* _i_ @a <l> [c] "q" \\n // ä') in text
    assert "W" * 47 + "…" in text


def test_paper_type_and_fonts(pages, paper):
    for page in pages:
        size = (float(page.mediabox.width), float(page.mediabox.height))
        assert size == pytest.approx(PAPERS[paper], abs=0.5)
        fonts = page["/Resources"]["/Font"]
        for font in fonts.values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            assert "Inter" in inner["/BaseFont"]
            descriptor = inner["/FontDescriptor"].get_object()
            assert any(key.startswith("/FontFile") for key in descriptor)


def test_nothing_under_nine_points_and_dials_are_the_largest(content, texts, pieces):
    assert min(size for page in pieces for *_, size in page) >= 8.99
    for card in content.cards:
        if not card.lines:
            continue
        page = next(p for p, text in zip(pieces, texts, strict=True) if f"Logof{card.number}:" in text)
        figures = {card.start_azimuth.figure, card.start_elevation.figure}
        starts = [text for text, _x, _y, size in page if size >= 18.9]
        assert figures <= set(starts)
        lines = {line.utc: line for line in card.lines if line.kind == "set"}
        large = [text for text, _x, _y, size in page if size >= 10.9]
        assert set(lines) <= set(large)
        for dial in [d for line in lines.values() for d in (line.azimuth.figure, line.elevation.figure)]:
            large.remove(dial)


def test_cards_end_above_the_foot_and_text_stays_off_the_edges(pieces):
    for page in pieces:
        foot = max(y for text, _, y, _ in page if text.startswith("Plan "))
        logs = [y for text, _, y, _ in page if text.startswith("Log of")]
        assert all(y > foot + 4.0 * POINTS_PER_MM for y in logs)
        assert min(x for _, x, _, _ in page) > 10 * POINTS_PER_MM
        assert min(y for _, _, y, _ in page) > 6 * POINTS_PER_MM


def test_the_edges_of_every_page_are_white(content, paper):
    dots = 16.0
    for png in png_of(content, paper, dots):
        ink = _ink(png)
        edge = int(8.0 / 25.4 * dots)
        assert not ink[:, :edge].any()
        assert not ink[:, -edge:].any()
        assert not ink[:edge].any()
        assert not ink[-int(5.0 / 25.4 * dots) :].any()
        assert ink.any()


def test_long_reasons_and_names_still_fit_one_page(paper):
    plan, result = evening()
    words = "Meets the clockwise stop at 19:02:44, bearing 203.1 deg true, dial 447, 88.0 deg short. " * 9
    long = Reason((Sentence(Topic.CROSSING, words),))
    contacts = tuple(replace(contact, reason=long) for contact in result.order.contacts)
    wordy = sheet_content(plan, replace(result, order=replace(result.order, contacts=contacts)), MADE_S)
    wordy = replace(
        wordy, cards=tuple(replace(card, satellite="Wordy name of a bird " * 2) for card in wordy.cards)
    )
    pages = _pages(pdf_of(wordy, paper))
    assert len(pages) <= 14
    test_cards_end_above_the_foot_and_text_stays_off_the_edges([_pieces(page) for page in pages])


def test_a_jagged_mask_does_not_push_a_card_off_its_page(paper):
    plan, result = evening(EVERY_KIND[:1] * 2, left_out=0)
    contacts = []
    for contact in result.order.contacts:
        pass_ = contact.check.pass_
        ends = np.linspace(pass_.aos.utc_s, pass_.los.utc_s, 40)
        toothed = replace(
            pass_, stretches=tuple((float(a), float(b)) for a, b in zip(ends[::2], ends[1::2], strict=True))
        )
        words = "Meets the clockwise stop at 19:02:44, bearing 203.1 deg true, 88.0 deg short. " * 9
        long = Reason((Sentence(Topic.CROSSING, words),))
        contacts.append(replace(contact, check=replace(contact.check, pass_=toothed), reason=long))
    content = sheet_content(
        plan, replace(result, order=replace(result.order, contacts=tuple(contacts))), MADE_S
    )
    assert all(line.note for card in content.cards for line in card.lines[:1])
    assert any("behind the mask" in line.note for line in content.cards[0].lines)
    pages = _pages(pdf_of(content, paper))
    test_cards_end_above_the_foot_and_text_stays_off_the_edges([_pieces(page) for page in pages])


def test_cards_without_a_table_share_a_page(paper):
    plan, result = evening((EVERY_KIND[5],) * 2, left_out=0)
    pages = _pages(sheet_pdf(plan, result, MADE_S, paper))
    assert len(pages) == 4
    assert "Log of 1:" in pages[-1].extract_text()
    assert "Log of 2:" in pages[-1].extract_text()


def test_same_input_same_bytes_on_any_thread(content):
    alone = pdf_of(content, "a4")
    with ThreadPoolExecutor(2) as pool:
        together = list(pool.map(lambda _: pdf_of(content, "a4"), range(2)))
    assert all(made == alone for made in together)
    assert alone == sheet_pdf(*evening(), MADE_S)


def test_the_making_time_is_the_documents_date(content):
    later = replace(content, made_utc_s=content.made_utc_s + 86_400.0)
    info = PdfReader(io.BytesIO(pdf_of(content))).metadata
    assert info.creation_date.timestamp() == int(MADE_S)
    assert pdf_of(later) != pdf_of(content)


def test_the_documents_title_has_no_invisible_places_to_break_at():
    plan, result = evening(EVERY_KIND[:1], title="W" * 60)
    assert PdfReader(io.BytesIO(sheet_pdf(plan, result, MADE_S))).metadata.title == "W" * 60


def test_pictures_show_the_same_pages(paper):
    plan, result = evening(EVERY_KIND[:2], left_out=0)
    pictures = sheet_png(plan, result, MADE_S, paper, 40.0)
    assert len(pictures) == len(_pages(sheet_pdf(plan, result, MADE_S, paper)))
    assert all(picture.startswith(b"\x89PNG") for picture in pictures)


def test_the_typesetter_has_nothing_to_warn_of(content):
    typst = pytest.importorskip("typst")
    from importlib.resources import as_file, files

    resources = files("resources")
    with as_file(resources / "fonts") as fonts, as_file(resources / "sheet") as templates:
        _, warnings = typst.compile_with_warnings(
            str(templates / "sheet.typ"),
            font_paths=typst.Fonts(False, False, [str(fonts)]),
            sys_inputs={"sheet": as_json(content, "a4")},
            format="pdf",
        )
    assert [str(warning) for warning in warnings] == []


def test_an_evening_without_passes_prints():
    plan, result = evening((), left_out=0)
    text = "".join(_squeezed(page.extract_text()) for page in _pages(sheet_pdf(plan, result, MADE_S)))
    assert "Nopassisworkedthisevening." in text


def test_a_plan_that_was_really_evaluated_prints():
    sets = [
        ElementSet(
            name=f"BIRD-{k}",
            epoch="2024-11-01T06:00:00",
            mean_motion_rev_day=14.3,
            eccentricity=0.001,
            inclination_deg=97.9,
            raan_deg=30.0 * k,
            arg_perigee_deg=20.0,
            mean_anomaly_deg=70.0 * k,
            norad_id=50_001 + k,
        )
        for k in range(3)
    ]
    plan = Plan(
        title="Larch ridge",
        site=Site(latitude_deg=47.2, longitude_deg=9.1),
        evening=Evening(start="2024-11-01T16:00:00Z", end="2024-11-01T22:00:00Z"),
        satellites=tuple(Satellite(name=one.name, elements=one) for one in sets),
    )
    result = result_of(plan)
    content = sheet_content(plan, result, MADE_S)
    assert content.cards
    text = "".join(_squeezed(page.extract_text()) for page in _pages(pdf_of(content)))
    assert result.identity in text
    assert all(dial.figure in text for dial in content.dials())


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="reads the process' memory there")
def test_the_typesetter_keeps_nothing_of_the_sheets_before(content):
    """Of every sheet it would keep what it was made of: a window on the Sheet page grew with each edit."""

    def megabytes_after(title: str) -> float:
        png_of(replace(content, title=title), dots_per_inch=36.0)
        return int(Path("/proc/self/statm").read_text().split()[1]) * mmap.PAGESIZE / 1e6

    megabytes_after("first")
    second = megabytes_after("second")
    for title in ("third", "fourth"):
        last = megabytes_after(title)
    assert last - second < 20.0
