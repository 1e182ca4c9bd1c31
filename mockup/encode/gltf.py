"""A scene as one GLB file: glTF 2.0, metres, y up, textures inside.

Numbers of sections are those of the Khronos glTF 2.0 specification. The millimetre frame (x right,
y away, z up) becomes (x, z, -y) in metres (3.4): a rotation, so triangles keep their winding.
"""

from __future__ import annotations

import json
import struct
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, get_args

import numpy as np
from numpy.typing import NDArray
from PIL import Image
from scipy.spatial.transform import Rotation

from mockup.encode.png import png
from mockup.model.digest import digest
from mockup.model.material import Material, Texture
from mockup.model.mesh import Floats, Mesh
from mockup.model.scene import Body, Group, Scene

METRES_PER_MM: Final = 0.001
TEXTURE_PX: Final = 4096  # largest side that phones take: common practice, no source
_MAGIC, _VERSION, _JSON, _BIN = 0x46546C67, 2, 0x4E4F534A, 0x004E4942  # 4.4: GLB header and chunk types
_FLOAT, _USHORT, _UINT = 5126, 5123, 5125  # 3.6.2.2: component types
_VERTICES, _INDICES = 34962, 34963  # 3.6.1: buffer view targets
_LINEAR, _MIPMAPPED, _CLAMP = 9729, 9987, 33071  # 3.8.4.1: sampler filters and wrapping
_SHORT_LIMIT = 65535  # 3.7.2.1: the highest index of its type must not be used
_SAME_MM, _SAME_NORMAL = 1e-6, 1e-6  # shapes that differ by less are one: a thousandth of what is written
# Steps that shared arrays are rounded to, powers of two: a thousandth of a millimetre, a seventieth of a degree.
_POINT_M, _NORMAL = 2.0**-20, 2.0**-12
_CLEARCOAT, _STRENGTH = "KHR_materials_clearcoat", "KHR_materials_emissive_strength"


@dataclass(frozen=True, kw_only=True)
class _File:
    """What the file holds so far; the lists are those of the JSON part.

    Where it `is_shared`, what is equal is there once: arrays, materials, pictures, and shapes that stand in
    several places.
    """

    is_shared: bool = False
    data: bytearray = field(default_factory=bytearray)
    lists: dict[str, list[dict[str, Any]]] = field(default_factory=dict)
    known: dict[Any, Any] = field(default_factory=dict)  # materials by identity; what is shared by its content

    def add(self, name: str, entry: dict[str, Any]) -> int:
        """Append an entry to a list of the file and return its index."""
        entries = self.lists.setdefault(name, [])
        entries.append(entry)
        return len(entries) - 1

    def once(self, content: tuple[Any, ...], make: Callable[[], int]) -> int:
        """Return the index of what was made of equal content before, where that is shared, or make it."""
        if not self.is_shared:
            return make()
        if content not in self.known:
            self.known[content] = make()
        return int(self.known[content])

    def view(self, raw: bytes, target: int | None = None) -> int:
        """Append bytes, 4-byte aligned (3.6.2.4), and return their buffer view."""
        self.data.extend(b"\0" * (-len(self.data) % 4))
        entry: dict[str, Any] = {"buffer": 0, "byteOffset": len(self.data), "byteLength": len(raw)}
        if target is not None:
            entry["target"] = target
        self.data.extend(raw)
        return self.add("bufferViews", entry)

    def accessor(self, values: NDArray[Any], kind: str, component: int, *, target: int, is_bounded: bool) -> int:
        """Append an array and return its accessor; `is_bounded` states its least and greatest (3.6.2.5)."""
        raw = np.ascontiguousarray(values).tobytes()

        def made() -> int:
            entry: dict[str, Any] = {
                "bufferView": self.view(raw, target),
                "componentType": component,
                "count": len(values),
                "type": kind,
            }
            if is_bounded:
                entry["min"] = [float(value) for value in values.min(axis=0)]
                entry["max"] = [float(value) for value in values.max(axis=0)]
            return self.add("accessors", entry)

        return self.once(("accessor", kind, component, target, is_bounded, digest(raw)), made)

    def shape(self, mesh: Mesh) -> tuple[Mesh, Floats | None]:
        """Return the mesh to write in place of another, and the (4, 4) pose that brings it there; None for no move."""
        if not self.is_shared:
            return mesh, None
        kin = self.known.setdefault(("shape", len(mesh.vertices), digest(mesh.faces)), [])
        for other in kin:
            pose = pose_between(other, mesh)
            if pose is not None:
                return other, None if np.array_equal(pose, np.eye(4)) else pose
        kin.append(mesh)
        return mesh, None


def glb(scene: Scene, *, name: str, generator: str, texture_px: int = TEXTURE_PX) -> bytes:
    """Return a scene as a GLB file, its nodes named: the pedal, its groups, in them parts and surfaces.

    Light and ground are left to whoever shows it. Textures larger than `texture_px` on a side are
    made smaller. What GLB cannot say (flake, hammer) is left out; lenses are opaque and glow.
    """
    return _written(_File(), [(name, scene)], generator, texture_px)


def glb_of_several(scenes: Sequence[tuple[str, Scene]], *, generator: str, texture_px: int = TEXTURE_PX) -> bytes:
    """Return named scenes as one GLB file with a glTF scene for each, in order, each like that of `glb`.

    What they have in common is there once; numbers are rounded (`_POINT_M`, `_NORMAL`), so that they pack well.
    """
    return _written(_File(is_shared=True), scenes, generator, texture_px)


def _written(file: _File, scenes: Sequence[tuple[str, Scene]], generator: str, texture_px: int) -> bytes:
    if texture_px < 1:
        raise ValueError("a texture has at least one pixel")
    tops = []
    for name, scene in scenes:
        children = [_group(file, group, scene.bodies, texture_px) for group in _groups(scene)]
        tops.append({"name": name, "nodes": [file.add("nodes", {"name": name, "children": children})]})
    used = sorted({key for each in file.lists.get("materials", []) for key in each.get("extensions", {})})
    described: dict[str, Any] = {
        "asset": {"version": "2.0", "generator": generator},
        "scene": 0,
        "scenes": tops,
        **file.lists,
        "buffers": [{"byteLength": len(file.data)}],
    }
    if used:
        described["extensionsUsed"] = used
    text = json.dumps(described, separators=(",", ":"), ensure_ascii=False).encode()
    chunks = _chunk(_JSON, text, b" ") + _chunk(_BIN, bytes(file.data), b"\0")
    return struct.pack("<III", _MAGIC, _VERSION, 12 + len(chunks)) + chunks


def _chunk(kind: int, raw: bytes, pad: bytes) -> bytes:
    padded = raw + pad * (-len(raw) % 4)
    return struct.pack("<II", len(padded), kind) + padded


def _groups(scene: Scene) -> tuple[Group, ...]:
    present = {body.group for body in scene.bodies if len(body.mesh.faces)}
    return tuple(group for group in get_args(Group) if group in present)


def _group(file: _File, group: Group, bodies: Iterable[Body], texture_px: int) -> int:
    """Add one group's node: the parts in it, and what belongs to no part; return its index."""
    parts: dict[str | None, list[Body]] = {}
    for body in bodies:
        if body.group == group and len(body.mesh.faces):
            parts.setdefault(body.part, []).append(body)
    children: list[int] = []
    for part, members in parts.items():
        nodes = [_node(file, body, texture_px) for body in members]
        children += nodes if part is None else [file.add("nodes", {"name": part, "children": nodes})]
    return file.add("nodes", {"name": group, "children": children})


def _node(file: _File, body: Body, texture_px: int) -> int:
    mesh, pose = file.shape(body.mesh)
    texture = body.material.texture if body.mesh.uv is not None else None
    points, normals = _y_up(mesh.vertices * METRES_PER_MM), _y_up(_unit(mesh.normals))
    if file.is_shared:
        points, normals = _rounded(points, _POINT_M), _rounded(normals, _NORMAL)
    attributes = {
        "POSITION": file.accessor(points, "VEC3", _FLOAT, target=_VERTICES, is_bounded=True),
        "NORMAL": file.accessor(normals, "VEC3", _FLOAT, target=_VERTICES, is_bounded=False),
    }
    if texture is not None and body.mesh.uv is not None:
        uv = texture.normalised(body.mesh.uv).astype("<f4")  # origin at the top-left corner, v down: 3.8.3
        attributes["TEXCOORD_0"] = file.accessor(uv, "VEC2", _FLOAT, target=_VERTICES, is_bounded=False)
    primitive = {
        "attributes": attributes,
        "indices": _indices(file, mesh),
        "material": _material(file, body.material, texture, texture_px),
    }
    content = ("mesh", json.dumps(primitive))
    found = file.once(content, lambda: file.add("meshes", {"name": body.name, "primitives": [primitive]}))
    return file.add("nodes", {"name": body.name, "mesh": found, **(_placed(pose) if pose is not None else {})})


def pose_between(one: Mesh, other: Mesh) -> Floats | None:
    """Return the rigid (4, 4) pose that brings one mesh onto another, vertex by vertex; None where none does.

    By the method of Kabsch (Acta Cryst. A32, 1976): the rotation nearest to the covariance of both.
    """
    if np.array_equal(one.vertices, other.vertices):
        return np.eye(4) if np.array_equal(one.normals, other.normals) else None
    middle, there = one.vertices.mean(axis=0), other.vertices.mean(axis=0)
    u, _, vt = np.linalg.svd((one.vertices - middle).T @ (other.vertices - there))
    turn = vt.T @ np.diag([1.0, 1.0, np.sign(np.linalg.det(vt.T @ u.T))]) @ u.T
    pose = np.eye(4)
    pose[:3, :3], pose[:3, 3] = turn, there - turn @ middle
    moved = one.moved(pose)
    is_same = np.allclose(moved.vertices, other.vertices, rtol=0.0, atol=_SAME_MM) and np.allclose(
        moved.normals, other.normals, rtol=0.0, atol=_SAME_NORMAL
    )
    return pose if is_same else None


def _placed(pose: Floats) -> dict[str, Any]:
    """Return a pose in the millimetre frame as a node's translation and rotation, a unit quaternion (3.5.3)."""
    frame = np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]])  # millimetre frame to y up
    turn, shift = frame @ pose[:3, :3] @ frame.T, frame @ pose[:3, 3] * METRES_PER_MM
    return {"translation": shift.tolist(), "rotation": Rotation.from_matrix(turn).as_quat().tolist()}


def _rounded(values: NDArray[np.float32], step: float) -> NDArray[np.float32]:
    return np.asarray(np.rint(values / np.float32(step)) * np.float32(step) + np.float32(0.0), "<f4")  # no minus zero


def _indices(file: _File, mesh: Mesh) -> int:
    is_short = len(mesh.vertices) <= _SHORT_LIMIT
    flat = mesh.faces.reshape(-1).astype("<u2" if is_short else "<u4")
    return file.accessor(flat, "SCALAR", _USHORT if is_short else _UINT, target=_INDICES, is_bounded=False)


def _y_up(points: Floats) -> NDArray[np.float32]:
    return np.stack([points[:, 0], points[:, 2], -points[:, 1]], axis=1).astype("<f4")


def _unit(normals: Floats) -> Floats:
    return np.asarray(normals / np.linalg.norm(normals, axis=1, keepdims=True))


def _material(file: _File, material: Material, texture: Texture | None, texture_px: int) -> int:
    if id(material) in file.known:
        return int(file.known[id(material)])
    # The picture already holds the paint round the art, so the factor that would multiply it is white (3.9.2).
    colour: Sequence[float] = (1.0, 1.0, 1.0) if texture is not None else np.clip(material.base_color, 0, 1).tolist()
    surface: dict[str, Any] = {
        "baseColorFactor": [*colour, 1.0],
        "metallicFactor": float(material.metallic),
        "roughnessFactor": float(material.roughness),
    }
    if texture is not None:
        surface["baseColorTexture"] = {"index": _texture(file, texture, texture_px)}
    entry: dict[str, Any] = {"name": material.name, "pbrMetallicRoughness": surface}
    extensions: dict[str, Any] = {}
    if material.coat > 0.0:
        coat = {"clearcoatFactor": float(material.coat), "clearcoatRoughnessFactor": float(material.coat_roughness)}
        extensions[_CLEARCOAT] = coat
    strength = max(material.emission)
    if strength > 0.0:
        entry["emissiveFactor"] = [float(value / strength) for value in material.emission]
        extensions[_STRENGTH] = {"emissiveStrength": float(strength)}
    if extensions:
        entry["extensions"] = extensions
    index = file.once(("material", json.dumps(entry)), lambda: file.add("materials", entry))
    file.known[id(material)] = index
    return index


def _texture(file: _File, texture: Texture, texture_px: int) -> int:
    pixels = texture.pixels
    height, width = pixels.shape[:2]
    if max(height, width) > texture_px:
        factor = texture_px / max(height, width)
        size = (max(1, round(width * factor)), max(1, round(height * factor)))
        pixels = np.asarray(Image.fromarray(pixels).resize(size, Image.Resampling.LANCZOS))

    def made() -> int:
        image = file.add("images", {"mimeType": "image/png", "bufferView": file.view(png(pixels))})
        wrap = {"magFilter": _LINEAR, "minFilter": _MIPMAPPED, "wrapS": _CLAMP, "wrapT": _CLAMP}
        if not file.lists.get("samplers"):
            file.add("samplers", wrap)
        return file.add("textures", {"sampler": 0, "source": image})

    return file.once(("texture", digest(pixels)), made)
