"""What happened to the objects: causes that came and went, treatments done, moves, hazards found."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

Row = dict[str, object]


@dataclass(frozen=True)
class Cause:
    """A cause at work on an element (blank: the whole object) from a day to a day (None: still going on)."""

    object_id: str
    element_id: str
    cause: str
    severity: int
    began: dt.date
    ended: dt.date | None
    extent: int
    note: str
    dated: bool = False
    """Whether somebody knew when it began; else the first round that saw it stands for it."""


# object|element|cause|severity|began|ended|extent %|note|dated
_CAUSES = """
M05||oil leak|3|2019-03-01||35|Oil from the engine runs back under the covering of the lower wings
A04|skin|oil leak|2|2021-06-01||10|Fluid collects in the belly, source not found
A12|steelwork|oil leak|1|2018-05-01||5|Preserving oil weeps from a drain plug
R07|cabin|oil leak|2|2020-04-01||15|Hydraulic fluid on the cabin floor
M11||roof leak|2|2021-02-01||20|Drips from the roof light above after driving rain|yes
M01|covering|roof leak|2|2021-02-01|2024-10-15|25|Same roof light; gutter repaired in autumn 2024|yes
M06||roof leak|1|2022-11-01||10|Splashing from the drip next to it
M07|hull|damp|2|2020-01-01||30|Mildew along the keel, floor duct blows damp air
S01||damp|2|2016-01-01||40|Store wall is wet in winter
S04|wings|damp|1|2019-01-01||15|Loose ribs by the store wall
S03|skin|damp|1|2018-01-01||20|White bloom under the wings
B02|envelope|damp|2|2018-06-01|2021-09-30|20|Condensation until the air handling was renewed|yes
E04|covering|daylight|2|2014-06-01||40|South window, upper wing bleached
E10|covering|daylight|3|2014-06-01||60|Hangs in the sun each afternoon
E07|covering|daylight|2|2019-12-01|2022-03-31|50|Blinds fitted in spring 2022|yes
E05|covering|daylight|2|2013-06-01|2022-03-31|35|Blinds fitted in spring 2022|yes
M09|markings|daylight|2|2015-06-01||50|Red faded on the side to the window
B07|covering|daylight|2|2017-06-01||50|Window opposite, blind broken
A08|markings|daylight|1|2016-06-01||30|Roof light above
A11|cockpit|daylight|2|2015-06-01||60|Seat leather bleached and cracked
M02|suspension|hanging load|3|2020-05-01||100|Sling eye drawn out of round, rust at the splice
A08|suspension|hanging load|2|2021-05-01||50|Turnbuckle without a locking wire
M10|wings|hanging load|2|2017-05-01||20|Hung by the wing roots, ribs bowed
E03|wings|hanging load|3|2018-05-01||40|Sagging between the slings, ribs cracked
E03|covering|daylight|2|2015-05-01||35|Top of the wing faces the roof light
A02|cockpit|visitors' touch|2|2016-01-01|2019-06-30|40|Steps removed in summer 2019|yes
B04|shell|visitors' touch|2|2014-01-01||30|Children climb in
E02|covering|visitors' touch|1|2015-01-01||10|Pushed fingers through the rudder
B01|basket|visitors' touch|2|2017-01-01|2023-05-31|25|Rail set up in spring 2023|yes
"""
# date|object|element|grade after|note
_TREATED = """
2017-10-20|E02|covering|1|Lower wing covered anew with linen, old cloth kept
2018-11-15|A02|skin|2|Corrosion removed at the wing roots, waxed
2019-09-30|A02|cockpit|2|Seat and panel cleaned and set
2020-02-28|M03|covering|2|Upper wing patched and doped
2021-11-30|B02|envelope|2|Envelope dried, cleaned and relaid
2022-06-10|E05|covering|2|Fuselage sides patched
2023-03-20|R01||2|Whole craft cleaned, waxed, loose parts set
2024-12-05|M01|covering|2|Stained cloth cleaned, seams taped
"""
MOVES: list[Row] = [
    {"object_id": "E07", "date": "2013-05-01", "hall_id": "H2"},
    {"object_id": "E07", "date": "2019-11-15", "hall_id": "H1"},
    {"object_id": "B02", "date": "2014-03-01", "hall_id": ""},
    {"object_id": "B02", "date": "2018-04-10", "hall_id": "H5"},
    {"object_id": "A10", "date": "2012-09-01", "hall_id": "H2"},
    {"object_id": "A10", "date": "2021-10-20", "hall_id": "H3"},
]
ARRIVED = {"A09": 2018, "B05": 2019, "R10": 2021}
"""object_id -> year in which it came to the museum, so that no round saw it before."""
FORCED: dict[tuple[str, str], tuple[tuple[int, int], ...]] = {
    ("M02", "suspension"): ((2014, 1), (2019, 2), (2023, 3)),
    ("A08", "suspension"): ((2014, 1), (2021, 2)),
    ("E13", "stand"): ((2014, 1), (2022, 2)),
}
"""(object, element) -> (year, true grade from then on): histories the story needs exactly."""

# object|hazard|state|by|date|note
_HAZARDS = """
E01|cellulose nitrate dope|suspected|||Never tested
E02|cellulose nitrate dope|confirmed|conservation scientist|2018-04-12|Burn test of a fallen flake
E03|cellulose nitrate dope|suspected|||Treat as nitrate until tested
E03|suspended load|confirmed|lifting engineer|2021-03-02|No lift without a written lifting plan
E04|lead paint|suspected|||Grey undercoat
E05|cellulose nitrate dope|confirmed|conservation scientist|2022-05-30|
E06|arsenic in old covering|cleared|conservation scientist|2019-02-11|Not found in two samples
E07|cellulose nitrate dope|suspected|||
E08|lead paint|cleared|conservation scientist|2020-09-01|
E09|sharp and unstable metal|confirmed|collections manager|2016-06-01|Gloves, no climbing
E10|suspended load|confirmed|lifting engineer|2021-03-02|
E11|suspended load|confirmed|lifting engineer|2021-03-02|
E13|residual fuel and oil|suspected|||Never drained
M01|radium-luminised dials|confirmed|radiation adviser|2019-11-20|Four dials; do not open the panel
M02|suspended load|confirmed|lifting engineer|2021-03-03|Inspection overdue
M03|asbestos at the exhaust|suspected|||Lagging not sampled
M04|suspended load|confirmed|lifting engineer|2021-03-03|
M05|residual fuel and oil|confirmed|workshop manager|2019-04-08|Tank not empty
M06|lead paint|suspected|||Bottom paint of the floats
M07|lead paint|confirmed|conservation scientist|2017-07-19|Red lead below the waterline
M08|cellulose nitrate dope|suspected|||
M10|suspended load|confirmed|lifting engineer|2021-03-03|
M11|suspended load|confirmed|lifting engineer|2021-03-03|
M12|residual fuel and oil|cleared|workshop manager|2015-10-02|Drained and flushed
A01|chromate primer|confirmed|conservation scientist|2016-08-23|No dry sanding
A01|asbestos in the cabin heating|suspected|||Ducts not opened
A02|chromate primer|suspected|||
A02|radium-luminised dials|suspected|||Panel glows under the lamp
A03|chromate primer|suspected|||
A04|hydraulic accumulators under pressure|suspected|||Gauge unreadable
A06|ejection seat cartridges|suspected|||Treat as live until certified in writing
A06|hydraulic accumulators under pressure|suspected|||
A07|chromate primer|confirmed|conservation scientist|2020-01-14|
A07|radium-luminised dials|confirmed|radiation adviser|2019-11-21|
A08|suspended load|confirmed|lifting engineer|2021-03-04|
A09|ejection seat cartridges|cleared|licensed armourer|2011-05-17|Certificate in the object file
A09|suspended load|confirmed|lifting engineer|2021-03-04|
A12|residual fuel and oil|confirmed|workshop manager|2018-06-06|
R01|residual fuel and oil|cleared|workshop manager|2014-02-03|
R02|magnesium castings|confirmed|conservation scientist|2022-02-09|No grinding, no sparks
R03|magnesium castings|suspected|||
R04|none found in survey|cleared|workshop manager|2015-03-05|
R05|residual fuel and oil|suspected|||Castor oil gum
R07|hydraulic fluid|confirmed|workshop manager|2020-05-15|Floor slippery, skin irritant
R10|ejection cartridges in the starter|cleared|licensed armourer|2012-10-30|
B01|pesticide residue in the wicker|suspected|||
B02|lead paint|suspected|||
B04|electrical, old wiring|confirmed|workshop manager|2016-12-01|Not to be switched on
B07|suspended load|confirmed|lifting engineer|2021-03-05|
S01|mould|confirmed|conservation scientist|2018-01-30|Masks in the store
S04|mould|suspected|||
"""


def _lines(text: str, fields: int) -> list[list[str]]:
    split = (line.split("|") for line in text.strip().splitlines())
    return [(parts + [""] * fields)[:fields] for parts in split]


def _day(text: str) -> dt.date:
    return dt.date.fromisoformat(text)


def _cause(f: list[str]) -> Cause:
    ended = _day(f[5]) if f[5] else None
    return Cause(f[0], f[1], f[2], int(f[3]), _day(f[4]), ended, int(f[6]), f[7], bool(f[8]))


CAUSES_AT_WORK: tuple[Cause, ...] = tuple(_cause(f) for f in _lines(_CAUSES, 9))


def treated_rows() -> list[Row]:
    """Return the rows of treated.csv."""
    columns = ("date", "object_id", "element_id", "grade_after", "note")
    return [dict(zip(columns, f, strict=True)) for f in _lines(_TREATED, 5)]


def hazard_rows() -> list[Row]:
    """Return the rows of hazards.csv."""
    columns = ("object_id", "hazard", "state", "by", "date", "note")
    return [dict(zip(columns, f, strict=True)) for f in _lines(_HAZARDS, 6)]


def hall_at(object_id: str, now_in: str, day: dt.date) -> str:
    """Return the hall an object stood in on a day (blank: in store)."""
    moves = [m for m in MOVES if m["object_id"] == object_id and str(m["date"]) <= day.isoformat()]
    return str(moves[-1]["hall_id"]) if moves else now_in
