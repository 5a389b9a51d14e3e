"""Rounds of neighbourhood search, with plans and prices taken over from the other child."""

from __future__ import annotations

import time

from triage.planning.engine.desk import Desk
from triage.planning.engine.plain import greedy_plan
from triage.planning.engine.search import Search

PATIENCE = 0.05


class Rounds:
    """Neighbourhood search on a desk's plan, as often as asked."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.search = Search(desk.inst, desk.rng, desk.choice)
        if desk.prices is not None:
            self.search.use_prices(desk.prices)

    def run(self, until: float) -> None:
        """Improve the plan in hand until a time, or until it is proven best."""
        desk = self.desk
        desk.phase("search", "highs")
        while time.monotonic() < until and not desk.settled():
            if desk.listen() and desk.prices is not None:
                self.search.use_prices(desk.prices)
            if desk.plan is None:
                time.sleep(PATIENCE)
                continue
            if desk.rival is not None:
                rival, desk.rival = desk.rival, None
                desk.offer(self.search.merge(desk.plan, rival))
            desk.offer(self.search.step(desk.plan, until))


def search_only(desk: Desk) -> None:
    """A first plan without a solver, then search to the end of the time."""
    greedy_plan(desk)
    Rounds(desk).run(desk.until)
