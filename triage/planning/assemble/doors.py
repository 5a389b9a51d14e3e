"""Which doors a treatment passes, and what about that nobody knows."""

from __future__ import annotations

from collections.abc import Sequence

from triage.records import Collection, Hall, Stage
from triage.records.passages import outside_hall, passages, too_big_for


def hall_door_reasons(
    collection: Collection, object_id: str, stages: Sequence[Stage], already_out: bool = False
) -> tuple[str, ...]:
    """Return why a treatment cannot pass the door of the object's hall; empty if it can or nobody knows."""
    hall = collection.hall_by_id.get(collection.object_by_id[object_id].hall_id or "")
    if hall is None:
        return ()
    reasons = (too_big_for(passage, hall) for passage in passages(stages, already_out))
    return tuple(reason for reason in reasons if reason)[:1]


def not_checked(
    collection: Collection, object_id: str, stages: Sequence[Stage], space_ids: Sequence[str | None]
) -> tuple[str, ...]:
    """Return the sizes and doors on an object's way that nobody knows, as sentences.

    ``space_ids`` names the space each stage goes to (None: none, or not yet chosen).
    """
    item = collection.object_by_id[object_id]
    said: list[str] = []
    if item.hall_id is not None and any(outside_hall(stage) for stage in stages):
        hall = collection.hall_by_id.get(item.hall_id, Hall(hall_id=item.hall_id))
        if hall.door_width_m is None or hall.door_height_m is None:
            said.append(f"Door of {hall.called} not measured: not checked.")
    for stage, space_id in zip(stages, space_ids, strict=True):
        if outside_hall(stage) and (stage.width_m is None or stage.height_m is None):
            said.append(f"Size in stage {stage.stage} not known: no door checked for it.")
        space = collection.space_by_id.get(space_id or "")
        if space is not None and (space.door_width_m is None or space.door_height_m is None):
            said.append(f"Door of {space.called} not measured: not checked.")
    return tuple(dict.fromkeys(said))
