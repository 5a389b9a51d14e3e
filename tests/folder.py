"""A collection written as a folder of CSV files: a tiny museum whose main job takes a second or two."""

from __future__ import annotations

from pathlib import Path

TABLES = {
    "settings": """
name,value
museum,Saltmarsh Air Hall
first_month,2027-01
months,12
currency,EUR
""",
    "halls": """
hall_id,name,floor_m2,clear_m2,most_away,door_width_m,door_height_m
HARBOUR,Harbour Hall,900,130,2,6,4
""",
    "objects": """
object_id,name,category,hall_id,mounting,length_m,span_m,height_m,mass_kg,display_m2,significance,in_the_way
GLIDER,Tern glider,glider,HARBOUR,hung,6,14,2,180,40,80,BIPLANE
BIPLANE,Sandpiper biplane,aircraft,HARBOUR,floor,7,9,3,600,70,61,
""",
    "elements": """
object_id,element_id,kind,material,share,safety
GLIDER,covering,covering,doped fabric,3,no
GLIDER,hangers,suspension,steel,1,yes
BIPLANE,covering,covering,doped fabric,,no
""",
    "rounds": """
round_id,date,assessor
R24,2024-03-01,A
R25,2025-03-01,B
R26,2026-03-01,A
""",
    "grades": """
round_id,object_id,element_id,grade,note
R24,GLIDER,covering,1,
R25,GLIDER,covering,2,
R26,GLIDER,covering,3,seams open
R24,GLIDER,hangers,2,
R26,GLIDER,hangers,3,
R24,BIPLANE,covering,2,
R26,BIPLANE,covering,3,
""",
    "findings": """
finding_id,round_id,object_id,element_id,cause,severity,extent_pct,note,ended_on
F1,R25,GLIDER,covering,daylight,3,40,,
""",
    "hazards": """
object_id,hazard,note,state
GLIDER,cellulose nitrate dope,,confirmed
""",
    "treatments": """
treatment_id,object_id,title,kind,cost,ends_causes,slows_to
T-GLIDER,GLIDER,Re-cover the glider,workshop,12000,daylight,0.5
T-BIPLANE,BIPLANE,Shade the biplane,in_gallery,300,,0.5
""",
    "treatment_effects": """
treatment_id,element_id,grade_after,original_kept_pct
T-GLIDER,covering,1,95
T-GLIDER,hangers,1,100
""",
    "stages": """
treatment_id,stage,title,months,place,area_m2,width_m,height_m,most_wait,away,hours_woodwork,hours_rigging
T-GLIDER,1,Lower,1,hall,90,,,,yes,,40
T-GLIDER,2,Re-cover,3,bay,45,2.5,2,2,yes,300,
T-GLIDER,3,Hoist,1,hall,90,,,6,yes,,40
T-BIPLANE,1,Fit a shade,1,,,,,,no,8,
""",
    "spaces": """
space_id,name,kind,area_m2,slots,door_width_m,door_height_m
BAY1,North bay,bay,80,1,5,3
""",
    "trades": """
trade,hours_per_month
woodwork,160
rigging,80
""",
}


def write_folder(folder: Path, **changes: str | None) -> Path:
    """Write the tiny museum into a folder, some tables changed or (None) left out, and return the folder."""
    folder.mkdir(exist_ok=True)
    for name, text in {**TABLES, **changes}.items():
        if text is not None:
            (folder / f"{name}.csv").write_text(text.lstrip(), encoding="utf-8")
    return folder
