"""Write the collection folder of the invented museum: ``python -m demo_collection.generate [FOLDER]``.

The same files come out byte for byte every time: all chance is seeded (see chance.py), no clock is read.
"""

from __future__ import annotations

import csv
import io
import sys
from pathlib import Path

from demo_collection import anatomy, cast, events, history, museum, works
from demo_collection.museum import CAUSES, TRADES

Row = dict[str, object]
_HEADERS = {
    "settings.csv": "name,value",
    "halls.csv": "hall_id,name,floor_m2,clear_m2,most_away,door_width_m,door_height_m,length_m,width_m",
    "objects.csv": "object_id,name,category,hall_id,mounting,length_m,span_m,height_m,mass_kg,"
    "display_m2,significance,x_m,y_m,turned_deg,in_the_way,away_points",
    "elements.csv": "object_id,element_id,kind,material,share,safety",
    "rounds.csv": "round_id,date,assessor",
    "grades.csv": "round_id,object_id,element_id,grade,note",
    "findings.csv": "finding_id,round_id,object_id,element_id,cause,severity,extent_pct,note,"
    "ended_on,began_on",
    "treated.csv": "date,object_id,element_id,grade_after,note",
    "environment.csv": "hall_id,year,light_klux_h,temperature_c,humidity_pct,humidity_swing_pct",
    "materials.csv": "material,years_1_to_2,years_2_to_3,years_3_to_4,spread",
    "hazards.csv": "object_id,hazard,state,by,date,note",
    "treatments.csv": "treatment_id,object_id,title,kind,cost,ends_causes,slows_to,not_before,"
    "not_after,template",
    "treatment_effects.csv": "treatment_id,element_id,grade_after,original_kept_pct",
    "stages.csv": "treatment_id,stage,title,months,place,area_m2,width_m,height_m,most_wait,away",
    "spaces.csv": "space_id,name,kind,area_m2,slots,door_width_m,door_height_m,length_m,width_m",
    "trades.csv": "trade,hours_per_month,overtime_hours",
    "availability.csv": "what,id,from,to,amount",
    "display_rules.csv": "rule_id,rule,objects,number,from,to,note",
    "budget.csv": "year,amount",
    "running.csv": "object_id,treatment_id,stage,months_left,space_id",
    "moves.csv": "object_id,date,hall_id",
}
_MORE = {
    "materials.csv": [f"x_{cause}" for cause in CAUSES],
    "stages.csv": [f"hours_{trade}" for trade in TRADES],
    "running.csv": [f"hours_left_{trade}" for trade in TRADES],
}
COLUMNS = {name: [*header.split(","), *_MORE.get(name, [])] for name, header in _HEADERS.items()}
"""file name -> its columns."""


def tables() -> dict[str, list[Row]]:
    """Return file name -> rows."""
    return {
        "settings.csv": museum.settings_rows(),
        "halls.csv": museum.hall_rows(),
        "objects.csv": cast.object_rows(),
        "elements.csv": anatomy.element_rows(),
        "rounds.csv": history.round_rows(),
        "grades.csv": history.grade_rows(),
        "findings.csv": history.finding_rows(),
        "treated.csv": events.treated_rows(),
        "environment.csv": museum.environment_rows(),
        "materials.csv": museum.material_rows(),
        "hazards.csv": events.hazard_rows(),
        "treatments.csv": works.treatment_rows(),
        "treatment_effects.csv": works.effect_rows(),
        "stages.csv": works.stage_rows(),
        "spaces.csv": museum.space_rows(),
        "trades.csv": museum.trade_rows(),
        "availability.csv": museum.availability_rows(),
        "display_rules.csv": museum.rule_rows(),
        "budget.csv": museum.budget_rows(),
        "running.csv": works.running_rows(),
        "moves.csv": list(events.MOVES),
    }


def as_csv(name: str, rows: list[Row]) -> str:
    """Return one table as CSV text.

    Raises
    ------
    ValueError
        If a row holds a column the table does not have.
    """
    out = io.StringIO()
    writer = csv.DictWriter(out, COLUMNS[name], restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def write(folder: Path) -> None:
    """Write every table of the invented museum into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, rows in tables().items():
        (folder / name).write_text(as_csv(name, rows), encoding="utf-8", newline="\n")


if __name__ == "__main__":
    write(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent)
