"""How often the interval that is stated beside a length holds the truth."""

from fieldapp.assess.photo.camera import Lens
from fieldapp.assess.photo.frame import mesh_frame
from fieldapp.assess.photo.measured import Picture, length_mm
from fieldapp.work.photo.measuring import doubts_of
from tests.photos.scenes import HEIGHT_PX, PITCH_MM, WIDTH_PX, Kind, scenes


def held_truth(kind: Kind, number: int) -> list[bool]:
    """Tell of each of so many scenes whether the stated interval holds the truth."""
    held = []
    for scene in scenes(kind, number, seed=20261128):
        frame = mesh_frame(scene.corners_px, scene.cells, scene.cells, (PITCH_MM, PITCH_MM))
        lens = Lens(WIDTH_PX, HEIGHT_PX, scene.told_focal_px)
        found = length_mm(Picture(frame, lens, doubts_of("mesh", 3)), scene.ends_px)
        held.append(abs(found.value - scene.true_mm) <= found.plus_minus)
    return held
