"""`lastrow frame`: mesh found in a photo, drawn to be looked at, measured by."""

import json
from pathlib import Path

import numpy as np
from PIL import Image

from tests.photos.files import photo
from tests.photos.mesh_found import random_photo
from tests.unit.cli.conftest import Terminal


def test_a_frame_that_was_found_is_drawn_and_can_be_measured_by(
    lastrow: Terminal, tmp_path: Path
) -> None:
    seen = random_photo(104)
    seen.picture.save(tmp_path / "mesh.png")
    drawn = tmp_path / "frame.png"
    told = lastrow(
        "frame", tmp_path / "mesh.png", "--pitch", "100", "--drawn", drawn, "--json"
    ).json
    ends = seen.pixels(np.array([(-1.0, 0.0), (1.0, 0.0)])).round(1)
    told["measure"] = [{"what": "length", "points_px": [[f"{x}", f"{y}"] for x, y in ends]}]
    (tmp_path / "taps.json").write_text(json.dumps(told))
    measured = lastrow("measure", tmp_path / "mesh.png", tmp_path / "taps.json", "--json").json
    (length,) = measured["results"]

    with Image.open(drawn) as frame:
        assert frame.size == seen.picture.size
        assert frame.tobytes() != seen.picture.tobytes()
    assert abs(float(length["value"]) - seen.apart_mm((-1, 0), (1, 0))) <= float(
        length["plus_minus"]
    )


def test_where_no_mesh_is_seen_it_says_so(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("frame", photo(tmp_path / "dark.jpg"), "--pitch", "100")

    assert told.code == 2
    assert told.sentence == "No mesh was found in dark.jpg."


def test_a_pitch_that_no_mesh_has_is_refused(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("frame", photo(tmp_path / "dark.jpg"), "--pitch", "100x0")

    assert told.code == 2
    assert "a pitch is 5 to 1000 mm" in told.err
