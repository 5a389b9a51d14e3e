"""Staff hours: what the plan asks of each trade in each month, against what there is."""

from __future__ import annotations

from triage.reports.rows import HoursCell, HoursRow
from triage.reports.study import Study
from triage.reports.view import PlanView


def hours_rows(study: Study) -> tuple[HoursRow, ...]:
    """Return each trade's months, in the record's order."""
    view = PlanView(study)
    return tuple(_row(view, row) for row in range(len(view.problem.trades)))


def _row(view: PlanView, row: int) -> HoursRow:
    trade, planned = view.problem.trades[row], view.ledger.hours[row]
    first, closed = view.study.collection.settings.first_month, set(view.problem.closed)
    cells = tuple(
        HoursCell(
            month=first + month,
            planned=int(planned[month]),
            capacity=trade.hours[month],
            overtime=max(0, int(planned[month]) - trade.hours[month]),
            overtime_most=trade.overtime_most[month],
            closed=month in closed,
        )
        for month in range(view.problem.months)
    )
    busy = [cell for cell in cells if cell.planned]
    fullest = min(busy, key=lambda c: (c.capacity - c.planned, c.month), default=None)
    return HoursRow(
        trade=trade.trade_id,
        cells=cells,
        planned_total=sum(cell.planned for cell in cells),
        overtime_total=sum(cell.overtime for cell in cells),
        fullest_month=None if fullest is None else fullest.month,
    )
