"""What must agree between the parts of a planning problem's file: ids, lengths, kinds, months.

Works on the JSON value, so that a fault in one place does not hide those in others: whatever has the
wrong shape (which :mod:`triage.planning.contract` reports) is passed over here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from triage.planning.shape import Faults, is_whole, pointer, records

TABLES = {
    "trades": "trade_id",
    "spaces": "space_id",
    "halls": "hall_id",
    "objects": "object_id",
    "treatments": "treatment_id",
    "rules": "rule_id",
}


class Links:
    """The ids of a problem's file and the checks between its parts."""

    def __init__(self, value: dict[str, Any], faults: Faults) -> None:
        self.value, self.faults = value, faults
        self.known = {table: self._ids(table, name) for table, name in TABLES.items()}

    def _ids(self, table: str, name: str) -> dict[str, dict[str, Any]]:
        """Return id -> record of a table; an id that stands twice is a fault."""
        found: dict[str, dict[str, Any]] = {}
        for path, item in records(self.value, table):
            key = item.get(name)
            if not isinstance(key, str):
                continue
            if key in found:
                self.faults.add(
                    pointer(path, name), key, f"{name} {key} stands twice.", "Give each its own id."
                )
            found.setdefault(key, item)
        return found

    def look(self) -> None:
        """Add a fault for everything that does not agree."""
        for path, item in records(self.value, "objects"):
            self.must_know("halls", item.get("hall_id"), pointer(path, "hall_id"))
        for path, item in records(self.value, "treatments"):
            self._treatment(path, item)
        for path, item in records(self.value, "rules"):
            self._rule(path, item)
            self._months(path, item)
        for path, item in records(self.value, "budgets"):
            self._months(path, item)
        self._pins()
        self._baseline()

    def must_know(self, table: str, key: Any, path: str) -> dict[str, Any] | None:
        """Return the record of an id; an unknown one is a fault, what is no text is passed over."""
        if not isinstance(key, str):
            return None
        found = self.known[table].get(key)
        if found is None:
            mend = f"Name one of the {table}, or add it there."
            self.faults.add(path, key, f"There is no {TABLES[table]} {key}.", mend)
        return found

    def _treatment(self, path: str, item: dict[str, Any]) -> None:
        thing = self.must_know("objects", item.get("object_id"), pointer(path, "object_id"))
        stages = item.get("stages")
        if stages == []:
            self.faults.add(f"{path}/stages", [], "A treatment has at least one stage.", "Add a stage.")
        for where, stage in records(item, "stages"):
            self._stage(path + where, stage, thing)

    def _stage(self, path: str, stage: dict[str, Any], thing: dict[str, Any] | None) -> None:
        if stage.get("place") == "hall" and thing is not None and thing.get("hall_id", "") is None:
            self.faults.add(
                f"{path}/place",
                "hall",
                f"{thing.get('object_id')} has no home hall, so no stage of it can use clear hall floor.",
                "Give the object a hall_id, or the stage another place.",
            )
        hours, months = stage.get("hours"), stage.get("months")
        for trade, given in hours.items() if isinstance(hours, dict) else ():
            where = pointer(f"{path}/hours", trade)
            self.must_know("trades", trade, where)
            if isinstance(given, list) and is_whole(months) and 1 <= months != len(given):
                rule = f"The stage works {months} months, but {len(given)} numbers of hours are given."
                self.faults.add(where, given, rule, f"Give {months} numbers.")

    def _rule(self, path: str, item: dict[str, Any]) -> None:
        ids = item.get("object_ids")
        for index, key in enumerate(ids if isinstance(ids, list) else ()):
            self.must_know("objects", key, f"{path}/object_ids/{index}")
        number, kind = item.get("number"), item.get("kind")
        if kind == "at_least" and number is None:
            self.faults.add(
                path, item, "at_least needs a number.", "Say how many of the objects stay on show."
            )
        if kind in ("at_least", "not_together") and is_whole(number) and number < 0:
            self.faults.add(f"{path}/number", number, "The number may not be below 0.", "Write 0 or more.")

    def _months(self, path: str, item: dict[str, Any]) -> None:
        first, last = item.get("from_month"), item.get("to_month")
        if is_whole(first) and is_whole(last) and first > last >= 0:
            self.faults.add(
                f"{path}/to_month", last, f"to_month is before from_month, {first}.", "Swap or mend the two."
            )

    def _own_treatment(self, path: str, item: dict[str, Any]) -> dict[str, Any] | None:
        """Return the treatment a pin or job names, if it is known and for the object named."""
        thing = self.must_know("objects", item.get("object_id"), f"{path}/object_id")
        treatment = self.must_know("treatments", item.get("treatment_id"), f"{path}/treatment_id")
        if thing is None or treatment is None or treatment.get("object_id") == thing.get("object_id"):
            return treatment
        if treatment.get("object_id") not in list(self.known["objects"]):
            return None
        self.faults.add(
            f"{path}/treatment_id",
            item.get("treatment_id"),
            f"The treatment is for {treatment.get('object_id')}, not for {thing.get('object_id')}.",
            "Name a treatment of the same object.",
        )
        return None

    def _once(self, path: str, item: dict[str, Any], seen: set[str], what: str) -> None:
        key = item.get("object_id")
        if isinstance(key, str):
            if key in seen:
                mend = "Keep one of them."
                self.faults.add(
                    f"{path}/object_id", key, f"{key} has two {what}; at most one is meant.", mend
                )
            seen.add(key)

    def _pins(self) -> None:
        seen: set[str] = set()
        for path, pin in records(self.value, "pins"):
            self._once(path, pin, seen, "pins")
            treatment = self._own_treatment(path, pin)
            spaces = pin.get("space_ids")
            if not isinstance(spaces, list):
                continue
            for index, key in enumerate(spaces):
                self.must_know("spaces", key, f"{path}/space_ids/{index}")
            stages = treatment.get("stages") if treatment is not None else None
            if isinstance(stages, list) and len(spaces) != len(stages):
                rule = f"space_ids has {len(spaces)} entries, but the treatment has {len(stages)} stages."
                mend = "Give one entry a stage, null where the space is free."
                self.faults.add(f"{path}/space_ids", spaces, rule, mend)

    def _former_jobs(self) -> Iterator[tuple[str, dict[str, Any]]]:
        baseline = self.value.get("baseline")
        plan = baseline.get("plan") if isinstance(baseline, dict) else None
        for path, job in records(plan, "jobs"):
            yield f"/baseline/plan{path}", job

    def _baseline(self) -> None:
        seen: set[str] = set()
        for path, job in self._former_jobs():
            self._once(path, job, seen, "jobs in the former plan")
            self._own_treatment(path, job)
            stages = job.get("stages")
            if stages == []:
                self.faults.add(f"{path}/stages", [], "A job has at least one stage.", "Leave the job out.")
            for where, stage in records(job, "stages"):
                self.must_know("spaces", stage.get("space_id"), f"{path}{where}/space_id")
            first = (
                stages[0].get("start")
                if stages and isinstance(stages, list) and isinstance(stages[0], dict)
                else 0
            )
            if is_whole(first) and first < 0:
                rule = "The job started before the first month planned."
                mend = "Leave work that has started out of the former plan; pin it instead."
                self.faults.add(f"{path}/stages/0/start", first, rule, mend)
