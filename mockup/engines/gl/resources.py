"""Things that live on the GPU: programs, pictures, targets to draw into, meshes.

Imported only once a GL context is wanted. Every class has `delete`; nothing frees itself.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Mapping
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from OpenGL import GL
from OpenGL.GL import shaders
from pyrender.constants import GLTF
from pyrender.primitive import Primitive
from pyrender.shader_program import ShaderProgram, ShaderProgramCache

from mockup.engines.gl.shader_source import shader_source
from mockup.model.mesh import Mesh

Pixels = NDArray[np.uint8] | NDArray[np.float32]

_UNIFORM: Final = re.compile(r"^uniform \w+ (\w+)", re.MULTILINE)


class Program(ShaderProgram):  # type: ignore[misc]
    """A program of our own files: real `#define`s and `#include`s; a uniform that no file declares is an error."""

    def __init__(self, vertex: str, fragment: str, defines: Mapping[str, int]) -> None:
        super().__init__(vertex, fragment, defines=dict(defines))
        self._declared: frozenset[str] = frozenset()
        self._places: dict[str, int] = {}
        self._matrices: frozenset[str] = frozenset()
        self._held: dict[str, bytes | float] = {}

    def _add_to_context(self) -> None:
        """Compile and link. Not validated here: before its samplers are set, two kinds share unit 0."""
        self._vao_id = GL.glGenVertexArrays(1)
        texts = [self._load(self.vertex_shader), self._load(self.fragment_shader)]
        self._declared = frozenset(name for text in texts for name in _UNIFORM.findall(text))
        kinds = (GL.GL_VERTEX_SHADER, GL.GL_FRAGMENT_SHADER)
        parts = [shaders.compileShader(text, kind) for text, kind in zip(texts, kinds, strict=True)]
        self._program_id = GL.glCreateProgram()
        for part in parts:
            GL.glAttachShader(self._program_id, part)
        GL.glLinkProgram(self._program_id)
        for part in parts:
            GL.glDeleteShader(part)
        if GL.glGetProgramiv(self._program_id, GL.GL_LINK_STATUS) != GL.GL_TRUE:
            log = GL.glGetProgramInfoLog(self._program_id)
            raise RuntimeError(f"{self.vertex_shader} with {self.fragment_shader}: {log!r}")
        count = GL.glGetProgramiv(self._program_id, GL.GL_ACTIVE_UNIFORMS)
        active = [GL.glGetActiveUniform(self._program_id, index) for index in range(count)]
        self._matrices = frozenset(
            name.decode("ascii").removesuffix("[0]") for name, _, kind in active if kind == GL.GL_FLOAT_MAT4
        )

    def _load(self, shader_filename: str) -> str:
        return shader_source(shader_filename, self.defines)

    def set(self, **values: Any) -> None:
        """Set uniforms, matrices row by row; one that is declared but not used in this variant is passed over.

        `KeyError` for a name that none of the program's files declares. What a uniform holds already is not sent again.
        """
        for name, value in values.items():
            place = self._places.get(name)
            if place is None:
                if name not in self._declared:
                    raise KeyError(f"{self.vertex_shader} with {self.fragment_shader} declares no uniform {name}")
                place = self._places[name] = GL.glGetUniformLocation(self._program_id, name)
            if place < 0:
                continue
            if not isinstance(value, bool | int | float):
                value = np.asarray(value, np.float32, order="C")
            held = value.tobytes() if isinstance(value, np.ndarray) else value
            if self._held.get(name) != held:
                self._held[name] = held
                _set(place, value, name in self._matrices)


def _set(place: int, value: Any, is_matrix: bool) -> None:
    if isinstance(value, bool | int):
        GL.glUniform1i(place, int(value))
    elif isinstance(value, float) or value.ndim == 0:
        GL.glUniform1f(place, float(value))
    elif is_matrix:  # four vectors of four look the same
        GL.glUniformMatrix4fv(place, value.size // 16, GL.GL_TRUE, value)
    else:
        setters = {1: GL.glUniform1fv, 2: GL.glUniform2fv, 3: GL.glUniform3fv, 4: GL.glUniform4fv}
        setters[value.shape[-1]](place, value.size // value.shape[-1], value)


class Programs(ShaderProgramCache):  # type: ignore[misc]
    """The cache of our programs; one is compiled when it is first used."""

    def use(self, vertex: str, fragment: str, **defines: int) -> Program:
        """Return the program for these files and defines, bound."""
        key = (vertex, fragment, tuple(sorted(defines.items())))
        program = self._program_cache.get(key)
        if program is None:
            program = self._program_cache[key] = Program(vertex, fragment, defines)
            program._add_to_context()
        program._bind()
        return program  # type: ignore[no-any-return]


class GpuMesh:
    """A mesh on the GPU, held by pyrender's primitive; `is_mapped` says whether it has face coordinates."""

    def __init__(self, mesh: Mesh) -> None:
        self.is_mapped = mesh.uv is not None
        uv = mesh.uv if mesh.uv is not None else np.zeros((len(mesh.vertices), 2))
        self._primitive = Primitive(
            positions=mesh.vertices.astype(np.float32),
            normals=mesh.normals.astype(np.float32),
            texcoord_0=uv.astype(np.float32),
            indices=mesh.faces.astype(np.uint32),
            mode=GLTF.TRIANGLES,
        )
        self._count = int(mesh.faces.size)
        self._primitive._add_to_context()
        self._primitive._bind()
        for pose_row in range(3, 7):  # pyrender's per-instance pose: we have none, and it holds one instance only
            GL.glDisableVertexAttribArray(pose_row)
        self._primitive._unbind()

    def draw(self, copies: int = 1) -> None:
        """Draw it with the bound program, so many times in one call."""
        self._primitive._bind()
        GL.glDrawElementsInstanced(GL.GL_TRIANGLES, self._count, GL.GL_UNSIGNED_INT, ctypes.c_void_p(0), copies)
        self._primitive._unbind()

    def delete(self) -> None:
        """Free its buffers."""
        self._primitive.delete()


class ImageTexture:
    """A picture as a texture, mip-mapped: (h, w, 3) uint8 in sRGB, or (h, w, 4) float32.

    sRGB is read as linear light, or, where `is_encoded`, as the codes that the picture holds. Beyond its edge it goes
    on as that is, or, where it `repeats`, from the other side.
    """

    def __init__(self, pixels: Pixels, *, is_encoded: bool = False, repeats: bool = False) -> None:
        self.id = int(GL.glGenTextures(1))
        GL.glBindTexture(GL.GL_TEXTURE_2D, self.id)
        self.height, self.width = pixels.shape[:2]
        self._data = GL.GL_RGB, GL.GL_UNSIGNED_BYTE
        kind = GL.GL_RGB8 if is_encoded else GL.GL_SRGB8
        if pixels.dtype == np.float32:
            kind, self._data = GL.GL_RGBA16F, (GL.GL_RGBA, GL.GL_FLOAT)
        GL.glTexImage2D(GL.GL_TEXTURE_2D, 0, kind, self.width, self.height, 0, *self._data, None)
        self.replace(pixels)
        set_filters(GL.GL_LINEAR_MIPMAP_LINEAR)
        if repeats:
            GL.glTexParameteri(GL.GL_TEXTURE_2D, GL.GL_TEXTURE_WRAP_S, GL.GL_REPEAT)
            GL.glTexParameteri(GL.GL_TEXTURE_2D, GL.GL_TEXTURE_WRAP_T, GL.GL_REPEAT)

    def fits(self, pixels: Pixels) -> bool:
        """Return whether it can show these pixels: they are of its size and kind."""
        is_float = self._data[1] == GL.GL_FLOAT
        return pixels.shape[:2] == (self.height, self.width) and (pixels.dtype == np.float32) == is_float

    def replace(self, pixels: Pixels) -> None:
        """Show other pixels of the same size and kind from now on."""
        if not self.fits(pixels):
            raise ValueError(f"{pixels.shape[1]}x{pixels.shape[0]} pixels do not fit {self.width}x{self.height}")
        GL.glBindTexture(GL.GL_TEXTURE_2D, self.id)
        GL.glPixelStorei(GL.GL_UNPACK_ALIGNMENT, 1)
        data = np.ascontiguousarray(pixels)
        GL.glTexSubImage2D(GL.GL_TEXTURE_2D, 0, 0, 0, self.width, self.height, *self._data, data)
        GL.glGenerateMipmap(GL.GL_TEXTURE_2D)

    def delete(self) -> None:
        """Free it."""
        GL.glDeleteTextures([self.id])


class RenderTarget:
    """Float pixels to draw into, (h, w, 4), with or without depth and smaller copies."""

    def __init__(self, width: int, height: int, *, depth: bool, mips: bool = False) -> None:
        self.width, self.height = width, height
        self.texture = int(GL.glGenTextures(1))
        self._depth = int(GL.glGenRenderbuffers(1)) if depth else 0
        self.fb = int(GL.glGenFramebuffers(1))
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glBindTexture(GL.GL_TEXTURE_2D, self.texture)
        GL.glTexImage2D(GL.GL_TEXTURE_2D, 0, GL.GL_RGBA32F, width, height, 0, GL.GL_RGBA, GL.GL_FLOAT, None)
        set_filters(GL.GL_LINEAR_MIPMAP_LINEAR if mips else GL.GL_LINEAR)
        GL.glFramebufferTexture2D(GL.GL_FRAMEBUFFER, GL.GL_COLOR_ATTACHMENT0, GL.GL_TEXTURE_2D, self.texture, 0)
        if depth:
            GL.glBindRenderbuffer(GL.GL_RENDERBUFFER, self._depth)
            GL.glRenderbufferStorage(GL.GL_RENDERBUFFER, GL.GL_DEPTH_COMPONENT32F, width, height)
            GL.glFramebufferRenderbuffer(GL.GL_FRAMEBUFFER, GL.GL_DEPTH_ATTACHMENT, GL.GL_RENDERBUFFER, self._depth)

    def begin(self, *colour: float) -> None:
        """Draw here from now on, from a clear picture of one colour (r, g, b, a)."""
        self.resume()
        GL.glClearColor(*colour)
        GL.glClear(GL.GL_COLOR_BUFFER_BIT | GL.GL_DEPTH_BUFFER_BIT)

    def resume(self) -> None:
        """Draw here from now on, over what is there."""
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glViewport(0, 0, self.width, self.height)
        GL.glDepthMask(GL.GL_TRUE)
        GL.glColorMask(True, True, True, True)

    def strip(self, index: int, count: int) -> None:
        """Keep what is drawn to one of several strips of equal height."""
        low, high = (self.height * (index + k) // count for k in (0, 1))
        GL.glEnable(GL.GL_SCISSOR_TEST)
        GL.glScissor(0, low, self.width, high - low)

    def refresh_mips(self) -> None:
        """Make the smaller copies follow what was drawn."""
        GL.glBindTexture(GL.GL_TEXTURE_2D, self.texture)
        GL.glGenerateMipmap(GL.GL_TEXTURE_2D)

    def read(self) -> NDArray[np.float32]:
        """Return the pixels (h, w, 4), row 0 at the top."""
        GL.glBindFramebuffer(GL.GL_READ_FRAMEBUFFER, self.fb)
        out = np.empty((self.height, self.width, 4), np.float32)
        GL.glPixelStorei(GL.GL_PACK_ALIGNMENT, 4)
        GL.glReadPixels(0, 0, self.width, self.height, GL.GL_RGBA, GL.GL_FLOAT, out)
        return out[::-1]

    def delete(self) -> None:
        """Free it."""
        GL.glDeleteFramebuffers(1, [self.fb])
        if self._depth:
            GL.glDeleteRenderbuffers(1, [self._depth])
        GL.glDeleteTextures([self.texture])


class Targets:
    """Targets by name, each made when it is first asked for, and anew where another size is."""

    def __init__(self) -> None:
        self._made: dict[str, RenderTarget] = {}

    def get(self, name: str) -> RenderTarget | None:
        """Return the target of a name, None where there is none yet."""
        return self._made.get(name)

    def of(self, name: str, width: int, height: int, *, depth: bool = False, mips: bool = False) -> RenderTarget:
        """Return the target of a name and size."""
        target = self._made.get(name)
        if target is None or (target.width, target.height) != (width, height):
            if target is not None:
                target.delete()
            target = self._made[name] = RenderTarget(width, height, depth=depth, mips=mips)
        return target

    def delete(self) -> None:
        """Free them all; the next picture makes them again."""
        for target in self._made.values():
            target.delete()
        self._made = {}


class FullScreen:
    """The full-screen triangle, for programs with `full_screen.vert`."""

    def __init__(self) -> None:
        self._empty = int(GL.glGenVertexArrays(1))

    def draw(self) -> None:
        """Draw it over the whole target with the bound program, without depth."""
        GL.glDisable(GL.GL_DEPTH_TEST)
        GL.glBindVertexArray(self._empty)
        GL.glDrawArrays(GL.GL_TRIANGLES, 0, 3)
        GL.glBindVertexArray(0)
        GL.glEnable(GL.GL_DEPTH_TEST)

    def delete(self) -> None:
        """Free it."""
        GL.glDeleteVertexArrays(1, [self._empty])


class ShadowMapLayers:
    """Depth pictures seen from the lights, one layer per light sample, compared when read."""

    def __init__(self, size: int, layers: int) -> None:
        self.size, self.layers = size, layers
        kind = GL.GL_TEXTURE_2D_ARRAY
        self.texture = int(GL.glGenTextures(1))
        GL.glBindTexture(kind, self.texture)
        GL.glTexImage3D(
            kind, 0, GL.GL_DEPTH_COMPONENT24, size, size, layers, 0, GL.GL_DEPTH_COMPONENT, GL.GL_UNSIGNED_INT, None
        )
        set_filters(GL.GL_LINEAR, kind)
        GL.glTexParameteri(kind, GL.GL_TEXTURE_COMPARE_MODE, GL.GL_COMPARE_REF_TO_TEXTURE)
        GL.glTexParameteri(kind, GL.GL_TEXTURE_COMPARE_FUNC, GL.GL_LEQUAL)
        self.fb = int(GL.glGenFramebuffers(1))

    def begin(self, layer: int) -> None:
        """Draw depth into one layer from now on."""
        GL.glBindFramebuffer(GL.GL_FRAMEBUFFER, self.fb)
        GL.glFramebufferTextureLayer(GL.GL_FRAMEBUFFER, GL.GL_DEPTH_ATTACHMENT, self.texture, 0, layer)
        GL.glDrawBuffer(GL.GL_NONE)
        GL.glReadBuffer(GL.GL_NONE)
        GL.glViewport(0, 0, self.size, self.size)
        GL.glDepthMask(GL.GL_TRUE)
        GL.glClear(GL.GL_DEPTH_BUFFER_BIT)

    def delete(self) -> None:
        """Free it."""
        GL.glDeleteFramebuffers(1, [self.fb])
        GL.glDeleteTextures([self.texture])


def bind(unit: int, texture: int, kind: Any = GL.GL_TEXTURE_2D) -> None:
    """Put a texture on a texture unit."""
    GL.glActiveTexture(GL.GL_TEXTURE0 + unit)
    GL.glBindTexture(kind, texture)
    GL.glActiveTexture(GL.GL_TEXTURE0)


def set_filters(smaller: Any, kind: Any = GL.GL_TEXTURE_2D) -> None:
    """Let the bound texture be read smoothly, by `smaller` where it is seen smaller, and held at its edge."""
    GL.glTexParameteri(kind, GL.GL_TEXTURE_MIN_FILTER, smaller)
    GL.glTexParameteri(kind, GL.GL_TEXTURE_MAG_FILTER, GL.GL_LINEAR)
    GL.glTexParameteri(kind, GL.GL_TEXTURE_WRAP_S, GL.GL_CLAMP_TO_EDGE)
    GL.glTexParameteri(kind, GL.GL_TEXTURE_WRAP_T, GL.GL_CLAMP_TO_EDGE)
