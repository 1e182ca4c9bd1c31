"""A close shot of one part: it is looked at from where it can be seen."""

from types import SimpleNamespace
from typing import Any, cast

import numpy as np
import pytest

from mockup import api
from mockup.model.enclosure import FaceName, faces
from mockup.picture.detail import detail
from mockup.picture.options import PictureRequest
from mockup.scene.assemble import assemble


@pytest.mark.parametrize("face", ["top", "near", "far", "left", "right"])
def test_a_part_is_looked_at_from_outside_of_its_face(face: FaceName) -> None:
    design = api.loads(f'[box]\nsize = "112x60x31"\n[[part]]\nname = "IN"\nkind = "jack-open"\nface = "{face}"')
    request = PictureRequest(size=(64, 48))
    room = SimpleNamespace(design=design, scene=assemble(design, request.lighting))
    camera = detail(cast(Any, room), "in", request).camera
    back = np.subtract(camera.eye, camera.target)
    # the face is seen as long as the way to the eye is within 90 degrees of its normal; 60 leaves it half its width
    assert faces(design.enclosure)[face].out @ back / np.linalg.norm(back) > 0.5
