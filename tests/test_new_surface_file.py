"""A sheen, a film and a light are one new file each: laid into a copy of the package, they are found everywhere."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import mockup

EGGSHELL = '''"""Paint a little shinier than matte."""
from mockup.model.finish import Sheen


def sheen() -> Sheen:
    """Return the sheen."""
    return Sheen(
        name="eggshell", about="a soft glow", roughness=0.7, bare_roughness=0.6, coat_roughness=0.45, veil=0.02
    )
'''
PEARL = '''"""Film with a pale shimmer."""
from mockup.model.finish import Film


def film() -> Film:
    """Return the film."""
    return Film(name="pearl", about="a pale shimmer", reflectance=0.3, transmittance=0.4, caution="Pearl: a guess.")
'''
DUSK = '''"""A low lamp on the right."""
from mockup.geometry.irradiance import soft_box
from mockup.model.scene import Lighting

PREFERENCE = 35


def lighting() -> Lighting:
    """Return the preset."""
    grey, about = (0.3, 0.3, 0.3), "a low lamp on the right"
    box = soft_box((400.0, 0.0, 150.0), 100.0, 100.0, (6.0, 4.0, 2.0))
    return Lighting(
        name="dusk", about=about, boxes=(box,), surround=grey, horizon=grey, ground=grey, backdrop=grey
    )
'''
SCRIPT = '''
import json
from dataclasses import replace
import numpy as np
from mockup import api, films, finishes, lights
from mockup.comparison.sweep import axes
from mockup.decal import ink
from mockup.engines import raster, traced
from mockup.layout import schema
from mockup.model.errors import InputError
from mockup.model.scene import Camera, Shot
from mockup.picture.request import PictureRequest
from mockup.scene.assemble import assemble

LAYOUT = """[box]
size = "112x60x31"
[finish]
paint = "#3f8a86"
sheen = "SHEEN"
"""

def message(act):
    try:
        act()
    except InputError as error:
        return str(error)

design = api.loads(LAYOUT.replace("SHEEN", "eggshell"))
scene = assemble(design, PictureRequest(light="dusk").lighting)
camera = Camera(eye=(0.0, -300.0, 300.0), target=(0.0, 0.0, 15.0), fov_deg=24.0)
means = []
for engine in (raster, traced):
    with engine.open(scene) as session:
        pixels = session.render(Shot(camera=camera, width_px=32, height_px=32, quality="draft")).pixels
    means.append(float(pixels[12:20, 12:20, :3].mean()))
tables = schema.json_schema()["$defs"]
pearl = films.films()["pearl"]
print(json.dumps({
    "sheens": list(finishes.sheens()),
    "films": list(films.films()),
    "lights": list(lights.presets()),
    "sheen key": tables["FinishTable"]["properties"]["sheen"],
    "film key": tables["DecalTable"]["properties"]["film"],
    "no sheen": message(lambda: api.loads(LAYOUT.replace("SHEEN", "eggshel"))),
    "no light": message(lambda: PictureRequest(light="dust")),
    "swept": axes.paints("Teal,#3f8a86,eggshell", "paints.csv").values[0].changes[-1].value,
    "limits": ink.limits(design.finish, (pearl,)),
    "over": ink.over(np.ones(3), np.full(3, 0.5), pearl, 1.0, 0.4).tolist(),
    "veil": ink.ground(design.finish).veil,
    "means": means,
}))
'''


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a copy of the package with three files more says of them."""
    place = tmp_path_factory.mktemp("copy")
    copy = place / "mockup"
    shutil.copytree(Path(mockup.__file__).parent, copy, ignore=shutil.ignore_patterns("__pycache__"))
    for path, text in (("finishes/eggshell", EGGSHELL), ("films/pearl", PEARL), ("lights/dusk", DUSK)):
        (copy / f"{path}.py").write_text(text, "utf-8")
    here = os.environ | {"PYTHONPATH": str(place), "PYTHONDONTWRITEBYTECODE": "1"}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], cwd=place, env=here, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    return dict(json.loads(done.stdout))


@pytest.mark.gl
def test_a_sheen(told: dict[str, Any]) -> None:
    assert told["sheens"][:4] == ["gloss", "satin", "eggshell", "matte"]  # by its roughness, in every list
    assert told["sheen key"]["enum"] == told["sheens"]
    assert "eggshell: a soft glow" in told["sheen key"]["description"]
    assert "did you mean 'eggshell'?" in told["no sheen"]
    assert told["swept"] == "eggshell"
    assert told["veil"] == 0.02
    assert all(0.005 < mean < 1.0 for mean in told["means"])  # both engines draw it


@pytest.mark.gl
def test_a_film(told: dict[str, Any]) -> None:
    assert told["films"] == told["film key"]["enum"] == ["clear", "pearl", "white"]
    assert told["limits"][-1] == "Pearl: a guess."
    assert told["over"] == pytest.approx([0.3 + 0.2 / 0.85] * 3, abs=1e-12)  # 0.3 + 0.4 * 0.5 / (1 - 0.3 * 0.5)


@pytest.mark.gl
def test_a_light(told: dict[str, Any]) -> None:
    assert told["lights"] == ["bench", "window", "stage", "dusk", "white", "cutout"]
    assert "did you mean 'dusk'?" in told["no light"]
