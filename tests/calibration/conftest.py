"""Find the simulated printers and the spectra that they are made of."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for simulated and photographed, which are no tests
sys.path.append(str(Path(__file__).parents[1] / "reference"))  # for spectra
