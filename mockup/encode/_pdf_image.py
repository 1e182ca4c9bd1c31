"""Pictures inside a PDF file: every pixel kept, each picture stored once, with its colour profile."""

from __future__ import annotations

import hashlib
import zlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mockup.model.sheet import Image

_ON_SCREEN = (0.82, 0.92, 1.0)  # a pale blue, so that white is told from bare paper: our choice
_LEVEL = 6  # of Deflate: more costs seconds and saves a few per cent


def paste(canvas: Any, mark: Image, icc: bytes | None) -> None:
    """Draw a picture over its rectangle; the canvas counts millimetres from the page's top-left corner, y up.

    It is stored without loss (ISO 32000-1 7.4.4, FlateDecode; 8.9.5, image dictionaries), in the colour
    space of `icc` (8.6.5.5, ICCBased) or else as DeviceRGB. A separation overprints: the colours under it stay (8.6.7),
    and a screen shows it as a pale tint of them (11.3.5.2, Multiply).
    """
    document = canvas._doc
    raw = np.ascontiguousarray(mark.pixels)
    name = "picture-" + hashlib.sha256(repr(raw.shape).encode() + raw.tobytes() + (icc or b"")).hexdigest()[:32]
    registered = document.getXObjectName(name + mark.separation)
    if registered not in document.idToObject:
        space = _separation(mark.separation) if mark.separation else _space(document, icc)
        picture = _picture(255 - raw[..., 0] if mark.separation else raw, space)
        document.Reference(picture, registered)
        document.addForm(name + mark.separation, picture)
    canvas._currentPageHasImages = 1
    canvas.saveState()
    if mark.separation:
        canvas.setFillOverprint(True)
        canvas.setBlendMode("Multiply")
    canvas.translate(mark.x_mm, -mark.y_mm - mark.height_mm)
    canvas.scale(mark.width_mm, mark.height_mm)
    canvas._code.append(f"/{registered} Do")
    canvas.restoreState()
    canvas._formsinuse.append(name + mark.separation)


def _space(document: Any, icc: bytes | None) -> Any:
    """Return the colour space of pictures: that of a profile, or the device's own."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFName

    return PDFArray([PDFName("ICCBased"), _profile(document, icc)]) if icc else PDFName("DeviceRGB")


def _separation(name: str) -> Any:
    """Return a colour space of one named colorant (8.6.6.4), which a screen shows as `_ON_SCREEN` (7.10.3)."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName

    tint = {"FunctionType": 2, "Domain": PDFArray([0, 1]), "N": 1}
    ends = {"C0": PDFArray([1, 1, 1]), "C1": PDFArray(list(_ON_SCREEN))}
    function = PDFDictionary({**tint, **ends})
    return PDFArray([PDFName("Separation"), PDFName(name), PDFName("DeviceRGB"), function])


def _profile(document: Any, icc: bytes) -> Any:
    """Return a reference to the profile's stream, put into the document once."""
    from reportlab.pdfbase.pdfdoc import PDFObjectReference

    name = "profile-" + hashlib.sha256(icc).hexdigest()[:32]
    if name not in document.idToObject:
        document.Reference(_stream(icc, {"N": 3}), name)
    return PDFObjectReference(name)


def _picture(raw: NDArray[np.uint8], space: Any) -> Any:
    """Return an image object."""
    from reportlab.pdfbase.pdfdoc import PDFName

    names = {"Type": PDFName("XObject"), "Subtype": PDFName("Image"), "ColorSpace": space}
    size = {"Width": raw.shape[1], "Height": raw.shape[0], "BitsPerComponent": 8}
    return _stream(raw.tobytes(), names | size)


def _stream(data: bytes, entries: dict[str, Any]) -> Any:
    """Return a compressed stream."""
    from reportlab.pdfbase.pdfdoc import PDFName, PDFStream

    stream = PDFStream(content=zlib.compress(data, _LEVEL))
    for key, value in {**entries, "Filter": PDFName("FlateDecode")}.items():
        stream.dictionary[key] = value
    return stream
