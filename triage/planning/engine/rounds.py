"""Rounds of neighbourhood search, with plans and prices taken over from the other child."""

from __future__ import annotations

import time

from triage.planning.engine.desk import Desk
from triage.planning.engine.plain import greedy_plan
from triage.planning.engine.search import Search

PATIENCE = 0.05


def search_rounds(desk: Desk, until: float) -> None:
    """Improve the plan in hand until a time, or until it is proven best."""
    search = Search(desk.inst, desk.rng, desk.choice)
    if desk.prices is not None:
        search.use_prices(desk.prices)
    desk.phase("search", "highs")
    while time.monotonic() < until and not desk.settled():
        if desk.listen() and desk.prices is not None:
            search.use_prices(desk.prices)
        if desk.plan is None:
            time.sleep(PATIENCE)
            continue
        desk.offer(search.step(desk.plan, until))


def first_plan(desk: Desk) -> None:
    """Offer a first plan."""
    greedy_plan(desk)
