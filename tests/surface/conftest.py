"""Load the outside colour library once, quietly: it warns about plotting extras that nobody asked for."""

from __future__ import annotations

import warnings

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour  # noqa: F401
