"""The contacts of a chosen evening: passes as they are worked, the moves, where the mount rests.

The choice is made of samples 5 s apart; a contact has the fine pointing of its pass again, ended where the
choice ends it. Where it is not what the verdict does (another way, one side of a split, a stretch of a pass
that no way holds all through), verdict, seconds lost and reason are made anew for what is worked.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from core.base.angles import Flags, Floats
from core.base.times import first_second, last_second, span_words
from core.mount.check.crossing import crossing_in_way
from core.mount.check.ends import rest_of
from core.mount.check.parts import in_one_way, rest_in_part
from core.mount.check.reasons import crossing_sentence, part_sentences, reason_for, rest_sentence
from core.mount.check.strikes import barring_of, kept_clear
from core.mount.check.verdict import in_way
from core.mount.check.ways import offset_in_turn, pointing_of_way
from core.mount.dial.readings import azimuth_dial
from core.mount.drive.motion import Steered, steer
from core.mount.drive.slew import move_seconds
from core.mount.drive.tracks import MountTrack
from core.mount.evening.joining import idle_place, place_at
from core.mount.evening.order.moves import ROUNDING_S, Mover
from core.mount.evening.order.rules import EveningRules, MountStart
from core.mount.evening.order.spans import ContactSpan
from core.mount.evening.results import Contact, Halt, Move
from core.mount.model.chain import guarded_travel_deg
from core.mount.model.results import PassCheck, Pointing, Reason, Rest, Sentence, Topic, Verdict
from core.mount.model.station import Mount, Posture, Station

_SAME_S = 1e-6
_T = TypeVar("_T", bound=np.generic)


def contact_of(
    span: ContactSpan,
    check: PassCheck,
    reason: Reason,
    track: MountTrack,
    station: Station,
    picked: bool,
    steered: Steered | None = None,
) -> Contact:
    """A contact but for the move before it.

    Args:
        span: what was chosen.
        check, reason, track: of its pass.
        station: what it is worked with.
        picked: a pick named the pass.
        steered: `steer` of the pass, where it is at hand.
    """
    followed, why = _followed(span, check, reason, track, station, steered)
    pointing = followed.pointing
    assert pointing is not None
    start, end = span.start_utc_s, span.end_utc_s
    over = np.flatnonzero(track.worked)
    late = max(start - float(track.utc_s[over[0]]), 0.0)
    early = max(float(track.utc_s[over[-1]]) - end, 0.0)
    if late > _SAME_S or early > _SAME_S:
        followed = replace(
            followed,
            pointing=_cut_pointing(pointing, start, end),
            seconds_lost=max(check.seconds_in_all - span.signal_s, 0.0),
        )
        if followed.chosen is not None and followed.chosen.rests:
            followed, why = _resting_inside(followed, why, (start, end), track, station)
        if followed.part is None:
            worked = Sentence(Topic.WORKED, _worked_words(span, pointing, station.mount))
            why = Reason((*why.sentences, worked), why.cure)
    middle = station.mount.azimuth.travel_deg / 2.0
    return Contact(
        check=followed,
        reason=why,
        worth=span.option.worth,
        picked=picked,
        start_utc_s=start,
        end_utc_s=end,
        move_before=None,
        wrap_before_deg=span.start.m_deg - middle,
        wrap_after_deg=span.end.m_deg - middle,
        joined_late_s=late,
        left_early_s=early,
    )


def _resting_inside(
    check: PassCheck, why: Reason, worked_s: tuple[float, float], track: MountTrack, station: Station
) -> tuple[PassCheck, Reason]:
    """The check and its reason with the rest of the way cut to the contact, gone where it lies outside."""
    way, pointing, (start, end) = check.chosen, check.pointing, worked_s
    assert way is not None
    assert way.rest is not None
    assert pointing is not None
    inside = (track.utc_s >= start - _SAME_S) & (track.utc_s <= end + _SAME_S)
    offset = offset_in_turn(track, station.mount, way.posture, way.turn)
    rest = rest_of(replace(track, worked=track.worked & inside), way.posture, offset, station)
    guard, top = guarded_travel_deg(station.mount.azimuth)
    m_deg = pointing.m_deg[pointing.worked]
    margin_deg = float(min(m_deg.min() - guard, top - m_deg.max()))
    if rest is not None:
        rest = _to_the_ends(rest, way.rest, worked_s, track.utc_s[inside])
        margin_deg = way.margin_deg
    cut = replace(way, rest=rest, rests=rest is not None, clear=rest is None, margin_deg=margin_deg)
    ways = tuple(cut if one == way else one for one in check.ways)
    told = tuple(rest_sentence(cut) if one.topic is Topic.REST else one for one in why.sentences)
    return replace(check, ways=ways, chosen=cut, resting=cut.rests), Reason(told, why.cure, why.strikes)


def _to_the_ends(rest: Rest, whole: Rest, worked_s: tuple[float, float], inside_s: Floats) -> Rest:
    """A rest found at samples, reaching to the contact's own ends where the pass rests beyond them."""
    (start, end), first, last = worked_s, float(inside_s[0]), float(inside_s[-1])
    early = start if rest.start_utc_s == first and whole.start_utc_s < start else rest.start_utc_s
    late = end if rest.end_utc_s == last and whole.end_utc_s > end else rest.end_utc_s
    more = (rest.start_utc_s - early) + (late - rest.end_utc_s)
    return replace(rest, start_utc_s=early, end_utc_s=late, seconds=rest.seconds + more)


def _worked_words(span: ContactSpan, pointing: Pointing, mount: Mount) -> str:
    """What of a pass is worked, where the rest would go the same way."""
    seconds = first_second(span.start_utc_s), last_second(span.end_utc_s)
    places = np.interp(seconds, pointing.utc_s, pointing.m_deg).tolist()
    start, end = (azimuth_dial(m_deg, mount.azimuth).text for m_deg in places)
    worked = span_words(span.start_utc_s, span.end_utc_s)
    return f"Of that, {worked} is worked, from dial {start} to dial {end}."


def _followed(
    span: ContactSpan,
    check: PassCheck,
    reason: Reason,
    track: MountTrack,
    station: Station,
    steered: Steered | None,
) -> tuple[PassCheck, Reason]:
    """The check with the option's way followed, and its reason."""
    way = span.option.way
    if way is None:
        return _split_or_side(span, check, reason, track, station)
    if span.option.whole:
        if check.chosen is not None and (check.chosen.posture, check.chosen.turn) == way:
            return check, reason
        other = in_way(check, track, station, way, steered)
        assert other is not None
        return other, reason_for(other, track, station)
    return _in_part(span, check, way, _pointing_in(track, station, way, steered), reason, track, station)


def _split_or_side(
    span: ContactSpan, check: PassCheck, reason: Reason, track: MountTrack, station: Station
) -> tuple[PassCheck, Reason]:
    """A split, or where not all of its move is in the contact the one side of it that is worked.

    Who joins while the move is made cannot leave the satellite for it: the mount comes to the later side.
    """
    split = check.split
    assert split is not None
    assert check.pointing is not None
    before = span.start_utc_s < split.start_utc_s - _SAME_S
    if before and span.end_utc_s > split.end_utc_s + _SAME_S:
        return check, reason
    way = (split.from_posture, split.from_turn) if before else (split.to_posture, split.to_turn)
    still = replace(check.pointing, moving=np.zeros_like(check.pointing.moving))
    return _in_part(span, replace(check, split=None), way, still, reason, track, station)


def _in_part(
    span: ContactSpan,
    check: PassCheck,
    way: tuple[Posture, int],
    pointing: Pointing,
    reason: Reason,
    track: MountTrack,
    station: Station,
) -> tuple[PassCheck, Reason]:
    start, end = span.start_utc_s, span.end_utc_s
    lost = max(check.seconds_in_all - span.signal_s, 0.0)
    limit = station.beam_limit_deg
    part, pointing = in_one_way(_cut_pointing(pointing, start, end), *way, limit)
    # The contact's own ends lie on the beam's edge, to rounding.
    on = pointing.worked.copy()
    for one in (start, end):
        on[_near(pointing.utc_s, one)] = True
    pointing = replace(pointing, worked=on)
    part = replace(part, start_utc_s=start, end_utc_s=end)
    worked = replace(
        check,
        verdict=Verdict.PART,
        resting=False,
        seconds_lost=lost,
        chosen=None,
        pointing=pointing,
        split=None,
        part=part,
    )
    done = part_sentences(part, lost, rest_in_part(track, pointing, part, station))
    # The verdict's reason says why no way holds it all through; where one does, it was about that way.
    kept = () if check.ways else reason.without(Topic.DONE, Topic.WAITING, Topic.REST)
    met = crossing_in_way(track, station.mount, way, limit)
    if met is not None:  # in the way that is worked, whichever the verdict's reason is about
        kept = tuple(
            crossing_sentence(met, station.mount) if one.topic is Topic.CROSSING else one for one in kept
        )
    return worked, Reason((*done, *kept), reason.cure, reason.strikes)


def _pointing_in(
    track: MountTrack, station: Station, way: tuple[Posture, int], steered: Steered | None
) -> Pointing:
    mount = station.mount
    posture, turn = way
    steered = steer(track, mount, station.steering) if steered is None else steered
    offset = offset_in_turn(track, mount, posture, turn)
    pointing = pointing_of_way(track, steered, mount, posture, offset)
    held = kept_clear(pointing, track, posture, offset, barring_of(station), station.beam_limit_deg)
    assert held is not None  # else there is no such option
    return held


def _cut_pointing(pointing: Pointing, start: float, end: float) -> Pointing:
    """Worked from start to end, both of which become samples."""
    old = pointing.utc_s
    new = [one for one in (start, end) if not _near(old, one)]
    at = np.searchsorted(old, new)
    left, right = np.maximum(at - 1, 0), np.minimum(at, old.size - 1)
    bounds = [*at.tolist(), old.size]

    def with_new(values: NDArray[_T], there: NDArray[_T]) -> NDArray[_T]:
        pieces = [values[: bounds[0]]]
        for number, (first, beyond) in enumerate(pairwise(bounds)):
            pieces += there[number : number + 1], values[first:beyond]
        return np.concatenate(pieces)

    def between(values: Floats) -> Floats:
        return with_new(values, np.interp(new, old, values))

    utc_s = with_new(old, np.array(new))
    first, beyond = _near(utc_s, start).start, _near(utc_s, end).stop

    def inside(flags: Flags) -> Flags:
        cut = with_new(flags, flags[left] & flags[right])
        cut[:first] = cut[beyond:] = False
        return cut

    return Pointing(
        utc_s=utc_s,
        m_deg=between(pointing.m_deg),
        e_deg=between(pointing.e_deg),
        off_deg=between(pointing.off_deg),
        worked=inside(pointing.worked),
        moving=inside(pointing.moving),
    )


def _near(utc_s: Floats, moment_s: float) -> range:
    """Which of some moments are as good as one."""
    return range(*np.searchsorted(utc_s, (moment_s - _SAME_S, moment_s + _SAME_S)).tolist())


def with_moves(
    contacts: list[Contact],
    spans: list[ContactSpan],
    mount: Mount,
    rules: EveningRules,
    mount_start: MountStart | None,
) -> list[Contact]:
    """The contacts with the move before each: of the first only where it is told where the mount stands."""
    left = [(span.end, contact.end_utc_s) for span, contact in zip(spans, contacts, strict=True)]
    if mount_start is not None:
        left.insert(0, (mount_start.axes, mount_start.utc_s))
    first = int(mount_start is None)
    moved, spans = contacts[:first], spans[first:]
    places = [here for here, _left_s in left[: len(spans)]], [span.start for span in spans]
    (m_from, e_from), (m_to, e_to) = (np.array(axes).reshape(-1, 2).T for axes in places)
    needed_s = move_seconds(mount, m_from, m_to, e_from, e_to).tolist()
    for contact, there, (here, left_s), seconds in zip(
        contacts[first:], places[1], left[: len(spans)], needed_s, strict=True
    ):
        gap_s = contact.start_utc_s - left_s
        fits = seconds + rules.move_margin_s <= gap_s + ROUNDING_S
        move = Move(seconds, gap_s, here.m_deg, there.m_deg, here.e_deg, there.e_deg, feasible=fits)
        moved.append(replace(contact, move_before=move))
    return moved


def rests_of(contacts: list[Contact], mover: Mover, rules: EveningRules) -> tuple[Halt, ...]:
    """Where the mount waits in the idle place, and where it is stowed."""
    found: list[Halt] = []
    for index, contact in enumerate(contacts):
        move = contact.move_before
        if move is None or mover.idle is None:
            continue
        m_deg, e_deg = mover.idle
        away = move.m_from_deg, move.m_to_deg, move.e_from_deg, move.e_to_deg
        if mover.idles(*away, move.seconds_there):
            there = float(mover.seconds(move.m_from_deg, m_deg, move.e_from_deg, e_deg))
            back = float(mover.seconds(m_deg, move.m_to_deg, e_deg, move.e_to_deg))
            left_s = contact.start_utc_s - move.seconds_there
            leaves_s = contact.start_utc_s - back - mover.margin_s
            found.append(Halt("idle", index - 1, m_deg, e_deg, left_s + there, leaves_s))
    if contacts and rules.stow_elevation_deg is not None:
        last = contacts[-1]
        assert last.check.pointing is not None
        m_last, e_last = place_at(last.check.pointing, last.end_utc_s)
        elevation = mover.mount.elevation
        m_deg = idle_place(mover.mount, rules.idle_m_deg).m_deg
        e_deg = min(max(rules.stow_elevation_deg, elevation.minimum_deg), elevation.maximum_deg)
        taken = float(mover.seconds(m_last, m_deg, e_last, e_deg))
        found.append(Halt("stow", len(contacts) - 1, m_deg, e_deg, last.end_utc_s + taken, None))
    return tuple(found)
