"""The queue of the tiny museum's plan, worked out on paper in ``tests/studies.py``."""

from __future__ import annotations

from tests.museum import STAGES, month, museum
from tests.studies import JOBS, study
from triage.records import Running
from triage.reports.queue import gallery_rows, queue_rows, running_rows
from triage.reports.rows import JobRow, Span


def row(object_id: str) -> JobRow:
    """Return one object's row of the queue."""
    return next(r for r in queue_rows(study()) if r.object_id == object_id)


def span(first: str, last: str) -> Span:
    """Return calendar months."""
    return Span(month(first), month(last))


def test_the_queue_holds_workshop_jobs_by_start() -> None:
    """Biplane in January, glider in February; the gallery action is not in it."""
    assert [(r.position, r.object_id) for r in queue_rows(study())] == [(1, "BIPLANE"), (2, "GLIDER")]


def test_a_row_names_object_hall_treatment_bay_and_months() -> None:
    """Names as people use them; months as calendar months, both included."""
    glider = row("GLIDER")

    assert (glider.object_name, glider.hall_name) == ("Tern glider", "Harbour Hall")
    assert (glider.treatment_title, glider.bays) == ("Re-cover the glider", ("South bay",))
    assert glider.span == span("2027-02", "2027-08")
    assert glider.off_display == (span("2027-02", "2027-08"),)
    assert glider.span.months == 7


def test_off_display_is_cut_where_the_object_is_back_between_stages() -> None:
    """Two absences with a stage on display between them are two spans."""
    stages = (STAGES[0], STAGES[1].model_copy(update={"away": False}), *STAGES[2:])
    rows = queue_rows(study(museum(stages=stages)))

    assert rows[1].off_display == (span("2027-02", "2027-02"), span("2027-08", "2027-08"))


def test_an_object_in_store_is_never_off_display() -> None:
    """Nobody could see it before: its months away are not listed."""
    objects = tuple(
        o.model_copy(update={"hall_id": None}) if o.object_id == "BIPLANE" else o for o in museum().objects
    )
    rows = queue_rows(study(museum(objects=objects), {"BIPLANE": JOBS["BIPLANE"]}))

    assert [(r.hall_name, r.off_display) for r in rows] == [("in store", ())]


def test_stages_carry_place_months_waits_and_floor() -> None:
    """Re-covered March to June, waiting in the bay in July, hoisted in August on 90 m2 of hall floor."""
    lower, cover, hoist = row("GLIDER").stages

    assert (lower.place, lower.on_hall_floor, lower.area_m2) == ("clear floor of Harbour Hall", True, 90)
    assert (cover.place, cover.work, cover.waits) == (
        "South bay",
        span("2027-03", "2027-06"),
        span("2027-07", "2027-07"),
    )
    assert (cover.area_m2, cover.hours) == (46, 303)
    assert (hoist.number, hoist.work, hoist.waits) == (3, span("2027-08", "2027-08"), None)


def test_what_stands_in_the_way_is_named() -> None:
    """The biplane stands under the glider; that it is away then is said."""
    assert row("GLIDER").move_first == ("Sandpiper biplane",)
    assert row("GLIDER").free_first[0] == (
        "Move first: Sandpiper biplane stands under it or on its way out. It is off display then."
    )
    assert row("BIPLANE").move_first == ()


def test_hall_floor_says_whose_spot_must_be_free_and_that_it_is_area() -> None:
    """90 m2 are needed and 60 clear: the biplane's 70 must be free, in February and in August."""
    said = row("GLIDER").free_first[1:]

    assert [text.split(" must be clear, ")[1][:8] for text in said] == ["Feb 2027", "Aug 2027"]
    assert all("an area, not a shape" in text for text in said)
    assert all("The hall keeps only 60 m² clear" in text for text in said)
    assert all("Sandpiper biplane (70 m², away until Sep 2027)" in text for text in said)


def test_a_bay_names_who_must_have_left_it() -> None:
    """With the glider in the north bay after the biplane, the biplane must have left."""
    jobs = {**JOBS, "GLIDER": ("T-GLIDER", ((6, None), (9, "BAY1"), (13, None)))}
    stages = (
        STAGES[0],
        STAGES[1].model_copy(update={"most_wait": 2}),
        STAGES[2].model_copy(update={"area_m2": 60}),
        *STAGES[3:],
    )
    glider = queue_rows(study(museum(stages=stages), jobs))[1]

    assert "North bay must be free: Sandpiper biplane is planned to leave it by the end of Sep 2027." in (
        glider.free_first
    )


def test_a_bay_with_room_for_both_waits_for_nobody() -> None:
    """The south bay stood empty before the glider came."""
    assert not any("South bay" in text for text in row("GLIDER").free_first)


def test_cautions_stand_in_order_lifting_hazards_not_checked() -> None:
    """The flag, hung load, what to move, the dope, then the door nobody measured."""
    cautions = row("GLIDER").cautions

    assert [c.kind for c in cautions] == ["safety", "lifting", "lifting", "hazard", "not_checked"]
    assert cautions[2].text == "Move first: Sandpiper biplane."
    assert cautions[4].text == "Door of South bay not measured: not checked."


def test_the_chosen_bay_decides_what_was_not_checked() -> None:
    """The biplane's size is unknown, its bay's door is measured."""
    assert [c.text for c in row("BIPLANE").cautions if c.kind == "not_checked"] == [
        "Size in stage 1 not known: no door checked for it."
    ]


def test_hazards_stand_before_every_stage_that_moves_or_opens_the_object() -> None:
    """Each of the glider's three stages carries its dope."""
    assert [any(c.kind == "hazard" for c in s.cautions) for s in row("GLIDER").stages] == [True] * 3


def test_why_is_said_in_shares_and_years() -> None:
    """The plain losses: 40 % alone, 40 - 12 + 0.9 (nine months) with treatment, 1.2 % a year's wait."""
    assert row("BIPLANE").why == (
        "Left alone, about 40 % of what is original in it would be lost by Jan 2052; with this treatment "
        "about 29 %. The largest loss is in its covering, as likely as not to be poor by "
        "Jul 2029. One more year's wait costs about 1.2 % of it for good."
    )


def test_a_cause_is_said_only_as_an_association() -> None:
    """Whatever ending the light would save is said with its condition."""
    assert (
        "Of the causes noted, light costs most: ending it would save about 5.0 % "
        "(if the association is causal)."
    ) in row("GLIDER").why


def test_points_are_those_of_the_problem() -> None:
    """Untreated and treated losses are the whole points that the plan was made with."""
    biplane = row("BIPLANE")

    assert (biplane.loss_untreated, biplane.loss_treated) == (2440, 1763)


def test_gallery_actions_have_rows_of_their_own() -> None:
    """The engine's oil: a gallery job in January that leaves it on display."""
    (engine,) = gallery_rows(study())

    assert (engine.object_id, engine.kind, engine.off_display, engine.bays) == (
        "ENGINE",
        "in_gallery",
        (),
        (),
    )
    assert engine.span == span("2027-01", "2027-01")


def test_running_work_is_apart_from_the_queue() -> None:
    """What goes on already is not next: it has its own rows, and stages from the present one on."""
    running = (Running(object_id="GLIDER", treatment_id="T-GLIDER", stage=2, months_left=2, space_id="BAY2"),)
    jobs = {"GLIDER": ("T-GLIDER", ((0, "BAY2"), (2, None))), "BIPLANE": JOBS["BIPLANE"]}
    made = study(museum(running=running), jobs)

    assert [r.object_id for r in queue_rows(made)] == ["BIPLANE"]
    (glider,) = running_rows(made)
    assert (glider.running, [s.number for s in glider.stages], glider.cost) == (True, [2, 3], 0)


def test_before_any_search_the_queue_is_empty() -> None:
    """No plan, no rows: nothing is made up."""
    assert (
        queue_rows(study(jobs=None)) == gallery_rows(study(jobs=None)) == running_rows(study(jobs=None)) == ()
    )
