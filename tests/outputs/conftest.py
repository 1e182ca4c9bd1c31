"""Find the browser that pages are tried in."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for browser, which is no test
