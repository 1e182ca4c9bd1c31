"""A cure of all that stands in the way, found as the window asks for it."""

from __future__ import annotations

from pathlib import Path

from mockup.layout.edit.apply import apply
from mockup.layout.edit.homes import sent_home
from mockup.layout.toml import read_toml
from mockup.window.work.bare_design import bare_design
from mockup.window.work.check_runner import CheckRequest, findings
from mockup.window.work.mender import cured
from mockup.window.work.project import opened

LAYOUT = """
# two lamps, one on the other in the variant alone
name = "Chalk River"
[box]
size = "112x60x31"
[[part]]
name = "ONE"
kind = "lamp-3"
left = 20
top = 40
[[part]]
name = "TWO"
kind = "lamp-3"
left = 40
top = 40
[[variants.moss.part]]
name = "TWO"
left = 22
"""


def test_a_variant_is_cured_in_its_own_table_and_the_cure_holds(tmp_path: Path) -> None:
    (tmp_path / "layout.toml").write_text(LAYOUT)
    project = opened(tmp_path)
    question = CheckRequest(project=project, variant="moss")
    assert any(each.severity == "stop" for each in findings(question))
    found = cured(question)
    assert found.conceding is None
    text = apply(LAYOUT, sent_home(read_toml(LAYOUT, "layout.toml"), found.plain.edits, "moss"), "layout.toml")
    assert "# two lamps" in text
    after = findings(CheckRequest(project=project, text=text, variant="moss"))
    assert not any(each.severity == "stop" for each in after)
    assert bare_design(text, project, None).parts[1].u_mm == 40.0  # what the variant moves stays in the layout
