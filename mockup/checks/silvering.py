"""Film on rough paint without a gloss coat under it: air stays under the film and shines silvery."""

from __future__ import annotations

from collections.abc import Iterator

from mockup.checks import Case
from mockup.checks.panel.built import Built
from mockup.decal.silvering import roughness_under
from mockup.model.edit import Address, PutValue
from mockup.model.finding import Finding, Mark, Subject
from mockup.model.part import PRACTICE

READS = ("decals", "finish", "variant")
_MATTE = '[finish]\npaint = "#cfd8c8"\nsheen = "matte"\n'
_ART = '<rect x="10" y="20" width="30" height="20"/>'
PLANTED = Case(_MATTE, _ART)
SOUND = Case(_MATTE + "gloss_under_film = true\n", _ART)
DULL = 0.6  # roughness from which film does not lie down: matte, not satin; common practice, no source


def check(built: Built) -> Iterator[Finding]:
    """Yield one note for all films where paint is dull or uneven and nothing smooths it."""
    finish, decals = built.design.finish, built.design.decals
    if not decals or not finish.sheen.is_painted or roughness_under(finish) < DULL:
        return
    names = tuple(dict.fromkeys(each.art.name for each in decals))
    address = Address(way=("finish", "gloss_under_film"), variant=built.design.variant)
    yield Finding(
        severity="note",
        title="Film may silver",
        what="{subjects} " + ("lies" if len(names) == 1 else "lie") + " on {sheen} paint: air stays under film on a "
        "rough ground and shines silvery where nothing is printed; a picture with --stage silvered shows how",
        subjects=tuple(Subject(kind="decal", name=name) for name in names),
        remedy="Spray a gloss coat and let it dry before you lay the film; gloss_under_film = true in [finish] says so",
        edits=(PutValue(address=address, value=True),),
        origin=PRACTICE,
        facts={"sheen": finish.sheen.name},
        marks=tuple(Mark.round(each) for each in decals),
    )
