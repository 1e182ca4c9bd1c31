"""Which of a pedal's decals are pictures that can be printed on another film, and that all of them are at once."""

from __future__ import annotations

from pathlib import Path

from mockup.decal.shipped_faces import USUAL
from mockup.layout.edit import decals, words
from mockup.layout.edit.undo import LayoutDocument
from mockup.model.design import Design
from mockup.model.enclosure import faces
from mockup.window.art_flow import art_of
from mockup.window.work import layout_file
from mockup.window.work.assets import Assets
from mockup.window.work.project import opened
from mockup.window.work.project_faces import adopt_face


def test_a_face_with_lettering_alone_is_no_picture(pond: Path) -> None:
    """The layout has no decal for it, so that a film for it would be refused."""
    project = opened(pond)

    def design(document: LayoutDocument) -> Design:
        return Assets().design(document.text, project, None, is_quick=True)

    bare = layout_file.reopened(pond)
    far = faces(design(bare).enclosure)["far"]
    written = bare.edited("write", words.written(bare.raw, "HELLO", far, adopt_face(project.folder, USUAL)))
    decal, lettering = design(written).decals
    assert art_of(design(written)) == {0: decal}
    assert lettering.art.file is None
    after = written.edited("film", decals.printed(written.raw, art_of(design(written)), "film", "white"))
    assert [each.film.name for each in design(after).decals] == ["white", "clear"]
