"""Rules on treatments, their stages and the floor they need."""

from __future__ import annotations

import math
from dataclasses import replace

from triage.errors import Level
from triage.records import Hall, Stage
from triage.records.chains import CHAINS
from triage.records.passages import Passage, outside_hall, passages, too_big_for
from triage.records.vocabulary import HALL_PLACE
from triage.survey.checks.context import Check, Survey, by_value
from triage.survey.delimited import normal
from triage.survey.fields import MonthsAhead
from triage.survey.register import Register
from triage.survey.sheet import Row, Sheet

_NEAR = 3  # rows of a treatment stand together; blank rows may lie between


# --- trades ---


def _trade_columns(survey: Survey) -> None:
    """Every ``hours_<trade>`` column is about a trade of trades; rows with such hours wait."""
    trades = survey.registers["trades"]
    alike = {normal(str(t)): str(t) for t in trades.known}
    for name in ("stages", "running"):
        sheet = survey.sheets[name]
        unknown = []
        for written in list(sheet.families):
            known = written if written in trades.known else alike.get(normal(written))
            if known is None:
                unknown.append(written)
            elif known != written:
                _rename(sheet, written, known)
        for written in unknown:
            _unknown_trade(sheet, trades, written)
        _wait_for_trades(sheet, trades)


def _rename(sheet: Sheet, written: str, known: str) -> None:
    sheet.families[known] = sheet.families.pop(written)
    for row in sheet.rows:
        if written in row.family:
            row.family[known] = row.family.pop(written)


def _unknown_trade(sheet: Sheet, trades: Register, written: str) -> None:
    """Fault a column of an unknown trade, unless the trades themselves could not be read."""
    header = sheet.headers[sheet.families[written]]
    top = Row(sheet.table.name, sheet.header_line, {}, [], {}, aside=True)
    if not trades.readable:
        top = trades.root
    else:
        mend = f"Add the trade to trades, or correct the header.{trades.hint(written)}"
        sheet.say(top, header, f"There is no trade {written!r}.", mend, value=header)
    for row in sheet.rows:
        if row.family.get(written) and row.waits_for is None:
            row.waits_for = top


def _wait_for_trades(sheet: Sheet, trades: Register) -> None:
    for row in sheet.rows:
        for trade, hours in row.family.items():
            behind = trades.known.get(trade)
            if hours and behind is not None and not behind.usable and row.waits_for is None:
                row.waits_for = behind


# --- floor ---


def _passes(space: Row, width: float | None, height: float | None) -> bool:
    door_width, door_height = space.values.get("door_width_m"), space.values.get("door_height_m")
    wide = width is None or door_width is None or width <= door_width
    return wide and (height is None or door_height is None or height <= door_height)


def _doors_of_spaces(survey: Survey) -> None:
    """A stage passes the doors of at least one space of its kind, and fits its floor."""
    spaces = by_value(survey.sheets["spaces"].rows, "kind")
    sheet = survey.sheets["stages"]
    said: dict[tuple[str, str, str], Row] = {}
    for row in sheet.rows:
        kind = row.values.get("place") or HALL_PLACE
        rooms = spaces.get(kind, [])
        if not rooms:
            continue
        width, height = row.values.get("width_m"), row.values.get("height_m")
        open_to = [r for r in rooms if _passes(r, width, height)]
        if not open_to:
            _refuse_door(sheet, row, rooms, said)
            continue
        most = max(r.values.get("area_m2", math.inf) for r in open_to)
        if row.values.get("area_m2", 0) > most:
            rule = f"No {kind} that lets it through is larger than {most:g} m²."
            sheet.say(row, "area_m2", rule, "Correct the area, or the space's.", Level.WARNING)


def _refuse_door(sheet: Sheet, row: Row, rooms: list[Row], said: dict[tuple[str, str, str], Row]) -> None:
    """Fault a size no door lets through; the treatment's other stages of that size wait for the first."""
    width = row.values.get("width_m")
    too_wide = not any(_passes(r, width, None) for r in rooms)
    column = "width_m" if too_wide else "height_m"
    first = said.setdefault((row.values.get("treatment_id", ""), column, sheet.text(row, column)), row)
    if first is not row:
        row.waits_for = row.waits_for or first
        return
    doors = "; ".join(
        f"{r.values['space_id']} {_metres(r, 'door_width_m')} x {_metres(r, 'door_height_m')}"
        for r in rooms
        if "space_id" in r.values
    )
    kind = row.values["place"]
    rule = f"No door of a {kind} lets this stage through (doors, width x height: {doors})."
    sheet.refuse(row, column, rule, "Correct the size, dismantle further first, or choose another place.")


def _metres(row: Row, column: str) -> str:
    return _size(row.values.get(column))


def _size(metres: float | None) -> str:
    return "?" if metres is None else f"{metres:g} m"


def _object_behind(survey: Survey, stage: Row) -> Row | None:
    """Return the object's row a stage's treatment is for, where all of it could be read."""
    treatment = survey.registers["treatments"].known.get(stage.values.get("treatment_id"))
    obj = treatment.values.get("object_id") if treatment else None
    return survey.registers["objects"].known.get(obj)


def _hall_of_stored(survey: Survey) -> None:
    """A stage on the hall's floor needs an object that stands in a hall."""
    sheet = survey.sheets["stages"]
    said: dict[str, Row] = {}
    for row in sheet.rows:
        obj = _object_behind(survey, row)
        if row.values.get("place") != HALL_PLACE or obj is None or "hall_id" in obj.bad:
            continue
        if "hall_id" not in obj.values or obj.values["hall_id"]:
            continue
        first = said.setdefault(row.values["treatment_id"], row)
        if first is not row:
            row.waits_for = row.waits_for or first
        else:
            rule = "The stage is on the hall's floor, and its object is in store."
            sheet.refuse(
                row, "place", rule, "Choose a kind of space, or leave it blank, or give the object a hall."
            )


def _door_of_hall(survey: Survey) -> None:
    """An object passes its hall's door out and back in; a treatment that does not is not planned."""
    sheet = survey.sheets["stages"]
    running = {r.values["treatment_id"]: r for r in survey.sheets["running"].usable()}
    for treatment, rows in by_value(sheet.usable(), "treatment_id").items():
        hall = _hall_behind(survey, rows[0])
        if hall is None:
            continue
        now = running.get(treatment)
        left = [r for r in rows if now is None or r.values["stage"] >= now.values["stage"]]
        left.sort(key=lambda r: int(r.values["stage"]))
        stages = [Stage(**row.values) for row in left]
        out = now is not None and bool(stages) and outside_hall(stages[0])
        stopped = next((p for p in passages(stages, already_out=out) if too_big_for(p, hall)), None)
        if stopped is not None:
            row = next(r for r in left if r.values["stage"] == stopped.stage.stage)
            _warn_of_door(sheet, row, stopped, hall, planned=now is not None)


def _hall_behind(survey: Survey, stage: Row) -> Hall | None:
    """Return the hall of the object a stage is for, where it has one that could be read."""
    obj = _object_behind(survey, stage)
    row = survey.registers["halls"].known.get(obj.values.get("hall_id")) if obj is not None else None
    return Hall(**row.values) if row is not None and row.usable else None


def _warn_of_door(sheet: Sheet, row: Row, passage: Passage, hall: Hall, *, planned: bool) -> None:
    too_wide = bool(too_big_for(replace(passage, height_m=None), hall))
    door = f"({_size(hall.door_width_m)} x {_size(hall.door_height_m)})"
    rule = f"The object does not pass the door of hall {hall.hall_id} {door} on its way {passage.way}"
    rule += "." if planned else ", so the treatment is not planned."
    mend = "Correct the size, or dismantle further before it passes that door."
    sheet.say(row, "width_m" if too_wide else "height_m", rule, mend, Level.WARNING)


# --- treatments as a whole ---


def _template_known(survey: Survey) -> None:
    """A template is one of the built-in chains."""
    sheet = survey.sheets["treatments"]
    for row in sheet.rows:
        template = row.values.get("template")
        if template and template not in CHAINS:
            rule = "There is no built-in chain of stages of this name."
            sheet.refuse(row, "template", rule, f"Write one of: {', '.join(CHAINS)}; or write its stages.")


def _template_served(survey: Survey) -> None:
    """A chain's kinds of space and trades are to be had in this workshop."""
    sheet = survey.sheets["treatments"]
    kinds, trades = survey.registers["kinds"], survey.registers["trades"]
    staged = by_value(survey.sheets["stages"].rows, "treatment_id")
    for row in sheet.usable():
        chain = CHAINS.get(row.values["template"])
        if chain is None or row.values["treatment_id"] in staged:
            continue
        places = {s.place for s in chain.stages if s.place and s.place != HALL_PLACE}
        trade_names = {t for s in chain.stages for t, hours in s.hours.items() if hours}
        lacking = sorted(p for p in places if kinds.find(p) is None)
        lacking += sorted(t for t in trade_names if trades.find(t) is None)
        if lacking and not (kinds.stray or trades.stray):
            rule = f"The chain needs what the workshop does not have: {', '.join(lacking)}."
            sheet.refuse(row, "template", rule, "Add it to spaces or trades, or write the stages yourself.")


def _window(survey: Survey) -> None:
    """A treatment's window opens before it closes."""
    sheet = survey.sheets["treatments"]
    first = survey.settings.first_month if survey.settings else None
    for row in sheet.rows:
        ends = [row.values.get(c) for c in ("not_before", "not_after")]
        if first is not None:
            ends = [first + e.months if isinstance(e, MonthsAhead) else e for e in ends]
        start, end = ends
        if isinstance(start, int) and isinstance(end, int) and start > end:
            rule = f"not_after lies before not_before ({sheet.text(row, 'not_before')})."
            sheet.refuse(row, "not_after", rule, "Exchange the two, or correct one of them.")


def _stages_complete(survey: Survey) -> None:
    """A treatment has its stages 1 to n without gaps, or a template; an incomplete one waits."""
    sheet, stages = survey.sheets["treatments"], survey.sheets["stages"]
    if not stages.readable:
        _wait_all(sheet, survey.registers["stages"].root)
        return
    by_treatment = by_value(stages.rows, "treatment_id")
    known = survey.registers["treatments"].known
    lost = [r for r in stages.rows if r.values.get("treatment_id") not in known]
    for own in by_treatment.values():
        _check_gap(stages, own, lost)
    for row in sheet.rows:
        if "treatment_id" not in row.values:
            continue  # whose id is lost has lost its stages with it
        own = by_treatment.get(row.values["treatment_id"], [])
        faulty = next((s for s in own if not s.usable), None)
        if not own and "template" in row.values and not row.values["template"]:
            _refuse_unstaged(sheet, row, lost)
        elif faulty is not None and row.usable:
            row.waits_for = faulty


def _wait_all(sheet: Sheet, root: Row) -> None:
    for row in sheet.usable():
        row.waits_for = root


def _check_gap(stages: Sheet, own: list[Row], lost: list[Row]) -> None:
    """Fault the stage after a gap, unless a row that names no known treatment may be the missing one."""
    first: dict[int, Row] = {}
    for row in own:
        number = row.values.get("stage")
        if number is None or first.setdefault(number, row).cells != row.cells:
            return
    before = 0
    for number, stage in sorted(first.items()):
        missing, before = range(before + 1, number), number
        theirs = next((r for r in lost if len(missing) == 1 and _may_be(r, missing[0], stage)), None)
        if theirs is not None:
            lost.remove(theirs)
            stage.waits_for = stage.waits_for or theirs
        elif missing:
            rule = f"Stages are numbered 1, 2, 3 without gaps; stage {missing[0]} is missing."
            stages.refuse(stage, "stage", rule, "Number the stages anew, or add the missing one.")


def _may_be(lost: Row, expected: int, after: Row) -> bool:
    """Return whether a lost row may be the stage missing before another: by number, and standing near it."""
    return lost.values.get("stage") in (expected, None) and 0 < after.line - lost.line <= _NEAR


def _refuse_unstaged(sheet: Sheet, row: Row, lost: list[Row]) -> None:
    theirs = next((r for r in lost if r.values.get("stage") in (1, None)), None)
    if theirs is not None:
        lost.remove(theirs)
        row.waits_for = row.waits_for or theirs
        return
    mend = "Write its stages, or name a template: " + ", ".join(CHAINS) + "."
    sheet.refuse(row, "treatment_id", "The treatment has neither stages nor a template.", mend)


def _wait_for_treatments(survey: Survey) -> None:
    """Stages, effects and running work of a treatment that cannot be used wait for it."""
    known = survey.registers["treatments"].known
    for name in ("stages", "treatment_effects", "running"):
        for row in survey.sheets[name].rows:
            treatment = known.get(row.values.get("treatment_id"))
            if treatment is not None and not treatment.usable and row.usable:
                row.waits_for = treatment


WORKSHOP_CHECKS: tuple[Check, ...] = (
    _trade_columns,
    _template_known,
    _window,
    _doors_of_spaces,
    _hall_of_stored,
    _template_served,
    _stages_complete,
    _wait_for_treatments,
    _door_of_hall,
)
