from __future__ import annotations

from core.base.times import parse_iso
from core.elements.files import read_element_files
from core.elements.model import ElementSet
from core.elements.statistics import for_statistics
from core.passes.frames import Observer
from core.passes.search import find_stays
from tests.plans import elements_data
from tests.shared_data import shared_file


def test_only_drag_is_left_out():
    elements = ElementSet.model_validate(
        elements_data(70001, MEAN_MOTION_DOT=1e-4, MEAN_MOTION_DDOT=1e-9, BSTAR=3e-4)
    )
    lasting = for_statistics(elements)
    assert (lasting.bstar, lasting.mean_motion_dot, lasting.mean_motion_ddot) == (0.0, 0.0, 0.0)
    same = lasting.model_copy(
        update={"bstar": elements.bstar, "mean_motion_dot": 1e-4, "mean_motion_ddot": 1e-9}
    )
    assert same == elements


def test_real_sets_last_a_year_without_drag_and_some_do_not_with_it():
    sets = read_element_files([shared_file("data/amateur_20241101.csv")]).sets
    window = parse_iso("2025-11-01T17:00:00Z"), parse_iso("2025-11-01T17:30:00Z")
    assert len(find_stays(sets, Observer(47.2, 9.1), *window).refused) >= 5
    assert find_stays([for_statistics(one) for one in sets], Observer(47.2, 9.1), *window).refused == ()
