"""From records and losses to the planning problem: everything that is rounded is rounded here.

Needs round up, room rounds down (m2, cm, hours), and what the museum does not know is not held against it:
unknown doors and sizes pass, and are remembered as not checked.
"""

from triage.planning.assemble.assembled import Assembled, LeftOut, Note
from triage.planning.assemble.build import assemble

__all__ = ["Assembled", "LeftOut", "Note", "assemble"]
