"""The process's one GL context: off screen through pyrender's platforms, or a window's own."""

from __future__ import annotations

import contextlib
import ctypes
import ctypes.util
import os
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from mockup.model.errors import EngineError

_SOFTWARE = ("llvmpipe", "softpipe", "swrast", "software")  # as Mesa and others call theirs
_VARIABLE = "PYOPENGL_PLATFORM"  # read by PyOpenGL at its first import and by pyrender
_current: dict[str, Any] = {}


def reason_against() -> str | None:
    """Return why no GL context can be made here, or None; cheap, never raises, leaves nothing behind."""
    if _current:
        return None
    try:
        return _missing(_platform())
    except Exception as error:
        return f"GL could not be asked for: {error}"


def make_current() -> None:
    """Make the process's context current, creating it the first time; `EngineError` if that fails."""
    if not _current:
        _current["platform"] = _create()
    _current["platform"].make_current()


def is_software() -> bool:
    """Return whether GL is drawn by the processor here, or not at all."""
    try:
        make_current()
        from OpenGL import GL

        drawn_by = GL.glGetString(GL.GL_RENDERER).decode("ascii", "replace").casefold()
    except Exception:
        return True
    return any(name in drawn_by for name in _SOFTWARE)


@dataclass(frozen=True)
class _Adopted:
    make_current: Callable[[], None]


def adopt(make_window_current: Callable[[], None]) -> None:
    """Draw in a window's context from now on; the function makes it current.

    `leave_to_window` comes first, before the window is made. `EngineError` where this process draws
    in another context already.
    """
    if _current and not isinstance(_current["platform"], _Adopted):
        raise EngineError("this process makes pictures off screen already; start the window in a process of its own")
    _current["platform"] = _Adopted(make_window_current)
    _know_references()


def leave_to_window() -> None:
    """See to it that GL is loaded as windows need it: the off-screen platforms and a window do not go together."""
    os.environ.pop(_VARIABLE, None)
    loaded = sys.modules.get("OpenGL.platform")
    if loaded is not None and type(getattr(loaded, "PLATFORM", None)).__name__ in ("EGLPlatform", "OSMesaPlatform"):
        raise EngineError("this process makes pictures off screen already; start the window in a process of its own")


def _platform() -> str | None:
    """Return the GL platform to use: the user's own choice, EGL on Linux, else the window system's."""
    chosen = os.environ.get(_VARIABLE)
    if chosen:
        return chosen
    if not sys.platform.startswith("linux"):
        return None
    loaded = sys.modules.get("OpenGL.platform")
    if loaded is not None and "EGL" not in type(getattr(loaded, "PLATFORM", None)).__name__:
        return None  # someone in this process already speaks GL another way
    return "egl"


def _missing(platform: str | None) -> str | None:
    if platform is None and not sys.platform.startswith("linux"):
        library = "opengl32" if sys.platform == "win32" else "OpenGL"
        return None if ctypes.util.find_library(library) else "no GL library here"
    if platform is None:
        return None if os.environ.get("DISPLAY") else "no display for GL here"
    library = {"egl": "EGL", "osmesa": "OSMesa"}.get(platform)
    if library is None:
        return f"{_VARIABLE} names {platform!r}; off-screen pictures need egl or osmesa"
    found = ctypes.util.find_library(library)
    if found is None or ctypes.util.find_library("GL") is None:
        return "no GL library here"
    return _egl_fault(found) if platform == "egl" else None


def _egl_fault(library: str) -> str | None:
    """Ask EGL itself whether any device here gives desktop GL; None if one does."""
    try:
        egl = ctypes.CDLL(library)
        egl.eglGetProcAddress.restype = ctypes.c_void_p
        query = egl.eglGetProcAddress(b"eglQueryDevicesEXT")
    except (OSError, AttributeError):
        return "the GL library here cannot be loaded"
    if not query:
        return None  # an old EGL without device lists; the context itself will tell
    count = ctypes.c_int(0)
    ask = ctypes.CFUNCTYPE(ctypes.c_uint, ctypes.c_int, ctypes.c_void_p, ctypes.POINTER(ctypes.c_int))(query)
    if not ask(0, None, ctypes.byref(count)) or count.value < 1:
        return "no GL device here"
    return None


def _create() -> Any:
    chosen = _platform()
    try:
        with _environment(chosen):
            _know_references()
            if chosen in ("egl", "osmesa"):
                _need_no_window()
            if chosen == "egl":
                from pyrender.platforms import egl

                device = egl.get_device_by_index(int(os.environ.get("EGL_DEVICE_ID", "0")))
                platform: Any = egl.EGLPlatform(1, 1, device=device)
            elif chosen == "osmesa":
                from pyrender.platforms.osmesa import OSMesaPlatform

                platform = OSMesaPlatform(1, 1)
            else:
                from pyrender.platforms.pyglet_platform import PygletPlatform

                platform = PygletPlatform(1, 1)
            platform.init_context()
            platform.make_current()
            return platform
    except Exception as error:
        raise EngineError(f"no off-screen GL picture can be made here: {error or type(error).__name__}") from error


def _need_no_window() -> None:
    """Keep the window library from loading a window system's libraries, which a server may lack.

    pyrender loads its viewer, and with it the window library, whatever it is used for.
    """
    if "pyglet.window" not in sys.modules:
        import pyglet

        pyglet.options.headless = True


def _know_references() -> None:
    """Tell PyOpenGL 3.1.0 where Python 3.12 and later keep the type of ``ctypes.byref``.

    It looks the type up by module and name, and the module changed from builtins to _ctypes; without
    this every call that fills an array fails there.
    """
    from OpenGL.plugins import FormatHandler

    home = type(ctypes.byref(ctypes.c_int(0)))
    handler = "OpenGL.arrays.ctypesparameters.CtypesParameterHandler"
    FormatHandler("ctypesparameter", handler, [f"{home.__module__}.{home.__name__}"])


@contextlib.contextmanager
def _environment(platform: str | None) -> Iterator[None]:
    """Name the platform while GL is loaded, and take the name away again if the user set none."""
    before = os.environ.get(_VARIABLE)
    if platform is not None:
        os.environ[_VARIABLE] = platform
    try:
        yield
    finally:
        if before is None:
            os.environ.pop(_VARIABLE, None)
