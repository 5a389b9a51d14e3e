"""Reading and writing the contract's JSON files.

A file is read whole or refused with every fault in it; nothing is half-read. The digest that ties a
plan to its problem is taken of the JSON value as it stands in the file, before any default.
"""

from __future__ import annotations

import json
from typing import Any

from triage.errors import UnusableInput
from triage.planning.contract import LONGEST, OUTCOME, PLAN, POINT_FIELDS, problem_shape, says_scale
from triage.planning.links import Links
from triage.planning.outcome import Outcome
from triage.planning.problem import Plan, PlanningProblem, Seam, value_digest
from triage.planning.shape import Faults, is_whole, parse


def read_problem(text: str) -> PlanningProblem:
    """Return the planning problem a text holds, carrying the digest of the file.

    An object named twice in a display rule and a month closed twice count once; `budgets`, `rules`, `pins`,
    `closed` and `baseline` may be absent.

    Raises
    ------
    UnusableInput
        If the text is not JSON, breaks the schema or names unknown ids; with every fault, each a
        :class:`~triage.errors.JsonFault`.
    """
    faults = Faults()
    value = parse(text, faults)
    if not isinstance(value, dict):
        faults.add(
            "", value, "A planning problem is a JSON object.", "Write names and values in curly brackets."
        )
        raise _refused("problem", faults)
    months = value.get("months")
    problem_shape(months if is_whole(months) and 1 <= months <= LONGEST else None).look(value, "", faults)
    Links(value, faults).look()
    if faults:
        raise _refused("problem", faults, "a plan or an outcome" if "problem_digest" in value else "")
    read = PlanningProblem.model_validate_json(json.dumps(_completed(value)))
    return read.as_read_with(value_digest(value))


def read_plan_or_outcome(text: str) -> Plan | Outcome:
    """Return the plan or the outcome a text holds; which of the two is seen from its fields.

    Ids are not looked up here: whether they are known is for the checker, which has the problem.

    Raises
    ------
    UnusableInput
        If the text is not JSON or breaks the schema, with every fault.
    """
    faults = Faults()
    value = parse(text, faults)
    if not isinstance(value, dict):
        faults.add("", value, "A plan is a JSON object.", "Write names and values in curly brackets.")
        raise _refused("plan", faults)
    is_outcome = "ending" in value or ("plan" in value and "jobs" not in value)
    (OUTCOME if is_outcome else PLAN).look(value, "", faults)
    if faults:
        seems = "a planning problem" if "objects" in value else ""
        raise _refused("outcome" if is_outcome else "plan", faults, seems)
    if not is_outcome:
        return Plan.model_validate_json(json.dumps(value))
    conflicts = [{k: v for k, v in c.items() if v is not None} for c in value.get("conflicts", [])]
    return Outcome.model_validate_json(json.dumps({**value, "conflicts": conflicts}))


def problem_json(problem: PlanningProblem) -> str:
    """Return a problem as the text of a contract file, one record a line.

    Read again it has the same digest, unless the problem was itself read from a file that left fields out.
    """
    return _text(problem)


def outcome_json(outcome: Outcome) -> str:
    """Return an outcome as the text of a contract file, one record a line."""
    return _text(outcome)


def plan_json(plan: Plan) -> str:
    """Return a plan as the text of a contract file, one record a line."""
    return _text(plan)


def _refused(what: str, faults: Faults, seems: str = "") -> UnusableInput:
    count = f"{len(faults)} fault{'' if len(faults) == 1 else 's'}"
    hint = f" It looks like {seems}: were two files taken for each other?" if seems else ""
    return UnusableInput(f"The {what} file cannot be used: {count}.{hint}", faults)


def _completed(value: dict[str, Any]) -> dict[str, Any]:
    """Return a sound problem's value without what is not read, and with what may be absent."""
    kept = {name: item for name, item in value.items() if not says_scale(name) and item is not None}
    scales = [value[name] for name in value if says_scale(name)]
    kept["scale"] = "; ".join(s if isinstance(s, str) else json.dumps(s, ensure_ascii=False) for s in scales)
    kept["closed"] = sorted(set(kept.get("closed", ())))
    kept["rules"] = [
        {**rule, "object_ids": list(dict.fromkeys(rule["object_ids"]))} for rule in kept.get("rules", ())
    ]
    if "baseline" in kept:
        kept["baseline"] = {**kept["baseline"], "plan": _former(kept["baseline"]["plan"])}
    return kept


def _former(plan: dict[str, Any]) -> dict[str, Any]:
    """Return a former plan with blanks for what is not read of it: digest, points, version, first month."""
    points, digest, version = plan.get("points"), plan.get("problem_digest"), plan.get("schema_version")
    first = plan.get("first_month")
    sound = (
        isinstance(points, dict) and set(points) == set(POINT_FIELDS) and all(map(is_whole, points.values()))
    )
    return {
        "schema_version": version if is_whole(version) or isinstance(version, str) else "",
        "problem_digest": digest if isinstance(digest, str) else "",
        "first_month": first if isinstance(first, str) else "",
        "jobs": plan["jobs"],
        "points": points if sound else dict.fromkeys(POINT_FIELDS, 0),
    }


def _text(seam: Seam) -> str:
    """Return a seam as JSON text: a field a line, and in lists of records a record a line."""
    lines = []
    for name, item in seam.model_dump(mode="json").items():
        text = json.dumps(item, ensure_ascii=False)
        if isinstance(item, list) and item and isinstance(item[0], dict):
            text = "[\n  " + ",\n  ".join(json.dumps(one, ensure_ascii=False) for one in item) + "\n ]"
        lines.append(f' "{name}": {text}')
    return "{\n" + ",\n".join(lines) + "\n}\n"
