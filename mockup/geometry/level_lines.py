"""Lines of one level through a field, on a grid or a mesh: where it passes from one side of it to the other.

Marching squares (Maple, Geometric design and space planning using the marching squares algorithm, 2003), with the
middle of a cell asked where it is ambiguous.
"""

from __future__ import annotations

import numpy as np

from mockup.model.mesh import Floats, Mesh

_TOP, _RIGHT, _BOTTOM, _LEFT = range(4)
_WAYS: dict[int, tuple[tuple[int, int], ...]] = {  # corners above the level, 1 2 4 8 clockwise from the top left
    1: ((_LEFT, _TOP),), 2: ((_TOP, _RIGHT),), 3: ((_LEFT, _RIGHT),), 4: ((_RIGHT, _BOTTOM),), 6: ((_TOP, _BOTTOM),),
    7: ((_LEFT, _BOTTOM),), 8: ((_BOTTOM, _LEFT),), 9: ((_BOTTOM, _TOP),), 11: ((_BOTTOM, _RIGHT),),
    12: ((_RIGHT, _LEFT),), 13: ((_RIGHT, _TOP),), 14: ((_TOP, _LEFT),),
}  # fmt: skip
_APART = {5: ((_LEFT, _TOP), (_RIGHT, _BOTTOM)), 10: ((_TOP, _RIGHT), (_BOTTOM, _LEFT))}
_JOINED = {5: ((_LEFT, _BOTTOM), (_RIGHT, _TOP)), 10: ((_TOP, _LEFT), (_BOTTOM, _RIGHT))}


def level_lines(field: Floats, level: float) -> tuple[Floats, ...]:
    """Return closed lines (n, 2) of (column, row) round what is above the level in a field (rows, columns).

    Places are those of the grid's points: the middle of the first is (0, 0). What lies beyond the grid is below the
    level. Going along a line, what is above it lies to the right as seen with rows running down.
    """
    padded = np.pad(field, 1, constant_values=min(float(field.min()), level) - 1.0)
    above = padded > level
    case = above[:-1, :-1] + 2 * above[:-1, 1:] + 4 * above[1:, 1:] + 8 * above[1:, :-1]
    following: dict[tuple[int, int, int], tuple[int, int, int]] = {}
    for row, column in np.argwhere((case > 0) & (case < 15)).tolist():
        key = int(case[row, column])
        ways = _WAYS.get(key)
        if ways is None:
            is_joined = padded[row : row + 2, column : column + 2].mean() > level
            ways = (_JOINED if is_joined else _APART)[key]
        for start, end in ways:
            following[_edge(row, column, start)] = _edge(row, column, end)
    return tuple(_placed(line, padded, level) for line in _linked(following))


def _edge(row: int, column: int, side: int) -> tuple[int, int, int]:
    """Return an edge of the grid: its upper or left point, and whether it runs down."""
    if side in (_TOP, _BOTTOM):
        return row + (side == _BOTTOM), column, 0
    return row, column + (side == _RIGHT), 1


def _linked(following: dict[tuple[int, int, int], tuple[int, int, int]]) -> list[list[tuple[int, int, int]]]:
    lines = []
    while following:
        start, step = following.popitem()
        line = [start]
        while step != start:
            line.append(step)
            step = following.pop(step)
        lines.append(line)
    return lines


def _placed(line: list[tuple[int, int, int]], padded: Floats, level: float) -> Floats:
    rows, columns, is_down = np.array(line).T
    first, second = padded[rows, columns], padded[rows + is_down, columns + 1 - is_down]
    share = (level - first) / (second - first)
    return np.stack([columns + share * (1 - is_down), rows + share * is_down], axis=1) - 1.0


def part_above(mesh: Mesh, field: Floats, level: float) -> Mesh:
    """Return the part of a mesh where a field, one value a vertex, is above a level; face coordinates are lost.

    Triangles are cut where the field passes the level, as if it ran evenly from vertex to vertex.
    """
    above = field[mesh.faces] > level
    count = above.sum(axis=1)
    # the vertex that lies alone comes first
    alone = np.argmax(above == (count == 1)[:, None], axis=1)
    turned = np.take_along_axis(mesh.faces, (alone[:, None] + np.arange(3)) % 3, axis=1)
    cut = turned[(count == 1) | (count == 2)]
    first, second, third = cut.T
    ends = np.stack([np.tile(first, 2), np.concatenate([second, third])])
    share = ((level - field[ends[0]]) / (field[ends[1]] - field[ends[0]]))[:, None]
    points, normals = (
        each[ends[0]] + share * (each[ends[1]] - each[ends[0]]) for each in (mesh.vertices, mesh.normals)
    )
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    near = len(field) + np.arange(len(cut))
    far, is_tip = near + len(cut), count[(count == 1) | (count == 2)] == 1
    tips = np.stack([first, near, far], axis=1)[is_tip]
    rests = np.concatenate([np.stack([near, second, third], axis=1), np.stack([near, third, far], axis=1)])
    whole = Mesh(
        vertices=np.concatenate([mesh.vertices, points]), normals=np.concatenate([mesh.normals, normals]),
        faces=np.concatenate([mesh.faces[count == 3], tips, rests[np.tile(~is_tip, 2)]]),
    )  # fmt: skip
    return whole.part(whole.faces)
