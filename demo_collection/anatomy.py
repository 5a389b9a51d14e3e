"""The graded elements of each build of object: kind, material, share, safety."""

from __future__ import annotations

from dataclasses import dataclass

from demo_collection.cast import CAST, Cast


@dataclass(frozen=True)
class Part:
    """One element; ``hidden``: behind panels or covering, so often not to be seen in a walk."""

    element_id: str
    kind: str
    material: str
    share: int
    safety: bool = False
    hidden: bool = False


_FABRIC = (
    Part("covering", "covering", "doped linen", 26),
    Part("wings", "structure", "spruce", 22, hidden=True),
    Part("fuselage", "structure", "spruce", 16, hidden=True),
    Part("engine", "engine", "steel", 14),
    Part("cockpit", "interior", "leather", 8),
    Part("markings", "finish", "paint film", 8),
    Part("wires", "bracing wire", "steel wire", 6),
)
_METAL = (
    Part("skin", "skin", "aluminium alloy", 30),
    Part("frame", "structure", "aluminium alloy", 20, hidden=True),
    Part("engine", "engine", "steel", 15),
    Part("cockpit", "interior", "leather", 10),
    Part("glazing", "glazing", "acrylic", 7),
    Part("gearbox", "gearbox", "magnesium alloy", 6, hidden=True),
    Part("markings", "finish", "paint film", 8),
)
_PARTS: dict[str, tuple[Part, ...]] = {
    "fabric": _FABRIC,
    "wreck": tuple(p for p in _FABRIC if p.element_id not in ("cockpit", "markings")),
    "wood": (
        Part("hull", "hull", "spruce", 40),
        Part("frames", "structure", "spruce", 24, hidden=True),
        Part("fastenings", "fitting", "brass", 12),
        Part("engine", "engine", "steel", 12),
        Part("markings", "finish", "paint film", 12),
    ),
    "metal": _METAL,
    "glider": (
        Part("covering", "covering", "doped cotton", 30),
        Part("wings", "structure", "spruce", 36, hidden=True),
        Part("fuselage", "structure", "spruce", 20, hidden=True),
        Part("fittings", "fitting", "mild steel", 8),
        Part("seat", "interior", "leather", 6),
    ),
    "rotor": (
        Part("skin", "skin", "aluminium alloy", 24),
        Part("gearbox", "gearbox", "magnesium alloy", 16, hidden=True),
        Part("blades", "blades", "spruce", 18),
        Part("engine", "engine", "steel", 16),
        Part("glazing", "glazing", "acrylic", 8),
        Part("cabin", "interior", "leather", 10),
        Part("markings", "finish", "paint film", 8),
    ),
    "engine": (
        Part("castings", "engine", "magnesium alloy", 30),
        Part("steelwork", "engine", "steel", 40),
        Part("pipes", "pipework", "brass", 15),
        Part("hoses", "hoses", "natural rubber", 15),
    ),
    "balloon": (
        Part("envelope", "envelope", "rubberised cotton", 34),
        Part("basket", "gondola", "wicker", 30),
        Part("netting", "rigging", "hemp", 20),
        Part("instruments", "instruments", "brass", 16),
    ),
    "vehicle": (
        Part("body", "panels", "sheet steel", 40),
        Part("chassis", "frame", "sheet steel", 30, hidden=True),
        Part("engine", "engine", "steel", 18),
        Part("cab", "interior", "leather", 12),
    ),
    "simulator": (
        Part("shell", "structure", "spruce", 44),
        Part("bellows", "trim", "leather", 26, hidden=True),
        Part("wiring", "wiring", "natural rubber", 16),
        Part("dials", "instruments", "brass", 14),
    ),
    "model": (
        Part("structure", "structure", "spruce", 46),
        Part("surface", "covering", "doped cotton", 34),
        Part("markings", "finish", "paint film", 12),
        Part("fittings", "fitting", "brass", 8),
    ),
}
_HANGING = Part("suspension", "suspension fitting", "mild steel", 2, safety=True)
_STANDING = Part("tyres", "tyres", "natural rubber", 4)
_STAND = Part("stand", "stand", "mild steel", 2, safety=True)
_WHEELED = ("fabric", "metal", "rotor", "vehicle")


def parts_of(c: Cast) -> tuple[Part, ...]:
    """Return the elements of an object."""
    parts = list(_PARTS[c.build])
    if c.build == "fabric" and c.span < 5:
        parts = [p for p in parts if p.element_id not in ("engine", "wires")]
    elif c.build in _WHEELED and c.mounting == "floor":
        parts.append(_STANDING)
    if c.hung:
        parts.append(_HANGING)
    elif c.mounting == "plinth":
        parts.append(_STAND)
    return tuple(parts)


def element_rows() -> list[dict[str, object]]:
    """Return the rows of elements.csv."""
    return [
        {
            "object_id": c.object_id,
            "element_id": p.element_id,
            "kind": p.kind,
            "material": p.material,
            "share": p.share,
            "safety": "yes" if p.safety else "no",
        }
        for c in CAST
        for p in parts_of(c)
    ]
