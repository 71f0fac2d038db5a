from __future__ import annotations

import json

from core.elements.reading import read_elements
from tests.core.elements.samples import element_set, keywords


def test_json_single_object_list_and_compact():
    fields = keywords()
    for text in (json.dumps(fields), json.dumps([fields]), json.dumps([fields], separators=(",", ":"))):
        assert read_elements(text, "a.json").sets == (element_set(),)


def test_json_numbers_texts_and_null():
    fields = keywords(MEAN_MOTION=14.81234567, NORAD_CAT_ID=55466, REV_AT_EPOCH=12345.0)
    reading = read_elements(json.dumps([{**fields, "DECAY_DATE": None, "BSTAR": None}]), "a.json")
    assert reading.sets == (element_set(BSTAR=0),)
    assert reading.notes == (
        "a.json: dropped keywords DECAY_DATE (not in the standard)",
        "a.json: BSTAR missing, taken as 0 (record 1)",
    )


def test_json_keys_in_small_letters():
    text = json.dumps([{key.lower(): value for key, value in keywords().items()}])
    assert read_elements(text, "a.json").sets == (element_set(),)


def test_json_key_given_twice():
    record = json.dumps(keywords())
    text = f'[{record[:-1]}, "BSTAR": 0.1}}, {json.dumps(keywords(NORAD_CAT_ID=7))}]'
    reading = read_elements(text, "a.json")
    assert [each.norad_id for each in reading.sets] == [7]
    assert (reading.refused[0].place, reading.refused[0].field) == ("record 1", "BSTAR")


def test_json_damage_is_told_with_its_line():
    text = json.dumps([keywords(NORAD_CAT_ID=at) for at in (1, 2, 3)], indent=1)
    reading = read_elements(text.replace('"NORAD_CAT_ID": 2', '"NORAD_CAT_ID" 2'), "a.json")
    assert [each.norad_id for each in reading.sets] == [1, 3]
    assert [refusal.place for refusal in reading.refused] == ["line 21"]
    assert "line 33" in reading.refused[0].reason
    assert "not valid JSON as a whole" in reading.notes[0]
