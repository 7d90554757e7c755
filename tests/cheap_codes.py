"""Sign codes that are cheap to try: what a guess costs is tried where a code is stretched."""

import pytest

from fieldapp.work.own_keys import DEMO_COST


def make_codes_cheap() -> None:
    """From now on every mine's codes cost what those of the demo do, a sixtieth."""
    pytest.MonkeyPatch().setattr("fieldapp.work.own_keys.COST", DEMO_COST)
