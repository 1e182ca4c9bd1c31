"""The marked-up picture: views of the pedal with findings pointed at, and close looks at tight rings."""

from __future__ import annotations

from collections.abc import Sequence

from mockup.checks.report.accepted import opened
from mockup.decal import ink_over_paint
from mockup.decal.ink_over_paint import Pixels
from mockup.encode.pixels import pixels
from mockup.model.design import Design
from mockup.model.enclosure import faces as side_faces
from mockup.model.finding import Finding
from mockup.model.picture import Picture
from mockup.options import Progress, silent
from mockup.picture import close_looks
from mockup.picture.close_looks import SIDE_PX, Closeup
from mockup.picture.finding_sheet import PAPER, FaceView, faces_of, sheet
from mockup.picture.options import PictureRequest
from mockup.picture.studio import Studio, caption, studio
from mockup.scene.views import STRAIGHT_AT, VIEWS


def finding_picture(
    design: Design, findings: Sequence[Finding], *, engine: str | None = None, progress: Progress = silent
) -> Picture:
    """Return a picture of the pedal with every finding numbered where it is and said beside it.

    It shows the faces that findings lie on, each straight on; below, each ring that hand drilling will
    show up, as designed and with its hole off. `engine` None is the best one here.
    """
    findings = opened(findings)
    faces, names = side_faces(design.enclosure), faces_of(findings)
    rings = close_looks.concerned(findings)
    total = len(names) + 2 * len(rings)
    views: list[FaceView] = []
    request = PictureRequest(engine=engine)
    with studio(design, request, is_still=False) as room:
        for name in names:
            view = VIEWS[STRAIGHT_AT[name]]
            progress(len(views), total, view.name)
            size = (900, 1000 if name == "top" else 520)
            camera = room.camera(view, size)
            taken = room.shoot(view, camera, size, request)
            views.append(FaceView(face=faces[name], pixels=ink_over_paint.flatten(taken.pixels), camera=camera))
        designed = [_close(room, each, request) for each in rings]
    progress(len(names) + len(rings), total, "close looks")
    looks: list[Closeup] = []
    if rings:
        off_mm = close_looks.wander_mm(design)
        with studio(close_looks.drilled_off(design, rings), request, is_still=False) as room:
            for finding, before in zip(rings, designed, strict=True):
                looks.append(
                    Closeup(finding=finding, designed=before, wandered=_close(room, finding, request), off_mm=off_mm)
                )
    progress(total, total, "done")
    page = sheet(design.name, findings, views, design.units, looks)
    return Picture(pixels=pixels(page, 1.0, PAPER), facts={**caption(design), "Findings": str(len(findings))})


def _close(room: Studio, finding: Finding, request: PictureRequest) -> Pixels:
    place = finding.marks[0]
    face = side_faces(room.design.enclosure)[place.face]
    view, camera = VIEWS[STRAIGHT_AT[face.name]], close_looks.camera(face, place)
    return ink_over_paint.flatten(room.shoot(view, camera, (SIDE_PX, SIDE_PX), request).pixels)
