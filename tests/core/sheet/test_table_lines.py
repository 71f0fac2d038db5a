"""What must have a line in the table of a pass."""

from dataclasses import replace

from core.mount.evening.drawn import drawn_pass
from core.sheet.table_lines import table_lines
from tests.core.sheet.samples import MOUNT, Wanted, check_of, pass_of

WANTED = Wanted("upright", "COMB-1", 0.0, 60.0, 20.0)


def test_of_a_mask_with_many_teeth_the_longest_gaps_are_told():
    """Nine gaps, each a second longer than the one before it."""
    whole = pass_of(WANTED, 44001)
    start_s, end_s = whole.stretches[0]
    edges = [start_s]
    for tooth in range(9):
        edges += [start_s + 20.0 + 40.0 * tooth, start_s + 22.0 + 41.0 * tooth]
    edges.append(end_s)
    pass_ = replace(whole, stretches=tuple(zip(edges[::2], edges[1::2], strict=True)))
    check = check_of(WANTED, pass_, MOUNT)
    lines, _step_deg = table_lines(drawn_pass(check, MOUNT), check, 5.0, 60)
    told = [round(line.utc_s - start_s) for line in lines if "behind the mask" in line.note]
    longest = [round(20.0 + 40.0 * tooth) for tooth in range(9)][-len(told) :]
    assert 0 < len(told) < 9
    assert told == longest
