"""A small sound museum as tables of text, and writers of it: the ground on which faults are planted."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import openpyxl

Tables = dict[str, list[list[str]]]
OBJECTS = 12
ELEMENTS = ("covering", "structure", "tyres")


def good_tables() -> Tables:
    """Return a collection without fault or warning; the first row of each table is its header."""
    return {**_museum(), **_survey(), **_workshop()}


def _museum() -> Tables:
    return {
        "settings": [
            ["name", "value"],
            ["first_month", "2026-01"],
            ["months", "60"],
            ["currency", "crowns"],
            ["museum", "Museum of the Long Shore"],
            ["value_years", "25"],
        ],
        "halls": [
            ["hall_id", "name", "floor_m2", "clear_m2", "most_away", "door_width_m", "door_height_m"],
            ["H1", "West hall", "1200", "150", "2", "14", "6"],
            ["H2", "East hall", "900.5", "80", "", "12", "5"],
        ],
        "objects": _objects(),
        "elements": _elements(),
    }


def _survey() -> Tables:
    return {
        "rounds": [
            ["round_id", "date", "assessor"],
            *([f"R{n}", f"{2018 + n}-05-{10 + n}", f"assessor {n % 3}"] for n in range(1, 7)),
        ],
        "grades": _grades(),
        "findings": _findings(),
        "treated": [
            ["date", "object_id", "element_id", "grade_after", "note"],
            ["2021-07-01", "OB01", "covering", "2", "patched"],
            ["2022-07-01", "OB02", "", "1", ""],
            ["2023-03-01", "OB03", "tyres", "1", "new tyres"],
        ],
        "environment": _environment(),
        "materials": [
            ["material", "years_1_to_2", "years_2_to_3", "years_3_to_4", "spread", "x_leak", "x_roof water"],
            ["doped linen", "8", "6", "5", "2", "2.5", "1.8"],
            ["spruce", "20", "15", "10", "", "1.5", ""],
            ["natural rubber", "7", "6", "6", "2.5", "1.2", "1.1"],
        ],
        "hazards": _hazards(),
    }


def _workshop() -> Tables:
    return {
        "treatments": _treatments(),
        "treatment_effects": _effects(),
        "stages": _stages(),
        "spaces": [
            ["space_id", "name", "kind", "area_m2", "slots", "door_width_m", "door_height_m"],
            ["B1", "Large bay", "repair bay", "320", "2", "12", "5"],
            ["B2", "Small bay", "repair bay", "200", "1", "9", "4.5"],
            ["S1", "Spray room", "spray room", "180", "1", "9", "4.5"],
        ],
        "trades": [
            ["trade", "hours_per_month", "overtime_hours"],
            ["fabric worker", "320", "40"],
            ["carpenter", "160", ""],
            ["rigger", "120", "20"],
        ],
        "availability": [
            ["what", "id", "from", "to", "amount"],
            ["closed", "", "2026-08", "2026-08", ""],
            ["trade", "rigger", "2027-01", "2027-03", "60"],
            ["space", "B1", "2028-01", "2028-06", "0"],
            ["slots", "B2", "2028-01", "", "0"],
            ["hall", "H1", "", "2026-06", "20"],
        ],
        "display_rules": [
            ["rule_id", "rule", "objects", "number", "from", "to", "note"],
            ["P1", "at_least", "OB04;OB05;OB06", "2", "", "", ""],
            ["P2", "on_show", "OB07", "", "2027-05", "2027-09", "anniversary"],
            ["P3", "not_together", "OB08;OB09", "", "", "", ""],
        ],
        "budget": [["year", "amount"], ["2026", "90000"], ["2027", "60000.50"], ["2028", ""]],
        "running": [
            ["object_id", "treatment_id", "stage", "months_left", "space_id", "hours_left_fabric worker"],
            ["OB01", "T01", "2", "3", "B1", "100"],
            ["OB02", "T02", "1", "0", "", ""],
        ],
        "moves": [
            ["object_id", "date", "hall_id"],
            ["OB05", "2015-02-01", "H1"],
            ["OB05", "2019-02-01", "H2"],
            ["OB06", "2019-02-01", ""],
        ],
    }


def object_id(number: int) -> str:
    """Return the id of object 1, 2, ..."""
    return f"OB{number:02d}"


def _objects() -> list[list[str]]:
    header = "object_id,name,category,hall_id,mounting,length_m,span_m,height_m,mass_kg,display_m2,"
    header += "significance,x_m,y_m,turned_deg,in_the_way,away_points"
    rows = [header.split(",")]
    for n in range(1, OBJECTS + 1):
        stored = n == OBJECTS
        mounting = "store" if stored else "hung" if n % 4 == 0 else "floor"
        way = object_id(n + 1) if n % 4 == 0 and not stored else ""
        hall = "" if stored else f"H{1 + n % 2}"
        sizes = [f"{6 + n / 2:g}", f"{8 + n / 2:g}", "2.5", str(400 + 50 * n), f"{60 + n}"]
        rows.append(
            [
                object_id(n),
                f"Type {n}",
                "aircraft",
                hall,
                mounting,
                *sizes,
                str(30 + 5 * n),
                "",
                "",
                "",
                way,
                "",
            ]
        )
    return rows


def _elements() -> list[list[str]]:
    materials = {"covering": "doped linen", "structure": "spruce", "tyres": "natural rubber"}
    rows = [["object_id", "element_id", "kind", "material", "share", "safety"]]
    for n in range(1, OBJECTS + 1):
        for element in ELEMENTS:
            share = {"covering": "0.5", "structure": "0.4", "tyres": ""}[element]
            rows.append([object_id(n), element, element, materials[element], share, "no"])
        if n % 4 == 0:
            rows.append([object_id(n), "hangers", "suspension", "steel cable", "0.1", "yes"])
    return rows


def _grades() -> list[list[str]]:
    """Grades that only worsen, but for the treatments done."""
    rows = [["round_id", "object_id", "element_id", "grade", "note"]]
    for r in range(1, 7):
        for n in range(1, OBJECTS + 1):
            elements = (*ELEMENTS, "hangers") if n % 4 == 0 else ELEMENTS
            for i, element in enumerate(elements):
                grade = str(min(4, 1 + (r + n + i) // 5))
                note = "" if (r + n + i) % 7 else "seen from below, upper side hidden"
                rows.append([f"R{r}", object_id(n), element, "" if (r * n + i) % 23 == 0 else grade, note])
    return rows


def _findings() -> list[list[str]]:
    header = "finding_id,round_id,object_id,element_id,cause,severity,extent_pct,note,ended_on,began_on"
    rows = [header.split(",")]
    for n in range(1, 9):
        element = "" if n % 3 == 0 else ELEMENTS[n % 3]
        ended = "2025-02-01" if n % 4 == 0 else ""
        rows.append(
            [
                f"F{n}",
                f"R{1 + n % 6}",
                object_id(n),
                element,
                "leak",
                str(1 + n % 3),
                f"{5 * n}",
                "",
                ended,
                "",
            ]
        )
    return rows


def _environment() -> list[list[str]]:
    header = "hall_id,year,light_klux_h,temperature_c,humidity_pct,humidity_swing_pct"
    rows = [header.split(",")]
    for hall in ("H1", "H2"):
        rows += [[hall, str(y), "400", "19.5", "52", "14"] for y in range(2019, 2026)]
    return rows


def _hazards() -> list[list[str]]:
    rows = [["object_id", "hazard", "note", "state", "by", "date"]]
    states = ("suspected", "confirmed", "cleared", "")
    rows += [
        [object_id(n), "radium dials", "", states[n % 4], "adviser", "2024-03-02"]
        for n in range(1, OBJECTS + 1)
    ]
    return rows


def _treatments() -> list[list[str]]:
    header = "treatment_id,object_id,title,kind,cost,ends_causes,slows_to,not_before,not_after,template"
    rows = [header.split(",")]
    for n in range(1, 9):
        before, after = ("6", "2029-12") if n == 5 else ("", "")
        rows.append(
            [f"T{n:02d}", object_id(n), "Re-cover", "workshop", "9500", "leak", "0.8", before, after, ""]
        )
    rows.append(["G01", "OB01", "Drip tray", "in_gallery", "300", "leak;roof water", "", "", "", ""])
    return rows


def _effects() -> list[list[str]]:
    rows = [["treatment_id", "element_id", "grade_after", "original_kept_pct"]]
    for n in range(1, 9):
        rows += [[f"T{n:02d}", "covering", "1", "10"], [f"T{n:02d}", "structure", "2", ""]]
    return rows


def _stages() -> list[list[str]]:
    header = (
        "treatment_id,stage,title,months,place,area_m2,width_m,height_m,most_wait,away,"
        "hours_fabric worker,hours_carpenter,hours_rigger"
    )
    rows = [header.split(",")]
    for n in range(1, 9):
        t = f"T{n:02d}"
        rows += [
            [t, "1", "Take down", "1", "hall", "60", "", "", "", "yes", "", "", "40"],
            [t, "2", "Repair", "4", "repair bay", "110", "6", "3.5", "2", "yes", "200", "120", ""],
            [t, "3", "Dope and paint", "2", "spray room", "100", "6", "3.5", "3", "yes", "160.5", "", ""],
            [t, "4", "Return", "1", "", "", "", "", "6", "no", "", "", "30"],
        ]
    rows.append(["G01", "1", "Fit tray", "1", "", "", "", "", "", "no", "", "6", ""])
    return rows


def csv_text(rows: list[list[str]], delimiter: str = ",") -> str:
    """Return rows as delimited text."""
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return out.getvalue()


def write_folder(tables: Tables, folder: Path) -> Path:
    """Write tables as a folder of CSV files."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, rows in tables.items():
        (folder / f"{name}.csv").write_text(csv_text(rows), encoding="utf-8")
    return folder


def write_workbook(tables: Tables, path: Path) -> Path:
    """Write tables as one workbook; cells that are numbers become numbers."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in tables.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append([_cell(text) for text in row])
    book.save(path)
    return path


def _cell(text: str) -> str | float | None:
    if not text:
        return None
    try:
        return float(text)
    except ValueError:
        return text
