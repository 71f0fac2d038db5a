"""The Sheet page: true pages, both papers, stale marks, PDF, and a real printer's path."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtGui import QPageLayout
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QFileDialog

from app.window.look.scheme import DARK, DUSK, DUSK_BRIGHTEST
from app.window.pages.sheet.page import SheetPage
from app.window.pages.sheet.pages_job import page_names
from app.window.pages.sheet.printing import PrintProblem, prepare, print_pages
from app.window.state.context import Context, Rest
from core.base.edits import changed
from core.base.errors import Cancelled, FileProblem
from core.base.memo import Memo
from core.base.times import clock
from core.base.units import no_progress
from core.replan import Now, replan
from core.sheet.render import PageStart, sheet_pdf
from core.sheet.wishes import SheetWishes
from tests.app.window.conftest import NOW_UTC_S, work_out
from tests.app.window.page_object_base import Hand
from tests.core.mount.seat.evenings_by_seat import made_up_evenings
from tests.lasting import MEMO
from tests.plans import plan_of, short_plan_data

PLAN = plan_of(short_plan_data(), title="Hilltop")
#: Millimetres.
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


class SheetHand(Hand):
    """The page alone, its sheet laid out."""

    def __init__(self, qtbot, context: Context) -> None:
        super().__init__(qtbot)
        self.context = context
        self.page = SheetPage(context)
        self.gone: list[str] = []
        self.page.go.connect(self.gone.append)
        qtbot.addWidget(self.page)
        self.page.resize(1100, 760)
        self.page.show()
        self.page.refresh()

    def wait(self) -> SheetHand:
        """Until the pages are those of the present plan and paper."""
        page = self.page
        self.qtbot.waitUntil(
            lambda: (
                page.pages is not None
                and (page.pages.plan, page.pages.paper) == (self.context.plan, page.paper)
            ),
            timeout=30_000,
        )
        return self

    def radio(self, words: str):
        return next(b for b in self.page.papers.buttons() if b.text().replace("&", "") == words)

    @property
    def names(self) -> list[str]:
        return [self.page.list.item(row).text() for row in range(self.page.list.count())]


@pytest.fixture
def unlaid(qtbot, context_of):
    return lambda plan=PLAN, worked_out=True: SheetHand(qtbot, context_of(plan, worked_out))


@pytest.fixture
def hand(unlaid):
    return unlaid().wait()


def test_the_evening_from_now_is_what_is_printed(unlaid):
    hand = unlaid()
    context, page, now_s = hand.context, hand.page, PLAN.evening.start_utc_s + 3600.0
    again, elsewhere = (replan(PLAN, Now(now_s, dial), MEMO) for dial in (100.0, 250.0))
    context.rest = Rest(PLAN, again)
    page.refresh()
    assert page.ready() == (again.plan, again.result)
    hand.qtbot.waitUntil(lambda: page.pages is not None)
    assert (page.pages.plan, page.pages.mount_start) == (again.plan, again.result.mount_start)
    assert f"re-planned from {clock(now_s)} UTC" in page.state.text()
    # The same hours from another place of the mount are another sheet.
    context.rest = Rest(PLAN, elsewhere)
    page.refresh()
    assert elsewhere.plan == again.plan
    assert "on their way" in page.state.text()
    context.runner.cancel()


# --- pages ------------------------------------------------------------------------------------------------


def test_the_pages_are_those_of_the_sheet(hand, tmp_path):
    contacts = hand.context.result.order.contacts
    assert hand.names[0] == "1  Set-up card"
    assert hand.names[1] == "2  Set-up card, second page"
    assert hand.names[2].startswith("3  Evening")
    cards = ", ".join(hand.names[3:])
    for contact in contacts:
        assert f"{clock(contact.start_utc_s, False)} {contact.check.pass_.satellite}" in cards
    assert hand.page.state.text() == f"{len(hand.names)} pages of plan {hand.context.result.identity}"
    image = hand.page.pages.image(0)
    width, height = SIZES["a4"]
    assert image.width() == pytest.approx(width / 25.4 * 144.0, abs=2)
    assert image.height() == pytest.approx(height / 25.4 * 144.0, abs=2)
    assert image.pixelColor(2, 2).lightness() == 255
    assert hand.page.view.paper.accessibleDescription() == f"Page 1 of {len(hand.names)}: Set-up card"


def test_the_pages_are_made_again_when_the_evenings_of_other_seats_are_known(hand):
    context, before = hand.context, hand.page.pages
    context.by_evening = made_up_evenings([1.0] * 12, context.plan.mount)
    context.by_evening_plan = context.plan
    hand.page.refresh()
    hand.qtbot.waitUntil(lambda: hand.page.pages is not before, timeout=30_000)
    assert hand.page.pages.pictures[0] != before.pictures[0]
    made = hand.page.pages
    hand.page.refresh()
    assert not hand.context.runner.busy_words
    assert hand.page.pages is made


def test_letter_gives_other_pages(hand):
    hand.click(hand.radio("Letter"))
    assert hand.page.view.paper.stale
    hand.wait()
    image = hand.page.pages.image(0)
    assert image.width() / image.height() == pytest.approx(215.9 / 279.4, abs=0.002)
    assert not hand.page.view.paper.stale


def test_pages_are_turned_by_key(hand):
    hand.page.list.setFocus()
    hand.press(hand.page.list, "Down")
    assert hand.page.list.currentRow() == 1
    assert hand.page.view.paper.image is hand.page.pages.image(1)
    assert hand.page.view.accessibleDescription().startswith(
        f"Page 2 of {len(hand.names)}: Set-up card, second"
    )


def test_a_page_is_shown_whole_or_full_width_or_true_size(hand):
    view = hand.page.view
    room = view.viewport().size()
    whole = view.paper.size()
    assert whole.height() <= room.height()
    assert whole.width() <= room.width()
    hand.page.zooms.setCurrentText("Full width")
    assert view.paper.width() == pytest.approx(view.viewport().width(), abs=20)
    hand.page.zooms.setCurrentText("True size")
    assert view.paper.page_rect().width() == pytest.approx(210.0 / 25.4 * view.logicalDpiX(), abs=2)
    view.setFocus()
    hand.press(view, "End")
    assert view.verticalScrollBar().value() == view.verticalScrollBar().maximum() > 0
    hand.press(view, "Home")
    assert view.verticalScrollBar().value() == 0


@pytest.mark.parametrize(("scheme", "most"), [(DARK, 215), (DUSK, DUSK_BRIGHTEST)])
def test_a_white_page_does_not_dazzle_in_the_dark(hand, scheme, most):
    hand.context.scheme = scheme
    hand.page.refresh()
    image = hand.page.view.paper.grab().toImage()
    middle = image.pixelColor(image.width() - 30, image.height() // 2)
    assert middle.lightness() <= most


# --- stale ------------------------------------------------------------------------------------------------


def test_an_edit_marks_the_pages_stale_until_the_new_ones_are_there(hand):
    old = hand.page.pages
    hand.context.document.edit(changed(PLAN, "mount.keyway_bearing_deg", 77.0), "keyway")
    hand.page.refresh()  # the plan is another one, its result is not there yet
    assert hand.page.view.paper.stale
    assert "before its last edits" in hand.page.state.text()
    assert not hand.page.save_button.isEnabled()
    work_out(hand.context)
    hand.page.refresh()
    hand.wait()
    assert hand.page.pages is not old
    assert not hand.page.view.paper.stale
    assert hand.page.save_button.isEnabled()


def test_the_same_pages_are_not_made_twice(hand, qtbot):
    with qtbot.assertNotEmitted(hand.context.runner.busy_changed):
        hand.page.refresh()
        hand.page.refresh()


def test_before_the_first_result_it_says_so(unlaid):
    hand = unlaid(worked_out=False)
    assert hand.page.words.text() == "The sheet is being laid out."
    assert not hand.page.save_button.isEnabled()


def test_without_satellites_it_says_what_to_do_first(unlaid):
    hand = unlaid(plan_of(short_plan_data(), satellites=[]))
    assert "Import element sets first" in hand.page.words.text()
    hand.click(hand.page.go_button)
    assert hand.gone == ["Satellites"]


def test_without_passes_it_says_so(unlaid):
    hand = unlaid(plan_of(short_plan_data(), site__minimum_elevation_deg=89.0))
    assert "nothing to put on paper" in hand.page.words.text()
    assert not hand.page.print_button.isEnabled()


def test_a_failure_is_told(unlaid, monkeypatch, qtbot):
    monkeypatch.setattr("core.sheet.render.pages_of", lambda *_: 1 / 0)
    hand = unlaid()
    with qtbot.waitSignal(hand.context.runner.failed):
        pass
    assert hand.page.state.text() == "The pages could not be made."


def test_pages_are_named_by_what_begins_on_them(hand):
    result = hand.context.result
    begins = [PageStart(1, "Set-up card", 0), PageStart(3, "Evening", 0), PageStart(3, "", 1)]
    first = result.order.contacts[0].check.pass_
    named = page_names(result, [*begins, PageStart(5, "", 2)], 5)
    assert named[:2] == ("Set-up card", "Set-up card, on")
    assert named[2] == f"Evening, {clock(first.aos.utc_s, False)} {first.satellite}"
    assert named[3] == f"{clock(first.aos.utc_s, False)} {first.satellite}, on"
    assert named[4].endswith(result.order.contacts[1].check.pass_.satellite)
    assert page_names(result, [], 1) == ("Sheet, on",)


def test_each_page_says_what_its_name_says(hand):
    plan, result = hand.page.ready()
    text = [page.extract_text() for page in PdfReader(BytesIO(sheet_pdf(plan, result, NOW_UTC_S))).pages]
    for name, words in zip(hand.names, text, strict=True):
        for part in name.split("  ", 1)[1].split(", "):
            shown = {"Evening": "The evening in order", "on": ""}.get(part, part.split(" ", 1)[-1])
            assert shown in words, name


# --- PDF --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_pdf_is_the_whole_sheet_on_the_paper_chosen(hand, tmp_path, paper):
    hand.page.set_paper(paper)
    hand.wait()
    hand.click(hand.page.save_button)
    dialog = next(d for d in hand.page.findChildren(QFileDialog) if d.isVisible())
    dialog.selectFile(str(tmp_path / "out"))
    with hand.qtbot.waitSignal(hand.context.runner.finished, timeout=20_000):
        dialog.accept()
    pdf = PdfReader(tmp_path / "out.pdf")
    assert len(pdf.pages) == len(hand.names)
    box = pdf.pages[0].mediabox
    assert (float(box.width) / 72.0 * 25.4, float(box.height) / 72.0 * 25.4) == pytest.approx(
        SIZES[paper], abs=0.5
    )
    text = pdf.pages[0].extract_text()
    assert hand.context.result.identity in text
    assert "made 2024-11-01 17:42 UTC" in text
    assert hand.page.state.text() == "Saved as out.pdf."


def test_a_pdf_that_cannot_be_written_is_told(hand, tmp_path):
    with hand.qtbot.waitSignal(hand.context.runner.failed, timeout=20_000) as told:
        hand.page.save_pdf(tmp_path / "missing" / "out.pdf")
    kind, error = told.args
    assert (kind, type(error)) == ("save sheet", FileProblem)


def test_the_pdf_never_replaces_the_plan_it_is_of(hand, tmp_path):
    path = tmp_path / "mine.northkey.json"
    hand.context.document.save(path)
    before = path.read_bytes()
    with hand.qtbot.waitSignal(hand.context.runner.failed, timeout=20_000) as told:
        hand.page.save_pdf(path)
    assert "name another" in str(told.args[1])
    assert path.read_bytes() == before


# --- printing ---------------------------------------------------------------------------------------------


def printer_to(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    return printer


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_printing_puts_every_page_on_the_paper_to_its_edges(hand, tmp_path, paper):
    hand.page.set_paper(paper)
    hand.wait()
    printer = printer_to(tmp_path / "printed.pdf")
    with hand.qtbot.waitSignal(hand.context.runner.finished, timeout=30_000):
        hand.page.print_on(printer)
    pdf = PdfReader(tmp_path / "printed.pdf")
    assert len(pdf.pages) == len(hand.names)
    for page in pdf.pages:
        size = float(page.mediabox.width) / 72.0 * 25.4, float(page.mediabox.height) / 72.0 * 25.4
        assert size == pytest.approx(SIZES[paper], abs=0.5)
        (picture,) = (entry.get_object() for entry in page["/Resources"]["/XObject"].values())
        assert picture["/Width"] == pytest.approx(SIZES[paper][0] / 25.4 * 300.0, abs=3)
        assert picture["/Height"] == pytest.approx(SIZES[paper][1] / 25.4 * 300.0, abs=3)
    assert hand.page.state.text() == f"{len(hand.names)} pages sent to printed.pdf."


def test_a_range_of_pages_and_the_last_one_first(hand, tmp_path):
    printer = printer_to(tmp_path / "printed.pdf")
    prepare(printer, "a4", "x")
    printer.setFromTo(2, 3)
    printer.setPageOrder(QPrinter.PageOrder.LastPageFirst)
    plan, result = hand.page.ready()
    assert print_pages(printer, plan, result, NOW_UTC_S, "a4", Memo(), no_progress) == 2
    assert len(PdfReader(tmp_path / "printed.pdf").pages) == 2


def test_printing_can_be_cancelled(hand, tmp_path):
    printer = printer_to(tmp_path / "printed.pdf")
    prepare(printer, "a4", "x")
    plan, result = hand.page.ready()
    with pytest.raises(Cancelled):
        print_pages(
            printer,
            plan,
            result,
            NOW_UTC_S,
            "a4",
            Memo(),
            lambda done, _total, what: what != "printing" or done < 1,
        )


def test_a_printer_that_takes_nothing_is_told(hand, tmp_path, qtlog):
    printer = printer_to(tmp_path / "missing" / "printed.pdf")
    prepare(printer, "a4", "x")
    plan, result = hand.page.ready()
    with qtlog.disabled(), pytest.raises(PrintProblem, match=r"printed\.pdf"):  # Qt says so too
        print_pages(printer, plan, result, NOW_UTC_S, "a4", Memo(), no_progress)


def test_the_printer_is_asked_for_in_a_dialog(hand):
    hand.click(hand.page.print_button)
    dialog = next(d for d in hand.page.findChildren(QPrintDialog) if d.isVisible())
    assert dialog.windowModality() != Qt.WindowModality.NonModal
    dialog.reject()
    assert hand.context.runner.busy_words == ""


# --- shapes -----------------------------------------------------------------------------------------------


def test_another_shape_is_another_sheet(hand, tmp_path):
    whole = len(hand.names)
    hand.page.wanted.shapes.setCurrentIndex(2)
    hand.qtbot.waitUntil(lambda: hand.page.pages.wishes.shape == "page", timeout=30_000)
    assert not hand.page.wanted.set_up.isEnabled()
    assert hand.names == ["1  Evening"]
    image = hand.page.pages.image(0)
    assert image.width() > image.height()
    path = tmp_path / "page.pdf"
    hand.page.save_pdf(path)
    hand.qtbot.waitUntil(path.exists, timeout=30_000)
    hand.qtbot.waitUntil(lambda: "Saved as page.pdf" in hand.page.state.text(), timeout=30_000)
    assert len(PdfReader(path).pages) == 1 < whole


def test_the_set_up_card_is_left_away_where_it_is_not_wanted(hand):
    hand.page.wanted.set_up.setChecked(False)
    hand.qtbot.waitUntil(lambda: hand.page.pages.wishes.set_up is False, timeout=30_000)
    assert hand.names[0].startswith("1  Evening")


def test_the_pocket_page_is_saved_from_here(hand, tmp_path):
    path = tmp_path / "evening.html"
    hand.page.save_pocket_page(path)
    hand.qtbot.waitUntil(lambda: "send it to the phone" in hand.page.state.text(), timeout=30_000)
    text = path.read_text("utf-8")
    assert hand.context.result.identity in text
    assert "Content-Security-Policy" in text


def test_the_evening_on_one_page_is_printed_across(tmp_path):
    printer = QPrinter()
    printer.setOutputFileName(str(tmp_path / "out.pdf"))
    prepare(printer, "a4", "x", SheetWishes("page"))
    across = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter)
    assert across.width() > across.height()
