"""Find the photographs of strips, which are made beside the calibration's own tests."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.append(str(Path(__file__).parent))  # for scans, which is no test
sys.path.append(str(Path(__file__).parents[1] / "calibration"))  # for photographed, which is no test
sys.path.append(str(Path(__file__).parents[1] / "reference"))  # for spectra
