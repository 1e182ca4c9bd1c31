"""A closed mesh to the bytes of a 3MF file (3MF core specification 1.3), which says that it is in millimetres."""

from __future__ import annotations

import io
import zipfile

import numpy as np

from mockup.encode.markup import xml_attribute, xml_text
from mockup.model.mesh import Mesh

_DECIMALS = 6  # of a millimetre: finer than any mesh of ours
_DATE = (1980, 1, 1, 0, 0, 0)  # the earliest that ZIP can say; a fixed one makes equal meshes equal files
_HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
_MODEL = "3D/3dmodel.model"
_TYPES = (
    f'{_HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>'
)
_RELATIONS = (
    f'{_HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
    f'<Relationship Id="model" Target="/{_MODEL}" '
    'Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>'
)


def threemf(mesh: Mesh, title: str = "", about: str = "") -> bytes:
    """Return a 3MF file with one object; corners at one place are one corner, and triangles without area left out.

    `about` is the file's own description, which a slicer shows.
    """
    places, index = np.unique(np.round(mesh.vertices, _DECIMALS) + 0.0, axis=0, return_inverse=True)
    faces = index.reshape(-1)[mesh.faces]
    a, b, c = faces[:, 0], faces[:, 1], faces[:, 2]
    faces = faces[(a != b) & (b != c) & (c != a)]
    corners = "".join(f'<vertex x="{x:.6f}" y="{y:.6f}" z="{z:.6f}"/>' for x, y, z in places.tolist())
    triangles = "".join(f'<triangle v1="{i}" v2="{j}" v3="{k}"/>' for i, j, k in faces.tolist())
    model = (
        f'{_HEAD}<model unit="millimeter" xml:lang="en" '
        'xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02">'
        f'<metadata name="Title">{xml_text(title)}</metadata>'
        f'<metadata name="Description">{xml_text(about)}</metadata><resources><object id="1" type="model" '
        f"name={xml_attribute(title)}><mesh><vertices>{corners}</vertices><triangles>{triangles}</triangles></mesh>"
        '</object></resources><build><item objectid="1"/></build></model>'
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, text in (("[Content_Types].xml", _TYPES), ("_rels/.rels", _RELATIONS), (_MODEL, model)):
            entry = zipfile.ZipInfo(name, _DATE)
            entry.compress_type = zipfile.ZIP_DEFLATED
            packed.writestr(entry, text.encode())
    return out.getvalue()
