"""The marked-up picture: views of the pedal with findings pointed at, and close looks at tight rings."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.model.design import Design
from mockup.model.enclosure import faces as side_faces
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.options import Progress, silent
from mockup.picture import close_looks as _closeups
from mockup.picture import finding_sheet as _picture
from mockup.picture.studio import OWN_BACKGROUND, Studio, caption, lit, named_view, studio


def marked(
    design: Design, findings: Sequence[Finding], *, engine: str | None = None, progress: Progress = silent
) -> Picture:
    """Return a picture of the pedal with every finding numbered where it is and said beside it.

    It shows the faces that findings lie on, each straight on; below, each ring that hand drilling will
    show up, as designed and with its hole off. `engine` None is the best one here.
    """
    faces, names = side_faces(design.enclosure), _picture.faces_of(findings)
    rings = _closeups.concerned(findings)
    total = len(names) + 2 * len(rings)
    sights: list[_picture.Sight] = []
    lighting = lit("bench", OWN_BACKGROUND)
    with studio(design, engine=engine, lighting=lighting, look="photo") as room:
        for name in names:
            view = named_view(_picture.VIEW_OF[name])
            progress(len(sights), total, view.name)
            size = (900, 1000 if name == "top" else 520)
            camera = room.camera(view, size)
            taken = room.shoot(view, camera, size, look="photo", quality="normal")
            sights.append(_picture.Sight(face=faces[name], pixels=taken.pixels, camera=camera))
        designed = [_close(room, each) for each in rings]
    progress(len(names) + len(rings), total, "close looks")
    looks: list[_closeups.Closeup] = []
    if rings:
        off_mm = _closeups.wander_mm(design)
        with studio(_closeups.wandered(design, rings), engine=engine, lighting=lighting, look="photo") as room:
            for finding, before in zip(rings, designed, strict=True):
                after = _close(room, finding).pixels
                looks.append(_closeups.Closeup(finding=finding, designed=before.pixels, wandered=after, off_mm=off_mm))
    progress(total, total, "done")
    pixels = _picture.marked(design.name, findings, sights, design.units, looks)
    return Picture(pixels=pixels, facts={**caption(design), "Findings": str(len(findings))})


def _close(room: Studio, finding: Finding) -> Picture:
    face = side_faces(room.design.enclosure)[finding.marks[0].face]
    view = named_view(_picture.VIEW_OF[face.name])
    size = (_closeups.SIDE_PX, _closeups.SIDE_PX)
    return room.shoot(view, _closeups.camera(face, finding), size, look="photo", quality="normal")
