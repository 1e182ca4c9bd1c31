"""Find the desk that art for these tests is drawn on."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for art_desk, which is no test
