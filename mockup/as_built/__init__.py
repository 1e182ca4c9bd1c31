"""Use cases of holes as built: a file to fill in, holes read off pictures, what is measured against the design."""

from mockup.as_built.comparison import AsBuilt as AsBuilt
from mockup.as_built.comparison import DecalOff as DecalOff
from mockup.as_built.comparison import FaceOff as FaceOff
from mockup.as_built.comparison import HoleOff as HoleOff
from mockup.as_built.comparison import as_built as as_built
from mockup.as_built.comparison import compared as compared
from mockup.as_built.enlargements import enlargements as enlargements
from mockup.as_built.kept import EYE_DOUBT_MM as EYE_DOUBT_MM
from mockup.as_built.kept import accept as accept
from mockup.as_built.kept import start as start
from mockup.as_built.pictures import FaceReading as FaceReading
from mockup.as_built.pictures import FaceRequest as FaceRequest
from mockup.as_built.pictures import read_face as read_face
from mockup.as_built.plan_b import PlanB as PlanB
from mockup.as_built.plan_b import plans as plans
from mockup.as_built.sentences import lines as lines
from mockup.model.built import Answer as Answer
