"""The Wrenfall mine, invented: a demo that is made by the same jobs as a real mine.

Everything in it was stated by somebody: rounds by touches, sign-offs with sign codes. Nothing
here writes into a table.
"""

from fieldapp.work.demo.damages import record_damages
from fieldapp.work.demo.making import make_demo
from fieldapp.work.demo.people import DEMO_PEOPLE, MINE_NAME, SITE_CODE, DemoPerson
from fieldapp.work.demo.story import READY

__all__ = [
    "DEMO_PEOPLE",
    "MINE_NAME",
    "READY",
    "SITE_CODE",
    "DemoPerson",
    "make_demo",
    "record_damages",
]
