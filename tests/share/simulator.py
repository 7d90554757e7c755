"""The simulator: a mine's share and its machines through a hundred steps of bad luck, by a seed.

Afterwards the share keeps its word, everybody exchanges until nothing changes any more, and
what must hold then is looked at (`tests/share/invariants.py`).
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from random import Random

from sync.pulling import ARRIVING_TRIES, MISSED_S
from tests.share.cloud_folder import Cloud
from tests.share.invariants import Expected, broken, works
from tests.share.mine import YEARS_S, Machine, Mine, Rules
from tests.share.simulated_folder import Odds

LENGTH = 120
MOST_TABLETS = 5
MOST_ROUNDS = 14
MOST_IMAGES = 4
FLIPS = 0.5
"""So often a file that rots has other bytes then; else it is gone."""
LEFT = 2
"""So many tablets are needed for one of them to be lost, cloned or cut."""


@dataclass(frozen=True)
class Setting:
    """What may happen besides the share's own faults."""

    cloud: bool | None = None
    """None leaves it to the seed."""
    clone: bool | None = None
    rules: Rules = field(default_factory=Rules)
    odds: Odds = field(default_factory=Odds)


class Simulation:
    """One seed's run.

    Parameters
    ----------
    seed : int
        Everything follows from it.
    setting : Setting
        What may happen.
    """

    def __init__(self, seed: int, setting: Setting | None = None) -> None:
        setting = setting or Setting()
        self.chance = Random(seed)  # noqa: S311  the dice of a test
        cloud, clone = self.chance.random() < 0.4, self.chance.random() < 0.6
        self.clones = 1 if (clone if setting.clone is None else setting.clone) else 0
        tablets = self.chance.randrange(2, MOST_TABLETS + 1 - self.clones)
        self.mine = Mine(
            self.chance,
            tablets,
            cloud=cloud if setting.cloud is None else setting.cloud,
            rules=setting.rules,
            odds=setting.odds,
        )
        self.expected = Expected(self.mine)
        self.said: list[str] = []
        """What happened, a line a step."""
        enrolled = self.mine.machines[: self.chance.randrange(1, tablets + 2)]
        self.mine.enrol(self.mine.office, *enrolled[1:])
        self.backup = self.mine.share.there()
        self.once = {
            "rival": 1,
            "destroy": 1,
            "restore": 1,
            "restore share": 1,
            "revoke": 1,
            "rot": 3,
        }

    def run(self) -> list[str]:
        """Run it; give what did not hold."""
        for _ in range(LENGTH):
            self.step()
            if self.mine.share.harm:
                break
        return self.come_to_rest()

    def step(self) -> None:
        """Let one thing happen, by chance."""
        self.take(self.chance.choices(tuple(STEPS), tuple(it for it, _ in STEPS.values()))[0])

    def take(self, step: str) -> None:
        """Let something happen."""
        self.said.append(step)
        STEPS[step][1](self)

    def come_to_rest(self) -> list[str]:
        """Have everybody exchange until nothing changes; give what does not hold then."""
        mine = self.mine
        if mine.share.harm:
            return broken(mine, self.expected)
        self.expected.remember()
        mine.share.be_fair()
        for machine in mine.machines:
            machine.folder.forget()
        for _ in range(MOST_ROUNDS):
            before = self._state()
            for machine in (*mine.machines, mine.office):
                mine.pass_time(MISSED_S / 4)
                problem = works(mine, machine, deep=True)
                if problem:
                    return [problem]
            if self._state() == before:
                return broken(mine, self.expected)
        return ["I6: the exchange does not come to rest", *broken(mine, self.expected)]

    def _state(self) -> tuple[object, ...]:
        held = [len(machine.holdings.lines()) for machine in self.mine.machines]
        missed = [machine.holdings.bad_files().values() for machine in self.mine.machines]
        patience = [sum(min(it.tries, ARRIVING_TRIES + 1) for it in some) for some in missed]
        return (self.mine.share.writes, *held, *patience)

    def a_machine(self) -> Machine:
        """Choose a machine."""
        chosen = self.chance.choice(self.mine.machines)
        self.said[-1] += f", {chosen.name}"
        return chosen

    def a_tablet(self) -> Machine | None:
        """Choose a tablet, while there are two."""
        tablets = [it for it in self.mine.machines if it is not self.mine.office]
        if len(tablets) < LEFT:
            return None
        chosen = self.chance.choice(tablets)
        self.said[-1] += f", {chosen.name}"
        return chosen

    def may(self, what: str) -> bool:
        """Take one of the few times that something may happen."""
        if not self.once.get(what):
            return False
        self.once[what] -= 1
        return True


def _state(run: Simulation) -> None:
    run.mine.state(run.a_machine())


def _meet(run: Simulation) -> None:
    machine = run.a_machine()
    if len(machine.images) < MOST_IMAGES and run.chance.random() < 0.1:
        machine.images.append(machine.holdings.copied())
    works(run.mine, machine, deep=False)
    run.expected.keep_what_is_safe()
    run.said[-1] += f": {len(machine.folder.asked)} calls"


def _look_deep(run: Simulation) -> None:
    works(run.mine, run.a_machine(), deep=True)


def _clone(run: Simulation) -> None:
    tablet = run.a_tablet()
    if tablet and run.clones:
        run.clones -= 1
        run.mine.clone(tablet)


def _destroy(run: Simulation) -> None:
    tablet = run.a_tablet()
    if tablet and run.may("destroy"):
        run.mine.destroy(tablet)


def _restore(run: Simulation) -> None:
    tablet = run.a_tablet()
    if tablet and tablet.images and run.may("restore"):
        image, backup = run.chance.choice(tablet.images), run.chance.random() < 0.5
        run.said[-1] += " from a backup" if backup else " to an image of its disk"
        run.mine.restore(tablet, image, backup=backup)


def _back_up_or_restore_share(run: Simulation) -> None:
    if run.chance.random() < 0.6:
        run.backup = run.mine.share.there()
    elif run.may("restore share"):
        run.mine.share.put_back(run.backup)
        run.expected.lose(run.mine.share.there())


def _enrol(run: Simulation) -> None:
    trust = run.mine.office.holdings.trust()
    machine = run.a_machine()
    if machine.holdings.own_tablets()[-1] not in {*trust.tablets, *trust.cuts}:
        run.mine.enrol(machine)


def _revoke(run: Simulation) -> None:
    tablet = run.a_tablet()
    if tablet and run.may("revoke"):
        run.mine.revoke(tablet)


def _rival(run: Simulation) -> None:
    """Have a second office go on from an older record, which the first one followed."""
    records = len(run.mine.office.holdings.trust_records())
    if records > 1 and run.may("rival"):
        run.mine.rival(run.a_machine(), back=run.chance.randrange(1, records))


def _set_clock(run: Simulation) -> None:
    run.a_machine().clock_off_s = run.chance.choice((0.0, 0.0, YEARS_S, -YEARS_S))


def _rot(run: Simulation) -> None:
    """Flip a bit of a file that nobody wrote to, or have it vanish."""
    share = run.mine.share
    paths = sorted(path for path, it in share.there().items() if it and "/" in path)
    if paths and not isinstance(share, Cloud) and run.may("rot"):
        path = run.chance.choice(paths)
        content = bytearray(share.files[path])
        content[run.chance.randrange(len(content))] ^= 1 << run.chance.randrange(8)
        share.change(path, bytes(content) if run.chance.random() < FLIPS else None)
        run.expected.lose(share.there())


STEPS: dict[str, tuple[int, Callable[[Simulation], None]]] = {
    "state": (36, _state),
    "meet": (44, _meet),
    "look deep": (3, _look_deep),
    "clone": (3, _clone),
    "destroy": (1, _destroy),
    "restore": (1, _restore),
    "share": (2, _back_up_or_restore_share),
    "enrol": (3, _enrol),
    "revoke": (1, _revoke),
    "rival": (1, _rival),
    "clock": (2, _set_clock),
    "rot": (1, _rot),
}


def bad(seed: int, setting: Setting | None = None) -> list[str]:
    """Run one seed; give what did not hold."""
    try:
        return Simulation(seed, setting).run()
    except Exception as error:
        error.add_note(f"replay it: python3 -m tests simulate --seed {seed}")
        raise
