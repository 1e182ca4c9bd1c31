"""Room for a new part: found at once, and on a full box on the next larger one."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from mockup import hardware
from mockup.layout.edit.apply import apply
from mockup.model.design import Placement
from mockup.window.work.bare_design import bare_design
from mockup.window.work.project import Project, opened
from mockup.window.work.room_search import AT_ONCE_S, RoomQuestion, at_once, box_edits, found

# the smallest box, its top full of footswitches
FULL = 'name = "Full"\n[box]\nsize = "92x38x31"\n' + "".join(
    f'[[part]]\nname = "S{number}"\nkind = "footswitch"\ntop = {top}\n' for number, top in enumerate((18, 46, 74))
)


@pytest.fixture
def project(tmp_path: Path) -> Project:
    (tmp_path / "layout.toml").write_text(FULL)
    return opened(tmp_path)


def part(kind: str) -> Placement:
    return Placement(name="NEW", kind=hardware.kinds()[kind], face="top", u_mm=0.0, v_mm=0.0)


def test_a_click_never_waits_for_a_place_that_is_not_there(project: Project) -> None:
    design = bare_design(FULL, project, None)
    began = time.thread_time()
    assert at_once(design, part("board")) is None
    assert time.thread_time() - began < AT_ONCE_S + 1.0  # one step of the search may still be ended


def test_a_full_box_names_the_next_that_has_room(project: Project) -> None:
    answer = found(RoomQuestion(project=project, text=FULL, variant=None, part=part("footswitch")))
    assert answer.size not in ("", "92x38x31")
    assert answer.placed is not None
    text = apply(FULL, box_edits(FULL, project, None, answer.size), "layout.toml")
    assert bare_design(text, project, None).enclosure.length_mm > 92.0
