"""A new tablet's part: asking to join a site, and taking the office's answer."""

from dataclasses import dataclass, replace

from fieldapp.work.enrol.checked import WrongSiteNumber
from fieldapp.work.mine import MINE_FILE
from fieldapp.work.site import Mine, Site
from schemas.check_number import is_check_number_of
from schemas.trouble import NotAllowed
from sync.durable import write_once
from sync.pairing import PairingAnswer, PairingRequest


@dataclass(eq=False)
class AnotherTabletsAnswer(NotAllowed):
    """The office's answer is for another tablet."""

    meant: str
    here: str
    happened = "The answer is for tablet {meant}, and this one is {here}."
    kept = "Nothing was changed; this tablet belongs to no share by it."
    do_next = "Have this tablet's own request answered."


@dataclass(eq=False)
class AnotherMineHere(NotAllowed):
    """A tablet holds the records of a mine of its own, by another site key."""

    mine: str
    wanted: str
    happened = "The records of {mine} are on this tablet, and the answer is from {wanted}."
    kept = "They are as they were; nothing was mixed."
    do_next = "Join with another home folder (--home), or have {mine} enrolled by its own office."


def request(site: Site) -> PairingRequest:
    """Give what a tablet shows to the office: by which key it goes."""
    return PairingRequest.of_key(site.store.keys.tablet())


def join(site: Site, answer: PairingAnswer, *, check: str) -> Site:
    """Belong to a site from now on, once somebody has compared the check number.

    Raises
    ------
    WrongSiteNumber
        The office shows another number: the answer is not from there.
    AnotherTabletsAnswer, AnotherMineHere
        The answer is not for what is here.
    PairedAlready
        The tablet belongs to another share of the site.
    """
    refuse_unfit(site, answer)
    if not is_check_number_of(answer.root_key, check):
        raise WrongSiteNumber("the site")
    site.store.holdings.pair(answer.store, answer.root_keys)
    if site.mine.name:
        return site
    mine = Mine(name=answer.mine, demo=answer.demo, site_key=answer.root_key, tablet=answer.thing)
    write_once(site.folder / MINE_FILE, mine.model_dump_json(indent=2).encode() + b"\n")
    return replace(site, mine=mine)


def refuse_unfit(site: Site, answer: PairingAnswer) -> None:
    """Refuse an answer that is not for what is here; no number is asked for then.

    Raises
    ------
    AnotherTabletsAnswer, AnotherMineHere
        It is another tablet's, or from another mine than the one started here.
    """
    here = site.store.holdings.own_tablets()
    if answer.tablet not in here:
        raise AnotherTabletsAnswer(answer.tablet, here[-1])
    if site.mine.name and site.mine.site_key != answer.root_key:
        raise AnotherMineHere(site.mine.name, answer.mine)
