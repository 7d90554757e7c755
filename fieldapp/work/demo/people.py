"""Who works at the Wrenfall mine. Names say what people do: nobody of that name exists.

The sign codes are no secret: they are shown on the screen of the demo mine, and open nothing
anywhere else.
"""

from dataclasses import dataclass
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.work.people import enrol, sign_in
from fieldapp.work.people import person as enrolled
from fieldapp.work.site import Session, Site
from schemas.bodies.person import Role

MINE_NAME: Final = "Wrenfall"
SITE_CODE: Final = "4155"
DAY_HOURS: Final = range(6, 18)


@dataclass(frozen=True)
class DemoPerson:
    """One person of the demo mine, and the sign code that the screen shows."""

    name: str
    role: Role
    sign_code: str


DAY: Final = DemoPerson("Day supervisor", "shift supervisor", "1111")
NIGHT: Final = DemoPerson("Night supervisor", "shift supervisor", "2222")
ENGINEER: Final = DemoPerson("Geotechnical engineer", "geotechnical engineer", "3333")
TECHNICIAN: Final = DemoPerson("Geotechnical technician", "geotechnical technician", "4444")
KEEPER: Final = DemoPerson("Records keeper", "records keeper", "5555")
BOLTER: Final = DemoPerson("Bolter, crew A", "bolter", "6666")

DEMO_PEOPLE: Final = (DAY, NIGHT, ENGINEER, TECHNICIAN, KEEPER, BOLTER)
"""Everybody who can sign in at the demo mine, in the order in which they are shown."""


def on_shift(at: datetime, zone: str) -> DemoPerson:
    """Give the supervisor of the shift that it is at a time."""
    return DAY if at.astimezone(ZoneInfo(zone)).hour in DAY_HOURS else NIGHT


def enrol_everybody(site: Site) -> None:
    """Enrol them with the demo's site key."""
    for who in DEMO_PEOPLE:
        enrol(site, who.name, (who.role,), sign_code=who.sign_code, site_code=SITE_CODE)


def session_of(site: Site, who: DemoPerson) -> Session:
    """Sign somebody of the demo mine in."""
    return sign_in(site, enrolled(site, who.name), who.sign_code)
