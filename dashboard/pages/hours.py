"""Third sheet: the hours of each trade, month by month, against what there is."""

from __future__ import annotations

from collections.abc import Mapping

from dash import html

from dashboard.parts import hours as parts
from dashboard.parts.charts import graph
from dashboard.parts.marks import aria, folded
from dashboard.parts.shell import Sheet
from triage.reports import bays
from triage.reports import hours as rows
from triage.reports.study import Study

PATH = "/hours"
LEAST_WIDTH = "38rem"


def layout(study: Study, _query: Mapping[str, str]) -> Sheet:
    """Return the sheet."""
    trades, closed = rows.hours_rows(study), bays.closed_spans(study)
    body = [html.H1("Staff hours"), html.P(parts.overall_sentence(trades), className="lead")]
    if not trades:
        return Sheet("Staff hours", body, PATH)
    body += [parts.hours_overview(trades), parts.hours_key()]
    for trade in trades:
        chart = graph(parts.hours_figure(trade, closed), height=parts.TRADE_PX, least_width=LEAST_WIDTH)
        label = f"Chart of the hours of {trade.trade}; the same is in the table below"
        body += [
            html.H2(trade.trade, className="close"),
            html.P(parts.hours_sentence(trade)),
            html.Div(chart, className="chart", tabIndex=0, role="region", **aria(label=label)),
            folded("the same as a table", parts.hours_table(trade)),
        ]
    return Sheet("Staff hours", body, PATH)
