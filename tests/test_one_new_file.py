"""Each plug-in is one new file: seven of them, laid into a copy of the package, are found everywhere."""

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
from mockup.model.scene import Lighting, Rig

PREFERENCE = 35


def lighting(rig: Rig) -> Lighting:
    """Return the preset."""
    grey, about = (0.3, 0.3, 0.3), "a low lamp on the right"
    box = soft_box((400.0, 0.0, 150.0), 100.0, 100.0, (6.0, 4.0, 2.0))
    return Lighting(
        name="dusk", about=about, boxes=(box,), surround=grey, horizon=grey, ground=grey, backdrop=grey
    )
'''
BUZZER = '''"""Buzzers: a round can that sounds, held by its own rim."""
from mockup.hardware._fixings import M9, stack
from mockup.model.material import GREY_PLASTIC
from mockup.model.part import PRACTICE, Kind
from mockup.model.shape import Turned


def kinds() -> tuple[Kind, ...]:
    """Return the buzzer."""
    can = Turned(profile=((0.0, -12.0), (7.0, -12.0), (7.0, 0.0), (0.0, 0.0)), material=GREY_PLASTIC)
    sources = {**M9.sources, "body": PRACTICE, "terminals": PRACTICE}
    return (
        Kind(
            name="buzzer", family="buzzer", about="Buzzer, 14 mm can", cutouts=(M9.cutout,), above=stack(M9, 5.0),
            below=(can,), thread=M9.thread, sources=sources,
        ),
    )
'''
DRUM = '''"""Drum: a plain cylinder with a line."""
from mockup.knobs._turning import RAISE_MM, body, hollow_mm, line, line_end_mm, seat_mm, shell
from mockup.model.part import Knob, Shaft
from mockup.model.shape import Solid

DEFAULT = Knob(style="drum", diameter_mm=16.0, height_mm=14.0, colour=(0.1, 0.1, 0.1), pointer_colour=(0.9, 0.9, 0.9))


def solids(knob: Knob, shaft: Shaft) -> tuple[Solid, ...]:
    """Return the knob on its shaft, pointer at 12 o'clock."""
    radius, hollow = knob.diameter_mm / 2, hollow_mm(knob)
    seat = seat_mm(knob, shaft, hollow)
    top = seat + knob.height_mm - RAISE_MM
    outside = [(radius, seat), (radius, top), (0.0, top)]
    crest = [(0.0, top), (radius - 1.0, top)]
    return (body(outside, hollow, 6.0, shell(knob.colour)), *line(knob, crest))
'''
CROWD = '''"""More parts on a face than hands can tell apart."""
from collections.abc import Iterator

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.model.finding import Finding, Quantity, Subject

LIMITS = """
[crowd_parts]
value = 2
unit = ""
about = "parts that one face may hold before it is called a crowd"
source = "our choice"
"""
READS = ("parts",)
_PART = "[[part]]\\nname = 'P{}'\\nkind = 'lamp-5'\\ntop = {}\\n"
PLANTED = Case("".join(_PART.format(at, at) for at in (20, 40, 60)))
SOUND = Case("".join(_PART.format(at, at) for at in (20, 40)))


def check(built: Built) -> Iterator[Finding]:
    """Yield the one finding that there is a crowd, or none."""
    limit, names = built.limits["crowd_parts"], [part.name for part in built.design.parts]
    if len(names) > limit.value:
        yield Finding(
            severity="note", title="A crowd", what="there are {measured} parts", subjects=Subject.parts(*names),
            remedy="Leave one off", measured=Quantity(len(names), ""), limit=limit,
        )
'''
NAMES = '''"""Write the names of the parts, one a line."""
from dataclasses import dataclass

from mockup.model.design import Design
from mockup.options import Progress, Result, file_stem, option, silent


@dataclass(frozen=True, kw_only=True)
class Options:
    """How the names are parted."""

    between: str = option(", ", "what stands between two names")
    output: str | None = option(None, "file to write (.txt)", short="o", suffixes=(".txt",))


def make(design: Design, options: Options, progress: Progress = silent) -> Result:
    """Return one text file."""
    text = options.between.join(part.name for part in design.parts)
    return Result(files={options.output or f"{file_stem(design.name)}.txt": text.encode()}, facts={"names": text})
'''
SCRIPT = '''
import json
from dataclasses import replace
import numpy as np
import mockup
from mockup import api, films, finishes, hardware, lights
from mockup.comparison.sweep import axes
from mockup.decal import ink_over_paint as ink
from mockup.engines import raster, traced
from mockup.layout.json_schema import json_schema
from mockup.model.errors import InputError
from mockup.model.scene import Camera, Shot
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble

PARTS = """units = "mm"
[box]
size = "112x60x31"
[[part]]
name = "CALL"
kind = "buzzer"
top = 30
[[part]]
name = "TUNE"
kind = "pot-16"
top = 60
knob = { style = "drum", diameter = 17 }
[[part]]
name = "EYE"
kind = "lamp-5"
top = 90
"""
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
crowded = api.loads(PARTS)
bodies = [body for body in assemble(crowded, PictureRequest().lighting).bodies if body.part]
tables = json_schema()["$defs"]
pearl = films.films()["pearl"]
print(json.dumps({
    "sheens": list(finishes.sheens()),
    "films": list(films.films()),
    "lights": list(lights.presets()),
    "sheen key": tables["FinishTable"]["properties"]["sheen"],
    "film key": tables["DecalTable"]["properties"]["film"],
    "no sheen": message(lambda: api.loads(LAYOUT.replace("SHEEN", "eggshel"))),
    "no light": message(lambda: PictureRequest(light="dust")),
    "swept": axes.paints("Teal,#3f8a86,eggshell", "paints.csv").values[0].assignments[-1].value,
    "limits": ink.limits(design.finish, (pearl,)),
    "over": ink.over(np.ones(3), np.full(3, 0.5), pearl).tolist(),
    "veil": ink.ground(design.finish).veil,
    "means": means,
    "bodies": sorted({body.part for body in bodies}),
    "knob": float(np.ptp(np.concatenate([b.mesh.vertices for b in bodies if b.part == "TUNE"])[:, 0])),
    "kinds": list(hardware.kinds()),
    "no knob": message(lambda: api.loads(PARTS.replace("drum", "drun"))),
    "crowd": [finding.title for finding in mockup.check(crowded, only=["crowd"])],
    "own limit": [f.title for f in mockup.check(api.loads(PARTS + "[limits]\\ncrowd_parts = 3\\n"), only=["crowd"])],
    "names": next(iter(mockup.names(crowded, between="+").files.values())).decode(),
}))
'''
FILES = {
    "finishes/eggshell": EGGSHELL,
    "films/pearl": PEARL,
    "lights/dusk": DUSK,
    "hardware/buzzer": BUZZER,
    "knobs/drum": DRUM,
    "checks/crowd": CROWD,
    "outputs/names": NAMES,
}


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a copy of the package with these files more says of them."""
    place = tmp_path_factory.mktemp("copy")
    copy = place / "mockup"
    shutil.copytree(Path(mockup.__file__).parent, copy, ignore=shutil.ignore_patterns("__pycache__"))
    for path, text in FILES.items():
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


@pytest.mark.gl
def test_a_kind_of_part_and_a_knob(told: dict[str, Any]) -> None:
    assert "buzzer" in told["kinds"]
    assert told["bodies"] == ["CALL", "EYE", "TUNE"]
    assert told["knob"] == pytest.approx(17.0, abs=0.01)  # as the layout asks; the body below is 16 wide
    assert "did you mean 'drum'?" in told["no knob"]


@pytest.mark.gl
def test_a_check_and_its_own_limit(told: dict[str, Any]) -> None:
    assert told["crowd"] == ["A crowd"]  # 3 parts, 2 are allowed
    assert told["own limit"] == []  # the layout allows 3


@pytest.mark.gl
def test_an_output(told: dict[str, Any]) -> None:
    assert told["names"] == "CALL+TUNE+EYE"
