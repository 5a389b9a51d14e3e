"""The invented objects: who stands and hangs where, how large, how much they mean, what could be done.

Every name of a type, a maker and a place is made up.
"""

from __future__ import annotations

from dataclasses import dataclass

HALL_OF = {"E": "H1", "M": "H2", "A": "H3", "R": "H4", "B": "H5", "S": ""}
"""First letter of an object_id -> its hall (blank: in store)."""

# id | name | build | mounting | length | span | height | mass | significance | condition | tempo | works
# condition: sound, worn, tired; tempo: factor on the true speed of wear
# works: f full, p partial, q outer wings and tail only, onepiece; in the gallery tray, shade, roof, support,
# clean; t:<chain> a built-in chain of stages
_TABLE = """
E01|Trandolve No. 2 monoplane|fabric|hung|7.6|9.4|2.4|290|72|worn|0.9|p
E02|Pellowyn Yestoline|fabric|floor|8.2|11.6|3.1|620|64|worn|1.2|f p
E03|Harnqvel Lomperel ocean racer|fabric|hung|9.8|15.2|3.0|840|92|worn|1.5|p
E04|Pellowyn P 4 two-seater|fabric|floor|8.6|12.4|3.3|760|48|worn|1.0|p shade
E05|Brimtasse B 1 scout|fabric|floor|6.4|8.2|2.7|430|70|tired|1.1|f
E06|Brimtasse B 3 scout|fabric|floor|6.6|8.4|2.7|450|58|worn|0.9|p f
E07|Trandolve No. 5 pusher|fabric|floor|9.1|12.8|3.2|560|66|tired|1.2|f p
E08|Ulmbrek school biplane|fabric|floor|7.9|10.6|3.0|540|35|worn|1.0|t:fabric_recover
E09|Ulmbrek Tambrelisk, raised from a lagoon|wreck|floor|7.2|10.0|2.2|380|46|wreck|1.0|f
E10|Harnqvel Orchard glider of the first club|glider|hung|5.6|10.2|1.5|95|54|worn|1.3|p shade
E11|Trandolve rib and fabric trainer|fabric|hung|7.0|9.8|2.5|330|40|sound|0.8|clean
E12|Pellowyn cut-open fuselage|fabric|plinth|6.8|3.0|2.1|210|30|sound|0.8|clean
E13|Brimtasse four-cylinder engine|engine|plinth|1.3|0.8|1.0|140|34|worn|1.0|p
M01|Dravinth Sorvantry mail biplane|fabric|floor|9.4|13.6|3.6|1150|76|worn|1.3|f p
M02|Harnqvel Jostrelle record monoplane|fabric|hung|8.8|14.6|2.9|980|84|worn|1.1|support p
M03|Dravinth Wyndolque passenger biplane|fabric|floor|11.4|17.2|4.2|2100|68|worn|1.0|p
M04|Pellowyn Vimpolane light monoplane|fabric|hung|7.1|10.8|2.4|420|42|worn|1.0|p
M05|Dravinth Quarramine survey biplane|fabric|floor|9.0|12.9|3.5|1240|78|worn|1.2|f tray
M06|Ulmbrek postal floatplane|fabric|floor|9.6|13.0|4.0|1320|57|tired|1.1|f p
M07|Ondrissel O 2 flying boat hull|wood|floor|13.2|14.0|4.6|2600|80|worn|1.2|onepiece p
M08|Brimtasse Isquorel sporting biplane|fabric|floor|6.9|8.6|2.6|480|50|worn|1.0|p f
M09|Harnqvel H 9 high-wing tourer|fabric|floor|7.8|11.2|2.7|690|38|sound|1.0|shade
M10|Pellowyn Kalspindle club glider|glider|hung|6.2|14.0|1.6|160|44|worn|1.1|p f
M11|Trandolve Wet Field amphibian|fabric|hung|8.0|11.0|3.2|820|52|worn|1.2|roof p
M12|Dravinth nine-cylinder engine|engine|plinth|1.4|1.3|1.3|430|36|sound|1.0|clean
M13|Ulmbrek airfield beacon lorry|vehicle|floor|6.2|2.2|2.9|1900|26|worn|1.0|t:non_flying
A01|Dravinth Pallimorn airliner|metal|floor|19.2|28.6|5.6|7400|95|worn|1.4|q
A02|Brimtasse Fennolith fighter|metal|floor|9.2|11.0|3.4|2300|74|worn|1.1|p f
A03|Brimtasse Grasmundel trainer|metal|floor|8.9|11.8|3.2|1700|40|sound|1.0|clean
A04|Harnqvel Birquane night courier|metal|floor|12.6|17.4|4.1|3900|62|worn|1.2|p tray
A05|Ulmbrek U 20 transport nose and centre|metal|floor|11.0|6.0|4.4|3300|45|worn|0.9|p
A06|Pellowyn Umbelisk jet demonstrator|metal|floor|10.4|9.2|3.5|3100|82|worn|1.3|p f
A07|Dravinth D 31 patrol aircraft|metal|floor|13.8|18.8|4.4|5200|60|tired|1.1|p
A08|Brimtasse Cravotine racer|metal|hung|7.9|8.8|2.5|990|71|worn|1.2|p support
A09|Ondrissel O 11 research jet|metal|hung|11.6|8.0|3.3|2400|58|sound|1.0|support
A10|Harnqvel Tessimund light twin|metal|floor|9.6|13.2|3.3|2200|33|worn|1.0|t:metal_corrosion
A11|Trandolve T 40 crop duster|metal|floor|8.3|12.6|3.0|1500|28|tired|1.3|p
A12|Ulmbrek twelve-cylinder engine|engine|plinth|2.2|0.9|1.2|720|48|worn|1.1|p tray
R01|Ondrissel Ruvenquil rotorcraft|rotor|floor|8.6|8.8|3.0|1250|70|worn|1.2|f p
R02|Ondrissel O 7 autorotating craft|rotor|floor|6.2|9.6|3.1|680|66|worn|1.2|f p
R03|Brimtasse eighteen-cylinder engine|engine|plinth|2.1|1.4|1.4|1180|55|tired|1.1|f
R04|Dravinth turbine, cut open|engine|plinth|3.4|1.1|1.2|1450|44|sound|1.0|clean
R05|Ulmbrek rotary engine|engine|plinth|1.1|1.0|1.0|150|52|worn|1.2|p
R06|Pellowyn in-line engine|engine|plinth|1.9|0.7|1.1|390|32|worn|1.0|t:engine
R07|Harnqvel two-seat rescue rotorcraft|rotor|floor|9.8|10.4|3.4|1300|46|worn|1.0|t:rotorcraft tray
R08|Ondrissel tail-sitter model, half size|model|hung|4.6|5.2|1.4|120|38|worn|1.0|p
R09|Trandolve propeller test stand|vehicle|floor|4.8|2.6|3.2|2200|22|worn|1.0|clean
R10|Brimtasse jet engine on its trolley|engine|floor|3.8|1.3|1.6|1650|30|sound|0.9|
B01|Zintherly free balloon basket and envelope|balloon|plinth|3.4|3.0|3.2|340|60|worn|1.2|p f
B02|Zintherly airship gondola|balloon|plinth|9.2|3.4|3.6|1900|78|worn|1.3|p f
B03|Zintherly captive balloon winch lorry|vehicle|floor|5.6|2.0|2.4|2900|24|sound|1.0|
B04|Pellowyn blind-flying trainer|simulator|floor|3.2|2.4|2.2|420|42|worn|1.0|p
B05|Dravinth airliner cabin simulator|simulator|floor|6.4|2.8|2.9|2400|20|sound|1.0|
B06|Ulmbrek wind tunnel model set|model|plinth|2.8|2.2|0.9|160|30|sound|0.9|clean
B07|Trandolve kite glider, man-lifting|glider|hung|4.2|8.0|1.2|60|50|worn|1.2|t:glider shade
S01|Ulmbrek Wet Field hull section|wood|store|7.0|2.4|2.6|700|28|tired|1.0|p
S02|Pellowyn P 4 spare wings|fabric|store|5.8|2.0|1.6|180|22|worn|1.0|
S03|Brimtasse B 7 stripped airframe|metal|store|9.0|10.6|2.8|1400|36|worn|1.0|p
S04|Harnqvel sailplane, second prototype|glider|store|6.8|16.4|1.7|210|64|worn|1.2|f p
S05|Zintherly parachute balloon car, just arrived|balloon|store|2.6|2.2|2.4|280|40|worn|1.0|p
"""


@dataclass(frozen=True)
class Cast:
    """One invented object. Metres, kilograms; significance 0-100."""

    object_id: str
    name: str
    build: str
    mounting: str
    length: float
    span: float
    height: float
    mass: float
    significance: int
    condition: str
    tempo: float
    works: tuple[str, ...]

    @property
    def hall_id(self) -> str:
        """The home hall, or blank for an object in store."""
        return HALL_OF[self.object_id[0]]

    @property
    def hung(self) -> bool:
        """Whether it hangs."""
        return self.mounting == "hung"

    @property
    def floor(self) -> float:
        """Length x span in m2."""
        return self.length * self.span

    @property
    def reach(self) -> int:
        """Floor in m2 to lower it onto or to take it apart on, with 0.75 m all round."""
        return round((self.length + 1.5) * (self.span + 1.5))

    @property
    def display_m2(self) -> int:
        """Floor of its place on show; hung and stored objects have none."""
        if self.mounting in ("hung", "store"):
            return 0
        return round(0.85 * (self.length + 1.0) * (self.span + 1.0))


def _read(line: str) -> Cast:
    oid, name, build, mounting, length, span, height, mass, weight, condition, tempo, works = line.split("|")
    return Cast(
        oid,
        name,
        build,
        mounting,
        float(length),
        float(span),
        float(height),
        float(mass),
        int(weight),
        condition,
        float(tempo),
        tuple(works.split()),
    )


CAST: tuple[Cast, ...] = tuple(_read(line) for line in _TABLE.strip().splitlines())
NEVER_GRADED = "S05"
CENTREPIECE = "A01"
"""The object its gallery keeps on show through the anniversary year."""

CATEGORY = {
    "fabric": "fabric-covered aeroplane",
    "wreck": "aircraft wreck, shown as found",
    "wood": "wooden flying boat",
    "metal": "metal aeroplane",
    "glider": "glider",
    "rotor": "rotorcraft",
    "engine": "engine",
    "balloon": "lighter-than-air craft",
    "vehicle": "ground vehicle",
    "simulator": "simulator",
    "model": "model",
}
PLACES = {
    "E02": (14.0, 9.0, 0),
    "E04": (31.0, 9.0, 15),
    "E05": (42.0, 8.0, 90),
    "E06": (42.0, 22.0, 0),
    "E07": (29.0, 23.0, 180),
    "E08": (13.0, 23.0, 0),
    "A01": (25.0, 20.0, 30),
}
"""object_id -> place of its middle in its hall (m) and how far it is turned (degrees)."""

IN_THE_WAY = {"E03": "E02", "M02": "M01;M08", "A08": "A02"}


def object_rows() -> list[dict[str, object]]:
    """Return the rows of objects.csv."""
    rows: list[dict[str, object]] = []
    for c in CAST:
        x, y, turned = PLACES.get(c.object_id, ("", "", ""))
        rows.append(
            {
                "object_id": c.object_id,
                "name": c.name,
                "category": CATEGORY[c.build],
                "hall_id": c.hall_id,
                "mounting": c.mounting,
                "length_m": c.length,
                "span_m": c.span,
                "height_m": c.height,
                "mass_kg": int(c.mass),
                "display_m2": c.display_m2,
                "significance": c.significance,
                "x_m": x,
                "y_m": y,
                "turned_deg": turned,
                "in_the_way": IN_THE_WAY.get(c.object_id, ""),
                "away_points": 6 if c.object_id == CENTREPIECE else "",
            }
        )
    return rows
