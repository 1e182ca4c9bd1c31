"""What scans and photographs say: marks found, planes straightened, colours averaged. Pure; no files."""

from __future__ import annotations

import sys

from mockup.model import Room

sys.modules[__name__].__class__ = Room
