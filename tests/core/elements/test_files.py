from __future__ import annotations

from core.base.errors import ElementsError
from core.elements import files
from core.elements.files import read_element_files
from core.elements.writing import write_omm_csv, write_omm_json, write_omm_xml
from tests.core.elements.samples import MADE, element_set, five_sets
from tests.shared_data import shared_file


def test_several_files_become_one_reading(tmp_path):
    one, two = tmp_path / "one.txt", tmp_path / "two.txt"
    one.write_text(write_omm_csv(five_sets()[:3], **MADE), encoding="utf-8")
    two.write_text(write_omm_json(five_sets()[2:], **MADE), encoding="utf-8")
    reading = read_element_files([one, str(two)])
    assert reading.sets == five_sets()
    (refusal,) = reading.refused
    assert refusal.file == str(two)
    assert f"{one}, line 4" in refusal.reason


def test_what_cannot_be_read_is_refused_beside_what_can(tmp_path):
    good = tmp_path / "good.csv"
    good.write_text(write_omm_csv(five_sets(), **MADE), encoding="utf-8")
    paths = [tmp_path / "absent", tmp_path, good, str(good) + "\x00", tmp_path / ("n" * 5000)]
    reading = read_element_files(paths)
    assert reading.sets == five_sets()
    assert [type(refusal) for refusal in reading.refused] == [ElementsError] * 4
    reasons = [refusal.reason for refusal in reading.refused]
    assert reasons[:2] == ["does not exist", "is a folder; name a file"]
    assert all(reason.startswith("cannot be read: ") for reason in reasons[2:])


def test_a_file_that_may_not_be_read(tmp_path, monkeypatch):
    path = tmp_path / "locked"
    path.write_text("x")

    def locked(*_arguments, **_options):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("core.base.files.os.open", locked)
    assert "no permission" in read_element_files([path]).refused[0].reason


def test_an_empty_file(tmp_path):
    path = tmp_path / "empty"
    path.write_bytes(b"")
    assert "is empty" in read_element_files([path]).refused[0].reason


def test_a_file_too_large(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "LARGEST_FILE_BYTES", 1024 * 1024)
    path = tmp_path / "large"
    path.write_bytes(b"x" * (1024 * 1024 + 1))
    assert "larger than any element file (1 MiB)" in read_element_files([path]).refused[0].reason


def test_other_encodings(tmp_path):
    elements = element_set(OBJECT_NAME="MÖWE 1")
    text = write_omm_csv([elements], **MADE)
    for encoding, notes in (("utf-8", 0), ("utf-8-sig", 0), ("utf-16", 0), ("latin-1", 1)):
        path = tmp_path / encoding
        path.write_bytes(text.encode(encoding))
        reading = read_element_files([path])
        assert reading.sets == (elements,), encoding
        assert reading.refused == ()
        assert len(reading.notes) == notes
    assert reading.notes == (f"{path}: not UTF-8, read as Latin-1",)


def test_utf_16_xml(tmp_path):
    path = tmp_path / "a.xml"
    path.write_bytes(write_omm_xml(five_sets(), **MADE).replace("UTF-8", "UTF-16").encode("utf-16"))
    assert read_element_files([path]).sets == five_sets()


def test_bytes_of_no_text(tmp_path):
    path = tmp_path / "picture"
    path.write_bytes(bytes(range(256)) * 100)
    reading = read_element_files([path])
    assert reading.sets == ()
    assert len(reading.refused) == 1


def test_the_real_catalogue_is_read_whole():
    path = shared_file("data/gp_20241101.csv")
    reading = read_element_files([path])
    assert len(reading.sets) == len(path.read_text(encoding="utf-8").splitlines()) - 1 == 26_834
    assert (reading.refused, reading.notes) == ((), ())
