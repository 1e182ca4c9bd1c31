"""Things that live on the GPU: programs, pictures, targets to draw into, meshes.

Imported only once a GL context is wanted. Every class has `delete`; nothing frees itself.
"""

from __future__ import annotations

import ctypes
import re
from collections.abc import Mapping
from importlib import resources
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from OpenGL import GL as gl
from OpenGL.GL import shaders
from OpenGL.GL.EXT.texture_filter_anisotropic import GL_MAX_TEXTURE_MAX_ANISOTROPY_EXT, GL_TEXTURE_MAX_ANISOTROPY_EXT
from pyrender.constants import GLTF
from pyrender.primitive import Primitive
from pyrender.shader_program import ShaderProgram, ShaderProgramCache

from mockup.model.mesh import Mesh

ANISOTROPY: Final = 16.0  # samples along a slanted texel, the usual hardware limit: common practice
_INCLUDE: Final = re.compile(r'^#include "([a-z_.]+)"$', re.MULTILINE)


def shader_text(name: str) -> str:
    """Return one of our shader files."""
    return resources.files("mockup.engines.raster").joinpath("shaders", name).read_text(encoding="utf-8")


class Program(ShaderProgram):  # type: ignore[misc]
    """A program of our own files: real `#define`s and `#include`s, uniforms that fail loudly."""

    def __init__(self, vertex: str, fragment: str, defines: Mapping[str, int]) -> None:
        super().__init__(vertex, fragment, defines=dict(defines))
        self._places: dict[str, int] = {}

    def _add_to_context(self) -> None:
        """Compile and link. Not validated here: before its samplers are set, two kinds share unit 0."""
        self._vao_id = gl.glGenVertexArrays(1)
        parts = [
            shaders.compileShader(self._load(self.vertex_shader), gl.GL_VERTEX_SHADER),
            shaders.compileShader(self._load(self.fragment_shader), gl.GL_FRAGMENT_SHADER),
        ]
        self._program_id = gl.glCreateProgram()
        for part in parts:
            gl.glAttachShader(self._program_id, part)
        gl.glLinkProgram(self._program_id)
        for part in parts:
            gl.glDeleteShader(part)
        if gl.glGetProgramiv(self._program_id, gl.GL_LINK_STATUS) != gl.GL_TRUE:
            log = gl.glGetProgramInfoLog(self._program_id)
            raise RuntimeError(f"{self.vertex_shader} with {self.fragment_shader}: {log!r}")

    def _load(self, shader_filename: str) -> str:
        text = _INCLUDE.sub(lambda match: shader_text(match[1]), shader_text(shader_filename))
        head = "#version 330 core\n" + "".join(f"#define {k} {v}\n" for k, v in self.defines.items())
        return head + text

    def set(self, **values: Any) -> None:
        """Set uniforms; one that the compiler dropped is passed over. Matrices are given row by row."""
        for name, value in values.items():
            place = self._places.get(name)
            if place is None:
                place = self._places[name] = gl.glGetUniformLocation(self._program_id, name)
            if place >= 0:
                _set(place, value)


def _set(place: int, value: Any) -> None:
    if isinstance(value, bool | int):
        gl.glUniform1i(place, int(value))
        return
    data = np.asarray(value, np.float32, order="C")
    if data.ndim == 0:
        gl.glUniform1f(place, float(data))
    elif data.shape[-2:] == (4, 4):
        gl.glUniformMatrix4fv(place, data.size // 16, gl.GL_TRUE, data)
    else:
        setters = {2: gl.glUniform2fv, 3: gl.glUniform3fv, 4: gl.glUniform4fv}
        setters[data.shape[-1]](place, data.size // data.shape[-1], data)


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


class Solid:
    """A mesh on the GPU, held by pyrender's primitive."""

    def __init__(self, mesh: Mesh) -> None:
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

    def draw(self) -> None:
        """Draw it with the bound program."""
        self._primitive._bind()
        gl.glDrawElements(gl.GL_TRIANGLES, self._count, gl.GL_UNSIGNED_INT, ctypes.c_void_p(0))
        self._primitive._unbind()

    def delete(self) -> None:
        """Free its buffers."""
        self._primitive.delete()


class Picture:
    """A picture (h, w, 3) uint8 in sRGB as a texture: mip-mapped, anisotropic, clamped to its edge."""

    def __init__(self, pixels: NDArray[np.uint8]) -> None:
        self.id = int(gl.glGenTextures(1))
        gl.glBindTexture(gl.GL_TEXTURE_2D, self.id)
        gl.glPixelStorei(gl.GL_UNPACK_ALIGNMENT, 1)
        height, width = pixels.shape[:2]
        data = np.ascontiguousarray(pixels)
        gl.glTexImage2D(
            gl.GL_TEXTURE_2D, 0, gl.GL_SRGB8, width, height, 0, gl.GL_RGB, gl.GL_UNSIGNED_BYTE, data
        )
        gl.glGenerateMipmap(gl.GL_TEXTURE_2D)
        _filters(gl.GL_LINEAR_MIPMAP_LINEAR)
        limit = float(gl.glGetFloatv(GL_MAX_TEXTURE_MAX_ANISOTROPY_EXT))
        gl.glTexParameterf(gl.GL_TEXTURE_2D, GL_TEXTURE_MAX_ANISOTROPY_EXT, min(ANISOTROPY, limit))

    def delete(self) -> None:
        """Free it."""
        gl.glDeleteTextures([self.id])


class Target:
    """Float pixels to draw into, (h, w, 4), with or without depth and smaller copies."""

    def __init__(self, width: int, height: int, *, depth: bool = True, mips: bool = False) -> None:
        self.width, self.height = width, height
        self.texture = int(gl.glGenTextures(1))
        self._depth = int(gl.glGenRenderbuffers(1)) if depth else 0
        self.fb = int(gl.glGenFramebuffers(1))
        gl.glBindFramebuffer(gl.GL_FRAMEBUFFER, self.fb)
        gl.glBindTexture(gl.GL_TEXTURE_2D, self.texture)
        gl.glTexImage2D(gl.GL_TEXTURE_2D, 0, gl.GL_RGBA32F, width, height, 0, gl.GL_RGBA, gl.GL_FLOAT, None)
        _filters(gl.GL_LINEAR_MIPMAP_LINEAR if mips else gl.GL_LINEAR)
        gl.glFramebufferTexture2D(
            gl.GL_FRAMEBUFFER, gl.GL_COLOR_ATTACHMENT0, gl.GL_TEXTURE_2D, self.texture, 0
        )
        if depth:
            gl.glBindRenderbuffer(gl.GL_RENDERBUFFER, self._depth)
            gl.glRenderbufferStorage(gl.GL_RENDERBUFFER, gl.GL_DEPTH_COMPONENT32F, width, height)
            gl.glFramebufferRenderbuffer(
                gl.GL_FRAMEBUFFER, gl.GL_DEPTH_ATTACHMENT, gl.GL_RENDERBUFFER, self._depth
            )

    def begin(self, *colour: float) -> None:
        """Draw here from now on, from a clear picture of one colour (r, g, b, a)."""
        gl.glBindFramebuffer(gl.GL_FRAMEBUFFER, self.fb)
        gl.glViewport(0, 0, self.width, self.height)
        gl.glDepthMask(gl.GL_TRUE)
        gl.glColorMask(True, True, True, True)
        gl.glClearColor(*colour)
        gl.glClear(gl.GL_COLOR_BUFFER_BIT | gl.GL_DEPTH_BUFFER_BIT)

    def refresh_mips(self) -> None:
        """Make the smaller copies follow what was drawn."""
        gl.glBindTexture(gl.GL_TEXTURE_2D, self.texture)
        gl.glGenerateMipmap(gl.GL_TEXTURE_2D)

    def read(self) -> NDArray[np.float32]:
        """Return the pixels (h, w, 4), row 0 at the top."""
        gl.glBindFramebuffer(gl.GL_READ_FRAMEBUFFER, self.fb)
        out = np.empty((self.height, self.width, 4), np.float32)
        gl.glPixelStorei(gl.GL_PACK_ALIGNMENT, 4)
        gl.glReadPixels(0, 0, self.width, self.height, gl.GL_RGBA, gl.GL_FLOAT, out)
        return out[::-1]

    def delete(self) -> None:
        """Free it."""
        gl.glDeleteFramebuffers(1, [self.fb])
        if self._depth:
            gl.glDeleteRenderbuffers(1, [self._depth])
        gl.glDeleteTextures([self.texture])


class DepthLayers:
    """Depth pictures seen from the lights, one layer per light sample, compared when read."""

    def __init__(self, size: int, layers: int) -> None:
        self.size, self.layers = size, layers
        kind = gl.GL_TEXTURE_2D_ARRAY
        self.texture = int(gl.glGenTextures(1))
        gl.glBindTexture(kind, self.texture)
        gl.glTexImage3D(
            kind, 0, gl.GL_DEPTH_COMPONENT24, size, size, layers, 0, gl.GL_DEPTH_COMPONENT, gl.GL_UNSIGNED_INT, None
        )
        _filters(gl.GL_LINEAR, kind)
        gl.glTexParameteri(kind, gl.GL_TEXTURE_COMPARE_MODE, gl.GL_COMPARE_REF_TO_TEXTURE)
        gl.glTexParameteri(kind, gl.GL_TEXTURE_COMPARE_FUNC, gl.GL_LEQUAL)
        self.fb = int(gl.glGenFramebuffers(1))

    def begin(self, layer: int) -> None:
        """Draw depth into one layer from now on."""
        gl.glBindFramebuffer(gl.GL_FRAMEBUFFER, self.fb)
        gl.glFramebufferTextureLayer(gl.GL_FRAMEBUFFER, gl.GL_DEPTH_ATTACHMENT, self.texture, 0, layer)
        gl.glDrawBuffer(gl.GL_NONE)
        gl.glReadBuffer(gl.GL_NONE)
        gl.glViewport(0, 0, self.size, self.size)
        gl.glDepthMask(gl.GL_TRUE)
        gl.glClear(gl.GL_DEPTH_BUFFER_BIT)

    def delete(self) -> None:
        """Free it."""
        gl.glDeleteFramebuffers(1, [self.fb])
        gl.glDeleteTextures([self.texture])


def bind(unit: int, texture: int, kind: Any = gl.GL_TEXTURE_2D) -> None:
    """Put a texture on a texture unit."""
    gl.glActiveTexture(gl.GL_TEXTURE0 + unit)
    gl.glBindTexture(kind, texture)
    gl.glActiveTexture(gl.GL_TEXTURE0)


def _filters(smaller: Any, kind: Any = gl.GL_TEXTURE_2D) -> None:
    gl.glTexParameteri(kind, gl.GL_TEXTURE_MIN_FILTER, smaller)
    gl.glTexParameteri(kind, gl.GL_TEXTURE_MAG_FILTER, gl.GL_LINEAR)
    gl.glTexParameteri(kind, gl.GL_TEXTURE_WRAP_S, gl.GL_CLAMP_TO_EDGE)
    gl.glTexParameteri(kind, gl.GL_TEXTURE_WRAP_T, gl.GL_CLAMP_TO_EDGE)
