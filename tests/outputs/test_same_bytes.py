"""One design gives one file: on another day, in another time zone, another process, with other hash seeds.

Every output of the plug-in folder is made in every kind of file that it offers, the day left out where one may be
printed. The path tracer is not asked: what it draws is noise about a mean.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

# Clocks are moved before anything is loaded; what C reads of the time by itself is not, and the zone tells on it.
_MADE = """
import sys
days = int(sys.argv[1])
import datetime, time
away = 86400.0 * days + 3723.0 * (days > 0)
class Day(datetime.date):
    @classmethod
    def today(cls):
        return cls.fromtimestamp(time.time())
class Moment(datetime.datetime):
    @classmethod
    def now(cls, tz=None):
        return super().now(tz) + datetime.timedelta(seconds=away)
    @classmethod
    def utcnow(cls):
        return super().utcnow() + datetime.timedelta(seconds=away)
    @classmethod
    def today(cls):
        return cls.now()
real = {name: getattr(time, name) for name in ("time", "time_ns", "localtime", "gmtime", "ctime", "strftime")}
time.time = lambda: real["time"]() + away
time.time_ns = lambda: real["time_ns"]() + int(away * 1e9)
for name in ("localtime", "gmtime", "ctime"):
    setattr(time, name, lambda at=None, name=name: real[name](time.time() if at is None else at))
time.strftime = lambda form, at=None: real["strftime"](form, time.localtime() if at is None else at)
datetime.datetime, datetime.date = Moment, Day

import hashlib, json
import mockup
from mockup.options import option_fields
from mockup.outputs import OUTPUTS
SMALL = {"size": (48, 36), "turn_size": (48, 36), "frames": 3, "quality": "draft", "texture": 64, "dpi": 100}
SMALL |= {"match": ("#224466",)}
design = mockup.load(sys.argv[2])
log, drawn = OUTPUTS.load("log"), {}
pictures = log._pictures
def drawn_once(design, options, progress):  # one set of pictures does for both kinds of its page
    if options.for_others not in drawn:
        drawn[options.for_others] = pictures(design, options, progress)
    return drawn[options.for_others]
log._pictures = drawn_once
for name in OUTPUTS.names():
    fields = {each.name: each for each in option_fields(OUTPUTS.load(name).Options)}
    options = {key: value for key, value in SMALL.items() if key in fields}
    options |= {key: "" for key, each in fields.items() if each.reads == "day"}
    for suffix in fields["output"].suffixes:
        made = getattr(mockup, name.replace("-", "_"))(design, output=f"made{suffix}", **options)
        for file, data in made.files.items():
            print(json.dumps([name, file, hashlib.sha256(data).hexdigest()]))
"""


def made(days: int, zone: str, seed: str, layout: Path) -> dict[tuple[str, str], str]:
    environment = os.environ | {"TZ": zone, "PYTHONHASHSEED": seed}
    command = [sys.executable, "-c", _MADE, str(days), str(layout)]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return {(name, file): told for name, file, told in map(json.loads, done.stdout.splitlines())}


@pytest.mark.gl
@pytest.mark.slow
def test_every_output_is_the_same_on_another_day_elsewhere(examples: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(examples / "lantern_moth", tmp_path / "lantern_moth")
    with Image.open(folder / "art.png") as art:  # small art goes the same ways in a fraction of the time
        art.resize((art.width // 4, art.height // 4)).save(folder / "art.png", dpi=(150, 150))
    layout = folder / "layout.toml"
    today = made(0, "UTC", "1", layout)
    later = made(399, "Pacific/Kiritimati", "2", layout)
    assert {name for name, _ in today} >= {
        "template",
        "jig",
        "sheet",
        "log",
        "model",
        "still",
        "turntable",
        "guide",
        "share",
    }
    assert any(file.endswith(".dxf") for _, file in today)
    assert [each for each in today if later[each] != today[each]] == []
    assert later.keys() == today.keys()
