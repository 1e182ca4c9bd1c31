"""A closed mesh to the bytes of a binary STL file, in millimetres."""

from __future__ import annotations

import numpy as np

from mockup.model.mesh import Mesh

_RECORD = np.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])  # 50 bytes a triangle
_HEADER = 80  # bytes; must not begin with "solid", which readers take for the text form


def stl(mesh: Mesh, title: str = "") -> bytes:
    """Return a binary STL file; triangles that 32-bit floats collapse are left out.

    STL has no unit; slicers take its numbers for millimetres.
    """
    vertices = mesh.vertices.astype(np.float32)
    corners = vertices[mesh.faces]
    a, b, c = corners[:, 0], corners[:, 1], corners[:, 2]
    is_whole = (a != b).any(axis=1) & (b != c).any(axis=1) & (c != a).any(axis=1)
    corners = corners[is_whole]
    across = np.cross((corners[:, 1] - corners[:, 0]).astype(np.float64), (corners[:, 2] - corners[:, 0]).astype(float))
    lengths = np.linalg.norm(across, axis=1, keepdims=True)
    records = np.zeros(len(corners), _RECORD)
    records["normal"] = across / np.where(lengths > 0, lengths, 1.0)
    records["corners"] = corners
    header = f"mockup: {title}".encode("ascii", "replace")[:_HEADER].ljust(_HEADER)
    return b"".join((header, len(records).to_bytes(4, "little"), records.tobytes()))
