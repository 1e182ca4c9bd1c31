"""Pictures inside a PDF file: every pixel kept, each picture stored once, with its colour profile."""

from __future__ import annotations

import hashlib
import zlib
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mockup.model.sheet import Image

_LEVEL = 6  # of Deflate: more costs seconds and saves a few per cent


def paste(canvas: Any, mark: Image, icc: bytes | None) -> None:
    """Draw a picture over its rectangle; the canvas counts millimetres from the page's top-left corner, y up.

    It is stored without loss (ISO 32000-1 7.4.4, FlateDecode; 8.9.5, image dictionaries), in the colour
    space of `icc` (8.6.5.5, ICCBased) or else as DeviceRGB.
    """
    document = canvas._doc
    raw = np.ascontiguousarray(mark.pixels)
    name = "picture-" + hashlib.sha256(repr(raw.shape).encode() + raw.tobytes() + (icc or b"")).hexdigest()[:32]
    registered = document.getXObjectName(name)
    if registered not in document.idToObject:
        picture = _picture(raw, _profile(document, icc) if icc else None)
        document.Reference(picture, registered)
        document.addForm(name, picture)
    canvas._currentPageHasImages = 1
    canvas.saveState()
    canvas.translate(mark.x_mm, -mark.y_mm - mark.height_mm)
    canvas.scale(mark.width_mm, mark.height_mm)
    canvas._code.append(f"/{registered} Do")
    canvas.restoreState()
    canvas._formsinuse.append(name)


def _profile(document: Any, icc: bytes) -> Any:
    """Return a reference to the profile's stream, put into the document once."""
    from reportlab.pdfbase.pdfdoc import PDFObjectReference

    name = "profile-" + hashlib.sha256(icc).hexdigest()[:32]
    if name not in document.idToObject:
        document.Reference(_stream(icc, {"N": 3}), name)
    return PDFObjectReference(name)


def _picture(raw: NDArray[np.uint8], profile: Any) -> Any:
    """Return an image object."""
    from reportlab.pdfbase.pdfdoc import PDFArray, PDFName

    space = PDFArray([PDFName("ICCBased"), profile]) if profile is not None else PDFName("DeviceRGB")
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
