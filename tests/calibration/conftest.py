"""Load the outside colour library once, quietly, and find the simulated prints."""

from __future__ import annotations

import sys
import warnings
from pathlib import Path

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour  # noqa: F401

sys.path.append(str(Path(__file__).parent))  # for simulated, which is no test
