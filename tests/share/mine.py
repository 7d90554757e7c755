"""A mine for the simulator: tablets that come and go, an office, and one share between them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from itertools import count
from random import Random
from typing import Protocol

from schemas.canonical import JsonValue
from schemas.entry import Entry
from schemas.logical_clock import LogicalTime, farthest_followed
from schemas.signatures import SigningKey
from schemas.trouble import Trouble
from sync.exchange import exchange
from sync.folder import Folder
from sync.holdings import Holdings
from sync.meeting import Meeting
from sync.names import STORE, PhotoName
from sync.outcome import Outcome
from sync.photo_shelf import PhotoShelf
from sync.share_identity import ShareIdentity
from sync.trust import Act, EnrolTablet, RevokeTablet, Trust
from tests.made import STARTED_AT
from tests.share.cloud_folder import Cloud, CloudFolder
from tests.share.holdings import ListHoldings, Numbers
from tests.share.simulated_folder import Killed, Odds, SimulatedFolder, SimulatedShare
from tests.share.tablets import Tablet

ROOT = SigningKey(b"r" * 32)
SHARE = "0197a5f0-0000-7000-8000-000000000001"
TRUST = Trust(SHARE, (ROOT.public_key,))
STORE_JSON = (
    ShareIdentity(store=SHARE, mine="Wrenfall", root_keys=(ROOT.public_key,))
    .signed(ROOT)
    .content()
)
OFFICE = 0
YEARS_S = 10 * 365 * 24 * 3600.0
NEWER = 0.1
OF_OPEN_DAMAGE = tuple("01234567")
"""How the hash of a photo begins that tablets want: of each other one."""


class Simulated(Tablet, Protocol):
    """What the simulator needs of a tablet, in memory or on a disk."""

    now_s: Callable[[], float]
    """What the wall clock there shows."""

    def state_something(
        self,
        kind: str = "event",
        body: Mapping[str, JsonValue] | None = None,
        newer: Mapping[str, JsonValue] | None = None,
    ) -> Entry:
        """State an entry here, perhaps with fields that only a newer version knows."""

    def believed(self) -> set[bytes]:
        """Give the lines that count wherever these segments are held."""

    def lines(self) -> set[bytes]:
        """Give every line that is held here, whether it counts or not."""

    def copied(self) -> "Simulated":
        """Give a copy, as an image of the tablet's disk is one."""

    def brought_back(self) -> "Simulated":
        """Give what comes back from a backup that was made now."""


@dataclass
class Machine:
    """A tablet or the office, as long as it lives."""

    name: str
    holdings: Simulated
    folder: SimulatedFolder | CloudFolder
    clock_off_s: float = 0.0
    images: list[Simulated] = field(default_factory=list)
    farthest_s: float = 0.0
    """The latest that its wall clock ever showed."""
    last: LogicalTime | None = None
    """When it stated something last, as far as it remembers."""


@dataclass(frozen=True)
class Rules:
    """How a machine exchanges; a test takes the place of one rule to see what it is for."""

    holdings: Callable[[int, Trust, Numbers], Simulated] = ListHoldings
    folder: Callable[[Folder], Folder] = lambda folder: folder
    deep: bool = True
    shelf: Callable[[Holdings], PhotoShelf | None] = lambda _holdings: None
    """Gives the photos of a machine; they are left out where they are not what is looked at."""


class Mine:
    """All machines and their share.

    Parameters
    ----------
    chance : Random
        Throws the dice.
    tablets : int
        How many tablets there are at the start, besides the office.
    cloud : bool
        Whether the share is carried by a cloud's client, not mounted.
    rules : Rules
        How they exchange.
    odds : Odds
        How often what goes wrong.
    """

    def __init__(
        self,
        chance: Random,
        tablets: int,
        *,
        cloud: bool,
        rules: Rules | None = None,
        odds: Odds | None = None,
    ) -> None:
        self.chance = chance
        self.rules = rules or Rules()
        self.numbers = count(1)
        self.now_s = 0.0
        self.stated: set[bytes] = set()
        self.told: list[str] = []
        self.cuts: dict[str, int] = {}
        """By tablet that was revoked: the last segment of its that the office lets count."""
        self.set_back: list[str] = []
        """The machines that have other records of trust after an exchange, not only more."""
        self.misplaced: list[str] = []
        """What was stated out of its order in time."""
        odds = odds or Odds()
        self.share = Cloud(chance, odds) if cloud else SimulatedShare(chance, odds)
        self.share.change(STORE, STORE_JSON)
        self.machines = [
            self._machine(f"tablet {n}" if n else "office", n) for n in range(tablets + 1)
        ]
        self.office = self.machines[OFFICE]
        self._made = tablets

    def _machine(self, name: str, seed: int) -> Machine:
        holdings = self.rules.holdings(seed + 1, TRUST, self.numbers)
        return self._with_clock(Machine(name, holdings, self.sight(holdings)))

    def _with_clock(self, machine: Machine) -> Machine:
        """Let a machine's holdings ask the wall clock of the machine."""

        def now_s() -> float:
            wall_s = self.now_s + machine.clock_off_s
            machine.farthest_s = max(machine.farthest_s, wall_s)
            return wall_s

        machine.holdings.now_s = now_s
        return machine

    def sight(self, holdings: Simulated) -> SimulatedFolder | CloudFolder:
        """Give a machine its sight of the share."""
        if isinstance(self.share, Cloud):
            return CloudFolder(self.share, holdings.own_tablets)
        return SimulatedFolder(self.share, holdings.own_tablets)

    def state(self, machine: Machine) -> None:
        """Have somebody state something, now and then as a newer version would write it."""
        if self.chance.random() < NEWER:
            made = machine.holdings.state_something("tomorrow", newer={"newer": {"field": 1}})
        else:
            made = machine.holdings.state_something()
        self.note(machine, made)

    def note(self, machine: Machine, made: Entry) -> None:
        """Note what was stated, and whether it comes after what was before, by the clock there."""
        self.stated.add(made.line)
        shown_ms = int((STARTED_AT.timestamp() + machine.farthest_s) * 1000)
        if made.clock > farthest_followed(shown_ms).next():
            self.misplaced.append(f"{machine.name} was dragged along to {made.clock}")
        if machine.last is not None and made.clock <= machine.last:
            self.misplaced.append(f"{machine.name} goes back from {machine.last} to {made.clock}")
        machine.last = made.clock

    def meet(
        self,
        machine: Machine,
        *,
        deep: bool = False,
        through: Callable[[Folder], Folder] = lambda folder: folder,
    ) -> Outcome | None:
        """Have a machine exchange; None where it was killed or had trouble."""
        self.pass_time(self.chance.uniform(1, 150))
        meeting = Meeting(
            through(self.rules.folder(machine.folder)),
            machine.holdings,
            now_s=machine.holdings.now_s,
            program="0.1",
            shelf=self.rules.shelf(machine.holdings),
            photos_wanted=partial(self.photos_wanted, machine),
            keeps_photos=machine is self.office,
        )
        try:
            return exchange(meeting, deep=deep and self.rules.deep)
        except Killed:
            machine.folder.forget()
        except Trouble as trouble:
            self.told.append(str(trouble))
        return None

    def photos_wanted(self, machine: Machine) -> frozenset[PhotoName]:
        """Give the photos that a machine wants: the office all, a tablet those of open damage."""
        shelf = self.rules.shelf(machine.holdings)
        named = frozenset(shelf.named()) if shelf else frozenset()
        if machine is self.office:
            return named
        return frozenset(it for it in named if it.sha256.startswith(OF_OPEN_DAMAGE))

    def pass_time(self, by_s: float) -> None:
        """Let time pass; a cloud's clients use it."""
        self.now_s += by_s
        self.share.now_s = self.now_s
        for machine in self.machines:
            if isinstance(machine.folder, CloudFolder):
                machine.folder.carry()

    def enrol(self, *machines: Machine) -> None:
        """Have the office say that tablets are believed."""
        acts = [
            EnrolTablet(
                tablet=it.holdings.own_tablets()[-1],
                public_key=it.holdings.tablet_key().public_key,
                name=it.name,
            )
            for it in machines
        ]
        self.record(acts)

    def revoke(self, machine: Machine) -> None:
        """Have the office cut a tablet at the last segment of its that is held there."""
        tablet = machine.holdings.own_tablets()[-1]
        row = self.office.holdings.rows().get(tablet, ())
        last = max((it.name for it in row), default=None)
        through = last.seq if last else 0
        self.cuts[tablet] = min(through, self.cuts.get(tablet, through))
        cut = RevokeTablet(
            tablet=tablet,
            valid_through=through,
            valid_through_hash16=last.hash16 if last else None,
            reason="stolen",
        )
        self.record([cut])

    def record(self, acts: Sequence[Act]) -> None:
        """Write the next record of trust, as the office does: into its own holdings first."""
        self.office.holdings.take_trust(*self.office.holdings.trust().next_record(acts, ROOT))

    def rival(self, machine: Machine, back: int) -> None:
        """Have an office that was restored from a copy, so many records back, enrol a tablet."""
        records = self.office.holdings.trust_records()
        old = TRUST
        for name, content in records[: len(records) - back]:
            old, _ = old.with_record(name.file, content)
        tablet, key = machine.holdings.own_tablets()[-1], machine.holdings.tablet_key()
        enrolled = EnrolTablet(tablet=tablet, public_key=key.public_key, name=machine.name)
        name, content = old.next_record([enrolled], ROOT)
        self.share.change(name.path, content)

    def clone(self, machine: Machine) -> None:
        """Put a tablet's image onto another one; both go on."""
        holdings = machine.holdings.copied()
        clone = Machine(f"clone of {machine.name}", holdings, self.sight(holdings))
        clone.farthest_s = machine.farthest_s
        self.machines.append(self._with_clock(clone))

    def restore(self, machine: Machine, image: Simulated, *, backup: bool) -> None:
        """Set a tablet back to an older image of itself, or bring it back from a backup."""
        machine.holdings = image.brought_back() if backup else image.copied()
        machine.folder = self.sight(machine.holdings)
        machine.last = None
        self._with_clock(machine)

    def new_tablet(self, name: str) -> None:
        """Have one more tablet, which knows nothing yet."""
        self._made += 1
        self.machines.append(self._machine(name, self._made))

    def destroy(self, machine: Machine) -> None:
        """Lose a tablet for ever."""
        self.machines.remove(machine)
