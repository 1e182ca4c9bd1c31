"""Several pedals in one model file: each as it is alone, what they share there once."""

from __future__ import annotations

import json
import os
import shutil
import struct
import subprocess
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import mockup
from mockup.encode.gltf import glb, glb_of_several, pose_between
from mockup.model.mesh import Mesh
from mockup.model.scene import Scene

ROOT = Path(__file__).parent.parent.parent
NODE_MODULES = Path(os.environ.get("MOCKUP_NODE_MODULES", ROOT / ".cache" / "node_modules"))
IS_REQUIRED = bool(os.environ.get("MOCKUP_REQUIRE_GL"))
TYPES = {5126: "<f4", 5125: "<u4", 5123: "<u2"}  # glTF 2.0, 3.6.2.2
WIDE = {"SCALAR": 1, "VEC2": 2, "VEC3": 3}
STEP_MM = 1000 * 2.0**-20  # that places are rounded to


def taken_apart(raw: bytes) -> tuple[dict[str, Any], bytes]:
    """Return the JSON part and the data of a GLB file: glTF 2.0, section 4."""
    (size,) = struct.unpack("<I", raw[12:16])
    return json.loads(raw[20 : 20 + size]), raw[28 + size :]


def placed(raw: bytes, scene: int) -> Iterator[tuple[str, np.ndarray, np.ndarray, int]]:
    """Yield each surface of one of a file's scenes: name, corners (m, 3, 3) and normals in metres, material."""
    described, data = taken_apart(raw)

    def array(index: int) -> np.ndarray:
        accessor = described["accessors"][index]
        view = described["bufferViews"][accessor["bufferView"]]
        held = np.frombuffer(data[view["byteOffset"] :][: view["byteLength"]], TYPES[accessor["componentType"]])
        return held.reshape(-1, WIDE[accessor["type"]]).astype(float)

    def walk(number: int) -> Iterator[tuple[str, np.ndarray, np.ndarray, int]]:
        node = described["nodes"][number]
        for child in node.get("children", ()):
            yield from walk(child)
        if "mesh" not in node:
            return
        (primitive,) = described["meshes"][node["mesh"]]["primitives"]
        points, normals = array(primitive["attributes"]["POSITION"]), array(primitive["attributes"]["NORMAL"])
        x, y, z, w = node.get("rotation", (0.0, 0.0, 0.0, 1.0))
        turn = np.array(  # of a unit quaternion: glTF 2.0, 3.5.3; Hamilton's product by hand
            [
                [1 - 2 * (y * y + z * z), 2 * (x * y - z * w), 2 * (x * z + y * w)],
                [2 * (x * y + z * w), 1 - 2 * (x * x + z * z), 2 * (y * z - x * w)],
                [2 * (x * z - y * w), 2 * (y * z + x * w), 1 - 2 * (x * x + y * y)],
            ]
        )
        corners = array(primitive["indices"]).astype(int).reshape(-1, 3)
        points = points @ turn.T + node.get("translation", (0.0, 0.0, 0.0))
        yield node["name"], points[corners], (normals @ turn.T)[corners], primitive["material"]

    (top,) = described["scenes"][scene]["nodes"]
    yield from walk(top)


@pytest.fixture(scope="module")
def scenes() -> list[tuple[str, Scene]]:
    """Return two pedals of different boxes and a repainted one, none with an object in common with another."""
    designs = [mockup.load(ROOT / "examples" / name / "layout.toml") for name in ("lantern_moth", "copper_kettle")]
    red = replace(designs[0], finish=replace(designs[0].finish, paint=(0.6, 0.1, 0.1)))
    return [(f"number {n}", mockup.build(each)) for n, each in enumerate((*designs, red), 1)]


@pytest.fixture(scope="module")
def raw(scenes: list[tuple[str, Scene]]) -> bytes:
    return glb_of_several(scenes, generator="test", texture_px=256)


def test_every_pedal_is_where_and_what_it_is_alone(raw: bytes, scenes: list[tuple[str, Scene]]) -> None:
    described, _ = taken_apart(raw)
    assert [each["name"] for each in described["scenes"]] == ["number 1", "number 2", "number 3"]
    for number, (name, scene) in enumerate(scenes):
        alone = glb(scene, name=name, generator="test", texture_px=256)
        materials = taken_apart(alone)[0]["materials"]
        pairs = list(zip(placed(raw, number), placed(alone, 0), strict=True))
        assert len(pairs) > 40
        for one, other in pairs:
            assert one[0] == other[0]
            assert np.abs(one[1] - other[1]).max() * 1000 <= STEP_MM
            assert np.abs(one[2] - other[2]).max() <= 2.0**-12
            here, there = described["materials"][one[3]], materials[other[3]]
            assert here["name"] == there["name"]
            skin, own = (dict(each["pbrMetallicRoughness"]) for each in (here, there))
            assert ("baseColorTexture" in skin) == ("baseColorTexture" in own)
            assert skin["baseColorFactor"] == own["baseColorFactor"]


def test_what_is_equal_is_there_once(raw: bytes, scenes: list[tuple[str, Scene]]) -> None:
    """The third pedal is the first one in another paint: it adds materials and a picture, no triangle."""
    two, three = taken_apart(glb_of_several(scenes[:2], generator="test", texture_px=256))[0], taken_apart(raw)[0]
    assert len(three["accessors"]) == len(two["accessors"])
    assert len(three["images"]) == len(two["images"]) + 1
    assert len(three["materials"]) == len({json.dumps(each) for each in three["materials"]})
    one = taken_apart(glb_of_several(scenes[:1], generator="test", texture_px=256))[0]
    pots = [node for node in one["nodes"] if "mesh" in node and node["name"].split()[0] in ("FLUTTER", "HOVER", "GLOW")]
    assert len({node["mesh"] for node in pots}) == len(pots) / 3  # three alike: their solids stand there once
    assert len(raw) < sum(len(glb(each, name="", generator="", texture_px=256)) for _, each in scenes) / 3


def test_a_shape_is_known_again_however_it_lies_and_no_other_is_taken_for_it() -> None:
    chance = np.random.default_rng(7)
    points, normals = chance.normal(size=(2, 20, 3))
    normals /= np.linalg.norm(normals, axis=1, keepdims=True)
    mesh = Mesh(vertices=points, normals=normals, faces=np.arange(18).reshape(6, 3))
    pose = np.eye(4)
    pose[:3, :3] = np.array([[0.0, -1.0, 0.0], [0.0, 0.0, -1.0], [1.0, 0.0, 0.0]])  # a third of a turn
    pose[:3, 3] = 3.0, -2.0, 1.0
    found = pose_between(mesh, mesh.moved(pose))
    assert found is not None and found == pytest.approx(pose, abs=1e-9)
    flat = replace(mesh, vertices=points * (1.0, 1.0, 0.0))  # lies in a plane: its mirror image is itself turned over
    again = pose_between(flat, flat.moved(pose))
    assert again is not None and np.linalg.det(again[:3, :3]) == pytest.approx(1.0)
    mirror = np.array([-1.0, 1.0, 1.0])
    for other in (
        replace(mesh, vertices=points * 1.001),
        replace(mesh, vertices=points * mirror, normals=normals * mirror),
        replace(mesh, normals=-normals),
    ):
        assert pose_between(mesh, other) is None


def test_the_khronos_validator_is_content_with_several(raw: bytes, tmp_path: Path) -> None:
    """npm gltf-validator 2.0.0-dev.3.10: no error, no warning, no hint."""
    node = shutil.which("node")
    if node is None or not (NODE_MODULES / "gltf-validator").is_dir():
        assert not IS_REQUIRED, "no validator; run: npm install --prefix .cache gltf-validator@2.0.0-dev.3.10"
        pytest.skip("node or npm's gltf-validator is not here")
    path = tmp_path / "models.glb"
    path.write_bytes(raw)
    command = [node, str(Path(__file__).parent / "validator.mjs"), str(NODE_MODULES), str(path)]
    issues = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)["issues"]
    assert (issues["numErrors"], issues["numWarnings"], issues["numHints"]) == (0, 0, 0), issues["messages"]
