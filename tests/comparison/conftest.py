"""Find the benches that these tests' pedals come from, and the browser that pages are tried in."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for pedal_bench and sweep_bench, which are no tests
sys.path.append(str(Path(__file__).parent.parent / "outputs"))  # for browser, which is no test
