"""What stands on the pages: texts ready to print; drawings as strokes, discs and labels in millimetres."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

Dash = Literal["solid", "dashed", "dotted"]
Paint = Literal["none", "black", "white"]
Anchor = Literal["left", "center", "right"]


@dataclass(frozen=True)
class Stroke:
    """A line through points; x to the right, y down from the drawing's upper left corner.

    Attributes:
        points_mm: at least two (x, y).
        width_mm: thickness of the line, 0 for none.
        dash: how the line is broken.
        closed: the last point is joined to the first.
        fill: what fills it.
        kind: which item of a drawing this is.
    """

    points_mm: tuple[tuple[float, float], ...]
    width_mm: float = 0.2
    dash: Dash = "solid"
    closed: bool = False
    fill: Paint = "none"
    kind: Literal["stroke"] = "stroke"


@dataclass(frozen=True)
class Disc:
    """A circle about (x, y)."""

    x_mm: float
    y_mm: float
    radius_mm: float
    width_mm: float = 0.2
    fill: Paint = "none"
    kind: Literal["disc"] = "disc"


@dataclass(frozen=True)
class Label:
    """A text whose left end, middle or right end lies at (x, y), centred in height; on white over lines."""

    x_mm: float
    y_mm: float
    text: str
    anchor: Anchor = "center"
    size_pt: float = 9.0
    bold: bool = False
    on_white: bool = False
    kind: Literal["label"] = "label"


Item = Stroke | Disc | Label


@dataclass(frozen=True)
class Drawing:
    """Items in the order they are painted, in a box of this size."""

    width_mm: float
    height_mm: float
    items: tuple[Item, ...]


@dataclass(frozen=True)
class Dial:
    """A dial reading as printed: the figure, and ``2nd`` where the dial reads the same twice."""

    figure: str
    time_round: str = ""

    @property
    def text(self) -> str:
        """``20`` or ``20 (2nd)``, as it stands on the page."""
        return f"{self.figure} ({self.time_round})" if self.time_round else self.figure


@dataclass(frozen=True)
class LegendLine:
    """A verdict's word, its mark, and what the mark says."""

    word: str
    mark: Drawing
    meaning: str


@dataclass(frozen=True)
class Stop:
    """A stop: its name, true bearing of boresight there, and the dial there."""

    name: str
    true_deg: str
    dial: Dial


@dataclass(frozen=True)
class Correction:
    """What to add to every azimuth dial for a keyway that came out at ``keyway_deg``."""

    keyway_deg: str
    add: str


@dataclass(frozen=True)
class TravelTest:
    """One line of the travel test: where the axis is set, the true bearing there (or empty), the dial."""

    place: str
    true_deg: str
    dial: Dial


@dataclass(frozen=True)
class SecondStart:
    """Where a pass starts on the dials in the second best seat.

    Attributes:
        number: the pass' place in the evening of the seat planned.
        satellite, utc: which.
        verdict: the word in that seat.
        azimuth, elevation: the dials; empty when out of reach.
    """

    number: int
    satellite: str
    utc: str
    verdict: str
    azimuth: Dial
    elevation: Dial


@dataclass(frozen=True)
class SecondSeat:
    """The best seat in another place, for when the ground forbids the one that is planned.

    Attributes:
        keyway_true_deg, keyway_magnetic_deg, hole: figures and name.
        words: what it costs.
        starts: the worked passes.
    """

    keyway_true_deg: str
    keyway_magnetic_deg: str
    hole: str
    words: str
    starts: tuple[SecondStart, ...]


@dataclass(frozen=True)
class SetUpCard:
    """Everything needed to set the station down, and what the figures rest on.

    Attributes:
        hours: the evening in words.
        site, position: where, with signs in words.
        time_zone: the zone with its offset.
        warnings: sentences that must not be missed.
        keyway_true_deg, keyway_magnetic_deg: figures.
        declination: in words, with its error.
        hole, hole_words: its name; offset and place together.
        stops: counter-clockwise and clockwise.
        travel: in words, with guard and dial limits.
        place_within: how far off the keyway may be placed, or empty.
        picture: seen from above.
        dial_words: how the two dials read.
        rule, example: the correction for a keyway that came out elsewhere.
        corrections: the rule worked out, keyways below and above the intended one.
        steerings: what else entered the figures: steering, sighting correction, tilt.
        steps: the order of setting up.
        cautions: (what, sentence).
        defer: what comes before this sheet.
        legend: the marks.
        ages: (satellite, age in words, stale).
        assumed: what the plan left out.
        notes: the operator's own lines.
        travel_test: what the dials must read at the ends and the middle of the travel.
        forbidden: sentences about forbidden keyway bearings.
        second: the best seat elsewhere; None where it was not asked for or there is none.
    """

    hours: str
    site: str
    position: str
    time_zone: str
    warnings: tuple[str, ...]
    keyway_true_deg: str
    keyway_magnetic_deg: str
    declination: str
    hole: str
    hole_words: str
    stops: tuple[Stop, Stop]
    travel: str
    guards: tuple[Dial, Dial]
    place_within: str
    picture: Drawing
    dial_words: tuple[str, ...]
    rule: str
    example: str
    corrections_below: tuple[Correction, ...]
    corrections_above: tuple[Correction, ...]
    steerings: tuple[str, ...]
    steps: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    defer: str
    legend: tuple[LegendLine, ...]
    ages: tuple[tuple[str, str, bool], ...]
    assumed: tuple[str, ...]
    notes: tuple[str, ...]
    travel_test: tuple[TravelTest, ...] = ()
    forbidden: tuple[str, ...] = ()
    second: SecondSeat | None = None


@dataclass(frozen=True)
class EveningLine:
    """One contact in the evening's order.

    Attributes:
        number: 1 for the first.
        satellite: name.
        verdict: word, with "resting" where it rests.
        mark: the verdict's mark.
        utc, local: first to last moment of what is worked.
        peak: elevation and bearing of the highest point.
        start_azimuth, start_elevation: dials to set before AOS; empty figures when out of reach.
        end_azimuth, end_elevation: dials when it is over.
        posture: how the elevation axis serves.
        turn: which way, how far.
        move: the move before it, in words.
        in_time: the move before it is feasible.
        start_moving_by: latest moment to start a move that fits, or empty.
        wrap_after: the cable's twist from mid travel, signed.
        lost: seconds lost.
        joins: when it is joined from a dead start at its start; empty when out of reach.
    """

    number: int
    satellite: str
    verdict: str
    mark: Drawing
    utc: str
    local: str
    peak: str
    start_azimuth: Dial
    start_elevation: Dial
    end_azimuth: Dial
    end_elevation: Dial
    posture: str
    turn: str
    move: str
    in_time: bool
    start_moving_by: str
    wrap_after: str
    lost: str
    joins: str


@dataclass(frozen=True)
class LeftOut:
    """A pass that is not worked: which, when, how high, its verdict alone, and why it is left out."""

    satellite: str
    mark: Drawing
    when: str
    peak: str
    verdict: str
    why: str


@dataclass(frozen=True)
class EveningPage:
    """The contacts in order, what is left out, and the evening on the dial (None for more than a day)."""

    lines: tuple[EveningLine, ...]
    strip: Drawing | None
    left_out: tuple[LeftOut, ...]
    told: tuple[str, ...]


@dataclass(frozen=True)
class Row:
    """One line of a pass card: set this dial at this second.

    Attributes:
        utc, local: HH:MM:SS.
        azimuth, elevation: the dials at that second.
        turn: "cw", "ccw" or empty: which way from here to the next line.
        true_azimuth_deg, elevation_deg, range_km: the satellite.
        note: what happens here.
        strong: an event and not a step between.
    """

    utc: str
    local: str
    azimuth: Dial
    elevation: Dial
    turn: str
    true_azimuth_deg: str
    elevation_deg: str
    range_km: str
    note: str
    strong: bool


@dataclass(frozen=True)
class PassCard:
    """One pass.

    Attributes:
        number, of: its place in the evening.
        satellite, norad_id: which.
        verdict, mark: the word and its mark.
        utc, local: first to last moment over the mask, with the dates.
        peak: elevation, bearing, time; range at TCA.
        reason: why the verdict is what it is.
        posture: how the elevation axis serves; empty when out of reach.
        start_azimuth, start_elevation: dials to set before it starts.
        turn: which way and how far, in words.
        facts: short lines: where the dial ends, nearest to a stop, seconds lost, wrap.
        before, after: what to do before and after it.
        late: the move before it does not fit.
        rows: the table.
        step: in words, what lies between two lines.
        twice: a sentence where the dial reads the same twice, else empty.
        polar: the sky.
    """

    number: int
    of: int
    satellite: str
    norad_id: str
    verdict: str
    mark: Drawing
    utc: str
    local: str
    peak: str
    reason: str
    posture: str
    start_azimuth: Dial
    start_elevation: Dial
    turn: str
    facts: tuple[str, ...]
    before: str
    after: str
    late: bool
    rows: tuple[Row, ...]
    step: str
    twice: str
    polar: Drawing


@dataclass(frozen=True)
class SheetContent:
    """The whole sheet before it is laid out.

    Attributes:
        identity: of the result it was made from.
        title: the plan's.
        made_utc_s: when the sheet was made.
        made, elements, seat, time_zone: the foot of every page.
        set_up, evening, cards: the pages.
    """

    identity: str
    title: str
    made_utc_s: float
    made: str
    elements: str
    seat: str
    time_zone: str
    set_up: SetUpCard
    evening: EveningPage
    cards: tuple[PassCard, ...]

    def dials(self) -> Iterator[Dial]:
        """Every dial reading that is printed."""
        for stop in self.set_up.stops:
            yield stop.dial
        yield from self.set_up.guards
        for test in self.set_up.travel_test:
            yield test.dial
        if self.set_up.second is not None:
            for start in self.set_up.second.starts:
                yield from (start.azimuth, start.elevation)
        for line in self.evening.lines:
            yield from (line.start_azimuth, line.start_elevation, line.end_azimuth, line.end_elevation)
        for card in self.cards:
            yield from (card.start_azimuth, card.start_elevation)
            for row in card.rows:
                yield from (row.azimuth, row.elevation)
