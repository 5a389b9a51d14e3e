"""The leading child: the bound, a first integer program, then proof and search in turn."""

from __future__ import annotations

import time

from triage.planning.clashes import conflicts
from triage.planning.engine.assign import assign
from triage.planning.engine.bound import BoundSearch
from triage.planning.engine.columns import selection_of
from triage.planning.engine.desk import Desk
from triage.planning.engine.exact import Listing, best_columns, list_columns
from triage.planning.engine.instance import build_instance
from triage.planning.engine.plain import conclude, greedy_plan, whole_bound
from triage.planning.engine.plans import received_plan, sent_jobs
from triage.planning.engine.promises import hopeless, impossible, promised_plan
from triage.planning.engine.relaxation import Prices
from triage.planning.engine.rounds import Rounds
from triage.planning.engine.wire import Clash, PricesFound
from triage.planning.formulation.model import JobTable, Result, Status, build, solve
from triage.planning.formulation.solvers import Watch

STEPS = 40
"""Subgradient steps before column generation."""
PROOF_COLUMNS = 6000
"""Jobs that one program may hold to prove a plan best."""
BEST_COLUMNS = 2000
"""Jobs of a program that only looks for a better plan, and the most seconds it gets."""
BEST_SECONDS = 6.0
SMALL = 1500
"""Jobs up to which a proof gets all the time there is."""
FEW = 400
"""Jobs up to which the proof is tried before any search."""
FIRST_PAUSE = 2.0


def lead(desk: Desk) -> None:
    """Bound, prove and search until the time is over or the best plan is proven."""
    if not _possible(desk):
        return
    while True:
        bound = _bound(desk)
        if desk.task.alone and desk.plan is None:
            greedy_plan(desk)
        _prove_and_search(desk, bound)
        if desk.settled() or desk.left() <= 0 or not desk.misfit or not desk.merged:
            return
        desk.split_classes()


def _possible(desk: Desk) -> bool:
    """Report promises that cannot be kept; take over a plan that keeps them."""
    if hopeless(desk.inst):
        _name_conflicts(desk)
        return False
    if not any(o.must for o in desk.inst.objects):
        return True
    desk.phase("promises", "highs")
    single = build_instance(desk.task.problem, merge=False)
    kept = promised_plan(single, desk.choice, desk.until)
    if kept.plan is not None:
        jobs = sent_jobs(single, kept.plan, assign(single, kept.plan))
        desk.offer(received_plan(desk.inst, jobs))
    if kept.proven:
        _name_conflicts(desk)
    return not kept.proven


def _name_conflicts(desk: Desk) -> None:
    """Say that no plan is possible, then which promises clash."""
    desk.phase("conflicts", "highs")
    desk.link.say(Clash(()))
    problem, choice, until = desk.task.problem, desk.choice, desk.until
    found = conflicts(problem, lambda fewer: not impossible(fewer, choice, until))
    desk.link.say(Clash(found))


def _bound(desk: Desk) -> BoundSearch:
    """Find prices and the bound they prove."""
    desk.phase("bound", "highs")
    inst = desk.inst
    said = [0.0]

    def report(prices: Prices) -> None:
        if time.monotonic() - said[0] > 0.3:
            said[0] = time.monotonic()
            desk.prove(prices.bound)

    search = BoundSearch(inst, range(len(inst.objects)), inst.resources.capacity, report)
    if search.subgradient(STEPS, desk.until):
        desk.link.say(PricesFound(search.prices.best))
        search.generate(desk.until)
    desk.prove(search.prices.bound)
    desk.prices = search.prices.best
    desk.link.say(PricesFound(desk.prices))
    return search


def _prove_and_search(desk: Desk, bound: BoundSearch) -> None:
    """Search, and integer programs over the best jobs wherever the plan got better."""
    rounds = Rounds(desk)
    tried, pause = -1, FIRST_PAUSE
    while not desk.settled() and desk.left() > 0:
        desk.listen()
        if desk.total != tried:
            listing = _listed(desk, bound)
            first = tried < 0
            if not first or desk.plan is None or (listing.complete and len(listing.columns) <= FEW):
                tried = desk.total
                if _integer_program(desk, bound, listing):
                    return
            tried = max(tried, 0)
        if not desk.settled():
            rounds.run(min(desk.until, time.monotonic() + pause))
            pause = min(20.0, pause * 2)


def _listed(desk: Desk, bound: BoundSearch) -> Listing:
    """Every job that could beat the plan, or the most promising of them."""
    slack = desk.total - 1 - bound.prices.value
    listing = list_columns(bound.pricer, bound.prices.best, bound.none, slack, PROOF_COLUMNS)
    if not listing.complete:
        listing = best_columns(bound.pricer, bound.prices.best, bound.none, slack, BEST_COLUMNS)
    if desk.plan is None and not listing.columns:
        listing = Listing(tuple(bound.columns.values()), False)
    return listing


def _integer_program(desk: Desk, bound: BoundSearch, listing: Listing) -> bool:
    """Solve over some jobs and take over what it proves; True if nothing is left to try."""
    ceiling = desk.total
    result = _solve(desk, bound, listing, ceiling)
    chosen = result.selection()
    desk.offer(chosen)
    if not listing.complete:
        return False
    conclude(desk, result, ceiling)
    return result.status == Status.OPTIMAL and chosen is not None and chosen.total(desk.inst) < desk.total


def _solve(desk: Desk, bound: BoundSearch, listing: Listing, ceiling: int) -> Result:
    """Solve the program over some jobs, sharing plans and, if the list is complete, bounds on the way."""
    mine = {c.key: c for c in desk.plan.columns.values()} if desk.plan is not None else {}
    columns = list({**mine, **{c.key: c for c in listing.columns}}.values())
    objects = [int(o) for o in bound.pricer.objects]

    def better_bound(value: float) -> bool:
        if listing.complete:
            desk.prove(whole_bound(value, ceiling))
        desk.listen()
        return desk.settled() or desk.left() <= 0

    def better_plan(chosen: list[int]) -> None:
        desk.offer(selection_of(columns[j] for j in chosen))

    seconds = min(desk.left(), max(5.0, 0.4 * desk.left()) if listing.complete else BEST_SECONDS)
    if listing.complete and len(columns) <= SMALL:
        seconds = desk.left()
    desk.phase("proof" if listing.complete else "integer program", "highs")
    program = build(JobTable(desk.inst, columns, objects, desk.inst.resources.capacity))
    return solve(
        program, desk.choice, seconds, tuple(mine.values()) or None, Watch(better_bound, better_plan)
    )
