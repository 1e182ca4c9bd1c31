"""Puts the examples beside the program when it is built; everything else stands in pyproject.toml."""

import shutil
from pathlib import Path

from setuptools import setup
from setuptools.command.build_py import build_py

ROOT = Path(__file__).parent


class BuildWithExamples(build_py):
    """Copies each example's layout with its art and fonts; the scripts that drew them stay in the repository."""

    def run(self) -> None:
        """Build the package, then add the examples; an editable one finds them where they are."""
        super().run()
        if self.editable_mode:
            return
        for layout in sorted((ROOT / "examples").rglob("layout.toml")):
            target = Path(self.build_lib, "mockup", "examples", layout.parent.name)
            target.mkdir(parents=True, exist_ok=True)
            for path in layout.parent.iterdir():
                if path.is_file() and path.suffix != ".py" and not path.name.startswith("."):
                    shutil.copyfile(path, target / path.name)


setup(cmdclass={"build_py": BuildWithExamples})
