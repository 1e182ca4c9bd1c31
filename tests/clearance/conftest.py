"""Find the oracle that these tests measure with."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for solid_oracle, which is no test
