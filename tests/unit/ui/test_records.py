"""Opening the records: what is loaded beside the screen."""

import gc

from fieldapp.ui.records import warm_up


def test_no_touch_waits_for_rings_to_be_looked_for_in_what_was_loaded() -> None:
    gc.unfreeze()
    try:
        warm_up()

        assert len(gc.get_objects()) < gc.get_freeze_count()
    finally:
        gc.unfreeze()
