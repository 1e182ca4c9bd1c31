"""Which engine is taken, and what is said where GL is missing."""

import subprocess
import sys

import pytest

from mockup.engines import ENGINES, choose
from mockup.model.errors import EngineError

WITHOUT_GL = """
import ctypes.util, os, sys
real = ctypes.util.find_library
ctypes.util.find_library = lambda name: None if name in ("EGL", "GL", "OSMesa", "OpenGL", "opengl32") else real(name)
os.environ.pop("PYOPENGL_PLATFORM", None)
before = dict(os.environ)
from mockup.engines import raster
print(raster.unavailable())
from mockup.engines import choose
name, engine, note = choose(None)
print(name)
print(note)
loaded = {m.split(".")[0] for m in sys.modules} & {"OpenGL", "pyrender", "pyglet"}
print(dict(os.environ) == before and not loaded)
try:
    choose("raster")
except Exception as error:
    print(type(error).__name__, error)
"""


def test_without_gl_pictures_are_path_traced_and_it_is_said():
    done = subprocess.run([sys.executable, "-c", WITHOUT_GL], capture_output=True, text=True, check=True)
    reason, name, note, clean, refused = done.stdout.splitlines()
    assert reason == "no GL library here"
    assert name == "traced"
    assert reason in note
    assert "slower" in note
    assert clean == "True"
    assert refused == "EngineError engine 'raster' cannot run here: no GL library here"
    assert done.stderr == ""


@pytest.mark.gl
def test_with_gl_the_raster_engine_comes_first():
    name, engine, note = choose()
    assert (name, note) == ("raster", "")
    assert engine.unavailable() is None


@pytest.mark.gl
@pytest.mark.parametrize(("is_software", "name"), [(True, "traced"), (False, "raster")])
def test_stills_are_path_traced_where_gl_runs_in_software(
    is_software: bool, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("mockup.engines.gl.context.is_software", lambda: is_software)
    assert choose(still="normal")[0] == name
    assert choose(still="final")[0] == "traced"  # on a GPU too: more passes add nothing to the other
    assert choose()[0] == "raster"
    assert choose("raster", still="normal")[0] == "raster"


def test_a_named_engine_is_taken():
    name, engine, note = choose("traced")
    assert (name, note) == ("traced", "")
    assert engine.unavailable() is None


def test_an_unknown_engine_names_the_nearest():
    with pytest.raises(EngineError, match="did you mean 'raster'"):
        choose("rastre")


@pytest.mark.parametrize("name", ENGINES.names())
def test_every_engine_has_what_the_interface_asks(name):
    module = ENGINES.load(name)
    assert len(ENGINES.summary(name)) > 20
    assert isinstance(module.PREFERENCE, int)
    assert isinstance(module.still_preference("normal"), int)
    assert callable(module.unavailable)
    assert callable(module.open)


def test_asking_costs_no_heavy_import():
    code = (
        "import sys; from mockup.engines import raster, traced; raster.unavailable(); traced.unavailable();"
        "print([m for m in ('OpenGL', 'pyrender', 'pyglet', 'mitsuba', 'drjit') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_an_engine_that_fails_to_open_gives_way_to_the_next(monkeypatch: pytest.MonkeyPatch) -> None:
    """The library may be there and its context still fail; only an engine asked for by name insists."""
    import mockup
    from mockup.engines import raster

    def fail(_scene: object) -> object:
        raise EngineError("the context cannot be made")

    monkeypatch.setattr(raster, "unavailable", lambda: None)
    monkeypatch.setattr(raster, "open", fail)
    design = mockup.loads('[box]\nsize = "92x38x31"')
    picture = mockup.still(design, view="above", size=(48, 36), quality="draft").picture
    assert picture.facts["Engine"] == "traced"
    assert picture.facts["Light"] == "bench, set to a white card on top"
    with pytest.raises(EngineError, match="the context cannot be made"):
        mockup.still(design, view="above", size=(48, 36), engine="raster")
