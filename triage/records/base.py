"""What every record has in common."""

from __future__ import annotations

from typing import Annotated

from pydantic import BaseModel, ConfigDict, StringConstraints


class Record(BaseModel):
    """A frozen row of the museum's record; unknown fields are refused."""

    model_config = ConfigDict(frozen=True, extra="forbid")


Id = Annotated[str, StringConstraints(min_length=1, max_length=40, pattern=r"^[^;]+$")]
"""An id as the museum writes it: trimmed text of at most 40 characters without ``;``, case kept."""

MonthNo = int
"""A calendar month as ``year * 12 + month - 1``; see :mod:`triage.units`."""
