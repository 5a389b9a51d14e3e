"""Small report rows for tests of the parts: an invented hall, three objects, one bay."""

from __future__ import annotations

import datetime as dt

from triage.reports.rows import (
    BayBar,
    BayLane,
    Caution,
    DriverRow,
    ElementPage,
    FindingRow,
    ForecastPoint,
    GradePoint,
    HazardRow,
    HoursCell,
    HoursRow,
    JobRow,
    ObjectPage,
    SafetyRow,
    Span,
    StageRow,
    TreatmentChoice,
    UntreatedRow,
)
from triage.units import month_no

NOW = month_no("2027-01")
HORIZON = Span(NOW, NOW + 59)
LIFTING = Caution(
    "lifting",
    "Hung load. Lowering and hoisting are for licensed lifting practice under the local codes; keep "
    "everybody "
    "from beneath it. This plan is not permission to lift.",
)
HAZARD = Caution(
    "hazard", "Radium paint on the dials, confirmed: do not open before the radiation officer has agreed."
)
SAFETY = Caution("safety", "Keep people from beneath it and have it inspected by a competent person now.")


def stage(number: int = 1, start: int = 3, months: int = 4, waits: int = 0) -> StageRow:
    """Return a stage in the long bay."""
    work = Span(NOW + start, NOW + start + months - 1)
    return StageRow(
        number=number,
        title=("Lowering and dismantling", "Opening up", "Covering and doping")[number - 1],
        place="Long bay",
        space_id="B1",
        on_hall_floor=False,
        work=work,
        waits=Span(work.to_month + 1, work.to_month + waits) if waits else None,
        away=True,
        area_m2=120,
        hours=480,
        estimated=number == 3,
        cautions=(LIFTING,) if number == 1 else (HAZARD,) if number == 2 else (),
    )


def job(
    position: int = 1, object_id: str = "O1", *, start: int = 3, running: bool = False, away: bool = True
) -> JobRow:
    """Return a job of three stages."""
    stages = (stage(1, start, 2), stage(2, start + 2, 5, waits=2), stage(3, start + 9, 4))
    span = Span(stages[0].work.from_month, stages[-1].work.to_month)
    return JobRow(
        position=position,
        object_id=object_id,
        object_name=f"Marrowgate Plover {object_id}",
        hall_id="H1",
        hall_name="Slipway Hall",
        mounting="hung",
        treatment_id=f"T-{object_id}",
        treatment_title="Full treatment of the fabric covering",
        kind="workshop",
        running=running,
        span=span,
        off_display=(span,) if away else (),
        bays=("Long bay", "Spray room") if away else (),
        space_ids=("B1", "B2") if away else (),
        stages=stages,
        move_first=("Tern glider",),
        free_first=("Long bay: 120 m² from Apr 2027", "40 m² of clear floor in Slipway Hall in Apr 2027"),
        cautions=(LIFTING, HAZARD),
        why="Its covering is likely to be poor within two years, and each year of waiting loses 4 %.",
        cost=42000,
        loss_untreated=2100,
        loss_treated=900,
    )


def safety_row() -> SafetyRow:
    """Return a doubtful hung object."""
    return SafetyRow(
        object_id="O1",
        object_name="Marrowgate Plover O1",
        hall_id="H1",
        hall_name="Slipway Hall",
        mounting="hung",
        element_ids=("strop",),
        chance=0.41,
        low=0.2,
        high=0.6,
        worst_recorded=3,
        reason="Its suspension was last graded 3 and may well be worse now.",
        caution=SAFETY,
    )


def untreated_row() -> UntreatedRow:
    """Return an object left alone."""
    return UntreatedRow(
        "O3", "Gannet engine", "Slipway Hall", True, 310, 0.12, 8.5, "Loses about an eighth by 2052."
    )


def lane(lane_id: str = "B1", objects: int = 2) -> BayLane:
    """Return a bay with one bar of two stages for each object."""
    bars = tuple(
        BayBar(
            lane_id=lane_id,
            object_id=f"O{i + 1}",
            object_name=f"Marrowgate Plover number {i + 1} with a long name",
            treatment_title="Full treatment",
            stage_number=n + 1,
            stage_title=("Opening up", "Covering")[n],
            work=Span(NOW + 2 * i + 6 * n, NOW + 2 * i + 6 * n + 3),
            waits=Span(NOW + 2 * i + 4, NOW + 2 * i + 5) if n == 0 else None,
            area_m2=60,
            running=i == 0,
            cautions=(),
        )
        for i in range(objects)
        for n in range(2)
    )
    used = tuple(60 if 2 < m < 14 else 0 for m in range(60))
    return BayLane(
        lane_id=lane_id,
        name="Long bay",
        what="space",
        kind="restoration bay",
        area_m2=(240,) * 60,
        used_m2=used,
        slots=(3,) * 60,
        used_slots=tuple(1 if u else 0 for u in used),
        bars=bars,
        note="The door's height is not on record.",
    )


def hours_row() -> HoursRow:
    """Return a trade with overtime in one month and one closed month."""
    cells = tuple(
        HoursCell(
            NOW + m,
            170 if m == 5 else 0 if m == 7 else 120,
            0 if m == 7 else 160,
            10 if m == 5 else 0,
            20,
            m == 7,
        )
        for m in range(60)
    )
    return HoursRow("structures", cells, sum(c.planned for c in cells), 10, NOW + 5)


def element(element_id: str = "covering", *, graded: bool = True, safety: bool = False) -> ElementPage:
    """Return an element graded 1, 2, unseen, 3 and then treated."""
    marks = ((2019, 1, False), (2021, 2, False), (2022, None, False), (2024, 3, False), (2025, 1, True))
    past = tuple(
        GradePoint(
            dt.date(year, 5, 2), "assessor B", grade, "taut and sound" if grade == 1 else "slack", "", treated
        )
        for year, grade, treated in marks
    )
    ahead = tuple(
        ForecastPoint(
            NOW + 12 * k,
            (0.8 - 0.07 * k, 0.1, 0.06 * k, 0.1 + 0.01 * k),
            0.1 + 0.07 * k,
            0.05,
            0.2 + 0.07 * k,
        )
        for k in range(11)
    )
    return ElementPage(
        element_id=element_id,
        kind="covering",
        material="doped linen",
        share=0.6,
        safety=safety,
        past=past if graded else (),
        ahead=ahead,
        basis="own history" if graded else "material",
        sentence="An even chance of being poor by 2033.",
    )


def object_sheet(*, surveyed: bool = True, planned: bool = True) -> ObjectPage:
    """Return an object with everything on it."""
    hazard = HazardRow(
        "radium paint", "confirmed", "dials", "radiation officer", dt.date(2020, 1, 1), HAZARD.text
    )
    return ObjectPage(
        object_id="O1",
        object_name="Marrowgate Plover O1",
        category="trainer",
        hall_id="H1",
        hall_name="Slipway Hall",
        mounting="hung",
        significance=80.0,
        size_words="9.2 m long, 12.1 m span",
        elements=(element(), element("strop", safety=True), element("dials", graded=False)),
        findings=(FindingRow("F1", dt.date(2023, 5, 2), "covering", "light", 2, "fading", None),),
        surveyed=surveyed,
        hazards=(hazard,) if surveyed else (),
        cautions=(LIFTING, HAZARD),
        safety=safety_row(),
        loss_points=2100,
        loss_share=0.26,
        loss_share_low=0.18,
        loss_share_high=0.4,
        wait_points=88.0,
        wait_sentence="Each year of waiting loses about 1 % of the object.",
        drivers=(DriverRow("element", "covering", 1500.0, 0.71), DriverRow("cause", "light", 600.0, 0.29)),
        treatments=(
            TreatmentChoice("T-O1", "Full treatment", "workshop", 13, 42000, planned, "", 800, 2100),
            TreatmentChoice(
                "T-O1b", "Shade", "in_gallery", 1, 300, False, "Its door is too narrow.", None, 2100
            ),
        ),
        job=job() if planned else None,
        blocked=("Long bay is full until Mar 2027.",),
        neighbours=("Tern glider stands in the Long bay from Jun 2027.",),
    )
