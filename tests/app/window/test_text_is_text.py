"""What a plan says is shown as it stands: markup in its words is never rendered, so it can read no file."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QAbstractListModel, QModelIndex, Qt
from PySide6.QtGui import QTextDocument, QTextFormat
from PySide6.QtWidgets import QAbstractItemView, QDialog, QLabel, QWidget

import app.window
from app.window.frame.actions import PAGES
from app.window.pages.evening.now_dialog import NowDialog
from app.window.pages.satellites.chooser import Chooser
from app.window.pages.satellites.traffic import MANY
from app.window.pages.site.fields.dialog import FieldsDialog
from app.window.widgets.plain import question_box, tip
from core.plan.document import Plan
from core.plan.storage import write_plan
from tests.plans import elements_data, plan_of, plate_data, short_plan_data, write_elements_file

PICTURE = '<img src="/p.png">{} & '
TIP = Qt.ItemDataRole.ToolTipRole


def hostile_plan() -> Plan:
    """Markup wherever a plan has words of its own."""
    data = short_plan_data()
    for number, satellite in enumerate(data["satellites"]):
        satellite["name"] = PICTURE.format(number)
        satellite["elements"]["OBJECT_NAME"] = PICTURE.format(number)
    hole = PICTURE.format("h").strip()
    return plan_of(
        data,
        title=PICTURE.format("title"),
        notes=PICTURE.format("notes"),
        site__name=PICTURE.format("site"),
        mount__index_holes=[{"name": hole, "offset_deg": 0.0}, {"name": hole + "i", "offset_deg": 90.0}],
        mount__index_hole=hole,
        mount__azimuth__travel_deg=200.0,
        mount__sighting_correction={"deg": 1.0, "keyway_bearing_deg": 0.0, "index_hole": hole},
        antennas=[{"name": PICTURE.format("antenna"), "beamwidth_deg": 20.0}],
        landmarks=[{"name": PICTURE.format("mark").strip(), "latitude_deg": 47.3, "longitude_deg": 9.2}],
        sightings=[
            {"time": "2024-11-01T16:00:00Z", "target": PICTURE.format(n).strip(), "azimuth_dial_deg": 10.0}
            for n in ("mark", "unknown")
        ],
        plate=plate_data(),
        stand={
            "legs": [{"from_keyway_deg": angle} for angle in (0.0, 120.0, 240.0)],
            "masses": [{"name": PICTURE.format("mass").strip(), "mass_kg": 9.0, "height_mm": 900.0}],
            "areas": [{"name": PICTURE.format("area").strip(), "area_m2": 0.2, "height_mm": 900.0}],
            "hung": [{"name": PICTURE.format("hung").strip(), "mass_kg": 4.0}],
            "near": [{"name": PICTURE.format("near").strip(), "bearing_deg": 9.0, "distance_m": 1.0}],
        },
        seat_limits=[{"from_deg": 350.0, "to_deg": 20.0, "why": PICTURE.format("why")}],
    )


def read_as_markup(words: str) -> bool:
    """Whether a tool tip would show a picture or another type for a plan's words."""
    if "<" not in words:
        return False
    document = QTextDocument()
    document.setHtml(words)
    block = document.begin()
    while block.isValid():
        for fragment in (piece.fragment() for piece in block):
            if fragment.charFormat().objectType() == QTextFormat.ObjectTypes.ImageObject.value:
                return True
        block = block.next()
    shown = document.toPlainText()
    return "\N{OBJECT REPLACEMENT CHARACTER}" in shown or "p.png" not in shown


def rich(root: QWidget) -> Iterator[str]:
    """What could be rendered: labels that are not plain, tool tips of widgets and of every cell."""
    for widget in (root, *root.findChildren(QWidget)):
        if isinstance(widget, QLabel) and widget.textFormat() != Qt.TextFormat.PlainText and widget.text():
            yield f"label {widget.text()!r} in {type(widget.parent()).__name__}"
        if read_as_markup(widget.toolTip()):
            yield f"tip {widget.toolTip()!r}"
        if isinstance(widget, QAbstractItemView):
            yield from rich_cells(widget)


def rich_cells(view: QAbstractItemView) -> Iterator[str]:
    model = view.model()
    if model is None:
        return
    for column in range(1 if isinstance(model, QAbstractListModel) else model.columnCount()):
        heads = [model.headerData(column, Qt.Orientation.Horizontal, TIP)]
        cells = [model.index(row, column, QModelIndex()).data(TIP) for row in range(model.rowCount())]
        for told in heads + cells:
            if told and read_as_markup(str(told)):
                yield f"cell {told!r}"


def test_a_hostile_plan_is_shown_as_it_stands_on_every_page(window_of, qtbot):
    window = window_of(hostile_plan())
    for title in PAGES:
        window.open_page(title)
        qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
        assert list(rich(window)) == [], title
    setup = window.page("Setup")
    for place in range(len(setup.steps)):
        window.open_page("Setup")
        setup.open_step(place)
        assert list(rich(window)) == [], setup.step.title
    window.open_page("Evening")
    evening = window.page("Evening")
    evening.opened.steer_button.click()
    qtbot.waitUntil(lambda: not window.runner.busy_words, timeout=30_000)
    assert list(rich(window)) == []


def test_the_station_from_above_and_its_pass_are_text(window_of, qtbot):
    window = window_of(hostile_plan(), whole=False)
    window.open_page("Keyway")
    view = window.page("Keyway").station
    words = view._words(0)
    assert "p.png" in words
    assert not read_as_markup(tip(words))


def test_a_holes_button_has_its_name_and_no_key_in_it(window_of):
    holes = [{"name": "A&B", "offset_deg": 0.0}]
    window = window_of(
        plan_of(short_plan_data(), mount__index_holes=holes, mount__index_hole="A&B"), whole=False
    )
    window.open_page("Keyway")
    (button,) = window.page("Keyway").panel.holes.buttons.values()
    assert (button.text(), button.shortcut().isEmpty()) == ("A&&B", True)


def test_dialogs_and_boxes_are_text(window_of, qtbot, tmp_path):
    plan = hostile_plan()
    window = window_of(plan, whole=False)
    window.tell_error(PICTURE.format("title"), PICTURE.format("sentence"), PICTURE.format("details"))
    sets = (elements_data(71000 + n, name=PICTURE.format(n)) for n in range(MANY + 1))
    window.take_files([write_elements_file(tmp_path, *sets)])
    qtbot.waitUntil(lambda: window.findChild(Chooser) is not None)
    NowDialog(window.context, window).open()
    fields = FieldsDialog(window.context, window)
    fields.show()
    other = tmp_path / "other.northkey.json"
    write_plan(other, plan.model_copy(update={"picks": (), "title": PICTURE.format("field")}))
    fields.fields.add([other, tmp_path / "<img src=p.png>.json"])
    qtbot.waitUntil(lambda: fields.fields.comparison is not None, timeout=30_000)
    assert "p.png" in fields.answer.text() + fields.refused.text()
    window.document.edit(plan.model_copy(update={"title": PICTURE.format("other")}), "title")
    window.files.after_unsaved(lambda: None)
    dialogs = window.findChildren(QDialog)
    assert len(dialogs) >= 3
    for dialog in dialogs:
        assert list(rich(dialog)) == [], type(dialog).__name__


def test_a_box_has_plain_words_in_both_its_labels(qtbot):
    parent = QWidget()
    qtbot.addWidget(parent)
    box = question_box(parent, "title", PICTURE, PICTURE)
    assert list(rich(box)) == []
    assert [label.text() for label in box.findChildren(QLabel)].count(PICTURE) == 2


@pytest.mark.parametrize("words", ["plain words", "a & b", "one\ntwo"])
def test_a_tip_without_markup_stays_as_it_is(words):
    assert tip(words) == words


def test_a_tip_with_markup_reads_as_it_stands(qtbot):
    assert not read_as_markup(tip(PICTURE))
    assert read_as_markup(PICTURE)


def test_labels_and_boxes_are_made_in_one_place():
    """A label or box made elsewhere would take markup again."""
    root = Path(app.window.__file__).parent
    found = []
    for path in root.rglob("*.py"):
        if path.name == "plain.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                name = ast.unparse(node.func)
                if name in {"QLabel", "QMessageBox", "QStaticText"} or name.startswith("QMessageBox."):
                    found.append(f"{path.name}:{node.lineno} {name}")
    assert found == []
