"""The invented museum's house and means: halls, workshop, trades, money, promises, climate, materials."""

from __future__ import annotations

from demo_collection.chance import stream

Row = dict[str, object]
MUSEUM = "Museum of Flight on the Orvelhaun Coast"
FIRST_MONTH = "2027-01"
YEARS = tuple(range(2015, 2027))
"""The twelve years of rounds."""
TRADES = ("conservation", "woodwork", "metalwork", "fabric and dope", "engines and systems", "rigging")

_HALLS = (
    # hall_id, name, floor, clear, most away, door width and height, length, width
    ("H1", "First Wings Hall", 1600, 150, 3, 7.0, 5.0, 50, 32),
    ("H2", "Mail and Passage Hall", 2200, 250, 3, 6.0, 5.2, 55, 40),
    ("H3", "Metal Hall", 2500, 300, 3, 9.0, 6.0, "", ""),
    ("H4", "Rotors and Engines", 1100, 90, 2, 5.0, 4.2, "", ""),
    ("H5", "Balloons and Trainers", 900, 70, 2, 4.4, 4.2, 36, 25),
)
_SPACES = (
    # space_id, name, kind, area, slots, door width and height, length, width
    ("STRIP", "Strip-down bay", "strip", 110, 2, 6.0, 5.0, 11, 10),
    ("STR-N", "Structure bay, north", "structure", 150, 2, 7.0, 5.2, 15, 10),
    ("STR-S", "Structure bay, south", "structure", 80, 1, 2.6, 3.4, 10, 8),
    ("PAINT", "Covering and paint room", "paint", 140, 2, 5.0, 4.6, 14, 10),
    ("ASSY", "Assembly floor", "assembly", 190, 2, 9.0, 6.0, "", ""),
)
_TRADES = (
    # trade, hours a month, overtime
    ("conservation", 160, 20),
    ("woodwork", 105, ""),
    ("metalwork", 190, 20),
    ("fabric and dope", 155, ""),
    ("engines and systems", 105, ""),
    ("rigging", 140, 20),
)
_AVAILABILITY = (
    # what, id, from, to, amount: the workshop stands still over each new year
    *(("closed", "", f"{year}-12", f"{year}-12", "") for year in range(2027, 2032)),
    # re-roofing of the Mail and Passage Hall: scaffolding stands on the clear floor
    ("hall", "H2", "2028-05", "2028-09", 0),
    # new extraction in the paint room
    ("space", "PAINT", "2029-07", "2029-08", 0),
    # one joiner retires, a successor is trained
    ("trade", "woodwork", "2028-09", "2029-02", 70),
    # a crane rail is renewed: one job at a time in the northern bay
    ("slots", "STR-N", "2030-03", "2030-04", 1),
)
_RULES = (
    # rule_id, rule, objects, number, from, to, note
    ("ANNIV", "on_show", "A01", "", "2028-01", "2028-12", "A hundred years since its first passengers"),
    ("FIRSTS", "at_least", "E02;E03;E05;E07", 2, "", "", "Two of the four pioneers are always to be seen"),
    (
        "SCHOOLS",
        "at_least",
        "R01;R02;R07",
        2,
        "2027-09",
        "2030-07",
        "Two for the school programme",
    ),
    ("GLIDERS", "not_together", "E10;M10;B07", "", "", "", "Never more than one glider away"),
    ("FLOATS", "not_together", "M06;M07;M11", 1, "2028-04", "2029-10", "Loan show of waterplanes"),
)
_BUDGET = ((2027, 84_000), (2028, 88_000), (2029, 90_000), (2030, 92_000), (2031, 94_000))
CAUSES = ("roof leak", "daylight", "damp", "oil leak", "hanging load", "visitors' touch")
_MATERIALS = (
    # material, median years in grades 1, 2, 3, spread, factor of each cause in the order of CAUSES
    ("doped linen", 11, 12, 12, 2.2, (2.6, 2.0, 1.6, 2.6, 1.1, 1.5)),
    ("doped cotton", 10, 11, 11, 2.2, (2.6, 2.0, 1.6, 2.6, 1.1, 1.5)),
    ("spruce", 20, 22, 22, 2.2, (2.4, 1.2, 2.0, 1.6, 1.5, 1.1)),
    ("aluminium alloy", 20, 22, 24, 2.2, (1.9, 1.0, 1.7, 1.1, 1.2, 1.2)),
    ("magnesium alloy", 12, 12, 12, 2.5, (2.4, 1.0, 2.2, 1.0, 1.1, 1.0)),
    ("steel", 18, 19, 20, 2.2, (2.0, 1.0, 1.9, 0.9, 1.0, 1.0)),
    ("sheet steel", 16, 17, 18, 2.2, (2.4, 1.0, 2.1, 0.9, 1.0, 1.1)),
    ("mild steel", 20, 18, 15, 2.5, (2.2, 1.0, 2.0, 1.0, 1.9, 1.0)),
    ("steel wire", 14, 14, 14, 2.5, (2.2, 1.0, 2.0, 1.0, 1.5, 1.1)),
    ("natural rubber", 10, 10, 11, 2.5, (1.2, 1.8, 1.1, 2.2, 1.2, 1.1)),
    ("acrylic", 16, 18, 20, 2.5, (1.1, 1.5, 1.0, 1.2, 1.0, 1.6)),
    ("leather", 11, 13, 15, 2.2, (2.2, 2.2, 1.8, 1.7, 1.0, 1.8)),
    ("paint film", 12, 15, 18, 2.2, (1.9, 1.8, 1.5, 1.5, 1.0, 1.6)),
    ("wicker", 14, 15, 16, 2.5, (2.2, 1.6, 1.9, 1.2, 1.3, 1.5)),
    ("rubberised cotton", 10, 11, 11, 2.5, (2.0, 2.0, 1.6, 1.9, 1.4, 1.4)),
    ("hemp", 11, 12, 13, 2.5, (2.2, 1.8, 2.0, 1.1, 1.6, 1.3)),
    ("brass", 22, 25, 28, 2.5, (1.7, 1.0, 1.6, 1.0, 1.0, 1.2)),
)
_CLIMATE: dict[str, tuple[float, float, float, float]] = {
    # hall -> light in klux hours a year, temperature, humidity, swing
    "H1": (130, 18.5, 54, 10),
    "H2": (210, 18.0, 58, 14),
    "H3": (260, 17.0, 60, 16),
    "H4": (120, 18.0, 55, 11),
    "H5": (80, 19.0, 52, 8),
}
MEDIANS = {m[0]: (float(m[1]), float(m[2]), float(m[3])) for m in _MATERIALS}
"""material -> median years in grade 1, 2 and 3 by the museum's own table."""
FACTORS = {m[0]: dict(zip(CAUSES, m[5], strict=True)) for m in _MATERIALS}
"""material -> cause -> factor on the speed of wear at severity 2."""


def _rows(columns: str, table: tuple[tuple[object, ...], ...]) -> list[Row]:
    return [dict(zip(columns.split(), row, strict=True)) for row in table]


def settings_rows() -> list[Row]:
    """Return the rows of settings.csv."""
    pairs = (("museum", MUSEUM), ("first_month", FIRST_MONTH), ("months", 60), ("currency", "crowns"))
    return _rows("name value", pairs)


def hall_rows() -> list[Row]:
    """Return the rows of halls.csv."""
    columns = "hall_id name floor_m2 clear_m2 most_away door_width_m door_height_m length_m width_m"
    return _rows(columns, _HALLS)


def space_rows() -> list[Row]:
    """Return the rows of spaces.csv."""
    return _rows("space_id name kind area_m2 slots door_width_m door_height_m length_m width_m", _SPACES)


def trade_rows() -> list[Row]:
    """Return the rows of trades.csv."""
    return _rows("trade hours_per_month overtime_hours", _TRADES)


def availability_rows() -> list[Row]:
    """Return the rows of availability.csv."""
    return _rows("what id from to amount", _AVAILABILITY)


def rule_rows() -> list[Row]:
    """Return the rows of display_rules.csv."""
    return _rows("rule_id rule objects number from to note", _RULES)


def budget_rows() -> list[Row]:
    """Return the rows of budget.csv."""
    return _rows("year amount", _BUDGET)


def material_rows() -> list[Row]:
    """Return the rows of materials.csv."""
    columns = ("material", "years_1_to_2", "years_2_to_3", "years_3_to_4", "spread")
    return [
        dict(zip(columns, m[:5], strict=True)) | {f"x_{c}": f for c, f in zip(CAUSES, m[5], strict=True)}
        for m in _MATERIALS
    ]


def climate(hall_id: str, year: int) -> tuple[float, float, float, float]:
    """Return a hall's light (klux h), temperature (C), humidity and its swing (% RH) in a year."""
    light, warm, humid, swing = _CLIMATE[hall_id]
    chance = stream("climate", hall_id, year)
    light *= 0.94 + 0.12 * chance.random()
    warm += chance.random() - 0.5
    humid += 3.0 * (chance.random() - 0.5)
    swing += 2.0 * (chance.random() - 0.5)
    if hall_id == "H1" and year >= 2022:
        light *= 0.55  # blinds fitted
    if hall_id == "H2" and year >= 2021:
        humid += 5.0  # the roof lets water in
        swing += 4.0
    return round(light), round(warm, 1), round(humid), round(swing)


def environment_rows() -> list[Row]:
    """Return the rows of environment.csv; two loggers failed for a year, and their fields are blank."""
    rows: list[Row] = []
    for hall in _CLIMATE:
        for year in YEARS:
            light, warm, humid, swing = climate(hall, year)
            failed = (hall, year) in (("H4", 2017), ("H5", 2023))
            rows.append(
                {
                    "hall_id": hall,
                    "year": year,
                    "light_klux_h": int(light),
                    "temperature_c": warm,
                    "humidity_pct": "" if failed else int(humid),
                    "humidity_swing_pct": "" if failed else int(swing),
                }
            )
    return rows
