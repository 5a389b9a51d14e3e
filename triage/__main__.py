"""``python -m triage``."""

import sys

from triage.cli import main

sys.exit(main())
