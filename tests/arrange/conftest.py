"""Pedals to put parts on."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for part_bench, which is no test
