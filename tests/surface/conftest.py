"""Load the outside colour library once, quietly (it warns about plotting extras), and find the picture writer."""

from __future__ import annotations

import sys
import warnings
from pathlib import Path

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour  # noqa: F401

sys.path.append(str(Path(__file__).parent))  # for picture_files, which is no test
