"""Up to five tablets and an office, by steps that are chosen one by one; each names who does it.

What a person does is stated beside it in a model: which revision follows which. When all has come
to rest, every machine has to show the heads of that model, besides what must hold of any share
(`tests/share/invariants.py`).
"""

from collections import defaultdict
from collections.abc import Iterable

from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from schemas.entry import Entry, read_entry
from sync.folder import Folder, Listed, ShareGone
from tests.share.cloud_folder import Cloud
from tests.share.holdings import ListHoldings
from tests.share.invariants import made_up, works
from tests.share.mine import YEARS_S, Machine
from tests.share.simulator import Setting, Simulation

MOST_TABLETS = 5
KEPT_IMAGES = 3
FAR = 10_000
who = st.integers(0, MOST_TABLETS)
which = st.integers(0, FAR)


class Leaves(Folder):
    """A share that can't be reached any more after so many calls."""

    def __init__(self, behind: Folder, calls: int) -> None:
        self.place = behind.place
        self._behind, self._left = behind, calls

    def _call(self) -> None:
        self._left -= 1
        if self._left < 0:
            raise ShareGone(self.place, "the network is gone")

    def listing(self, path: str) -> Iterable[Listed]:
        self._call()
        return self._behind.listing(path)

    def read(self, path: str, *, at_most: int) -> bytes:
        self._call()
        return self._behind.read(path, at_most=at_most)

    def put(self, path: str, content: bytes) -> None:
        self._call()
        self._behind.put(path, content)

    def remove(self, path: str) -> None:
        self._call()
        self._behind.remove(path)


class ShareMachine(RuleBasedStateMachine):
    """People at their tablets, and what befalls tablets and share."""

    setting = Setting()
    """What rules the machines exchange by; a test drops one."""

    def __init__(self) -> None:
        super().__init__()
        self.run: Simulation
        self.follows: dict[str, tuple[str, ...]] = {}
        """What each revision that somebody stated names as its parents: the model."""

    @initialize(seed=st.integers(0, FAR), cloud=st.booleans())
    def begin(self, seed: int, cloud: bool) -> None:  # noqa: FBT001 - chosen by hypothesis
        given = self.setting
        cloud = cloud if given.cloud is None else given.cloud
        self.run = Simulation(
            seed, Setting(cloud, clone=False, rules=given.rules, odds=given.odds)
        )

    # --- people ---------------------------------------------------------------------------

    @rule(who=who)
    def record(self, who: int) -> None:
        self._said(who, self._at(who).state_something("round"))

    @rule(who=who, which=which)
    def revise(self, who: int, which: int) -> None:
        holdings = self._at(who)
        rounds = [it for it in standing(holdings) if it.kind == "round"]
        if rounds:
            self._said(who, holdings.revise(rounds[which % len(rounds)]))

    @rule(who=who, which=which)
    def sign(self, who: int, which: int) -> None:
        holdings = self._at(who)
        rounds = [it for it in standing(holdings) if it.kind == "round"]
        if rounds:
            signed = rounds[which % len(rounds)].revision
            self._said(who, holdings.state_something("sign_off", {"round_revision": signed}))

    @rule(who=who)
    def settle_a_dispute(self, who: int) -> None:
        holdings = self._at(who)
        sides = next((it for it in by_thing(standing(holdings)).values() if len(it) > 1), None)
        if sides:
            self._said(who, holdings.revise(*sides))

    # --- the share ------------------------------------------------------------------------

    @rule(whose=st.lists(who, min_size=1, max_size=4))
    def share(self, whose: list[int]) -> None:
        """Some come to the surface, one after the other."""
        for one in whose:
            self._works(self._machine(one), deep=False)

    @rule(whose=st.lists(who, min_size=2, max_size=3))
    def record_and_share(self, whose: list[int]) -> None:
        for one in whose:
            self.record(one)
        self.share(whose)

    @rule(who=who)
    def look_through_the_share(self, who: int) -> None:
        self._works(self._machine(who), deep=True)

    @rule(who=who, after=st.integers(0, 30))
    def lose_the_network_while_sharing(self, who: int, after: int) -> None:
        machine = self._machine(who)
        self.run.mine.meet(machine, through=lambda folder: Leaves(folder, after))
        self.run.expected.keep_what_is_safe()

    @rule(seconds=st.sampled_from([60.0, 3600.0, 86_400.0]))
    def let_time_pass(self, seconds: float) -> None:
        self.run.mine.pass_time(seconds)

    @precondition(lambda self: not isinstance(self.run.mine.share, Cloud))
    @rule(which=which, bit=st.integers(0, 7))
    def corrupt_a_file(self, which: int, bit: int) -> None:
        share = self.run.mine.share
        paths = sorted(path for path, it in share.there().items() if it and "/" in path)
        if paths:
            content = bytearray(share.there()[paths[which % len(paths)]])
            content[which % len(content)] ^= 1 << bit
            share.change(paths[which % len(paths)], bytes(content))
            self.run.expected.lose(share.there())

    @rule()
    def back_the_share_up(self) -> None:
        self.run.backup = self.run.mine.share.there()

    @rule()
    def put_the_share_back(self) -> None:
        self.run.mine.share.put_back(self.run.backup)
        self.run.expected.lose(self.run.mine.share.there())

    # --- tablets --------------------------------------------------------------------------

    @precondition(lambda self: len(self.run.mine.machines) <= MOST_TABLETS)
    @rule(who=who)
    def clone(self, who: int) -> None:
        if tablet := self._tablet(who):
            self.run.mine.clone(tablet)

    @rule(who=who)
    def back_up(self, who: int) -> None:
        machine = self._machine(who)
        machine.images = [*machine.images, machine.holdings.copied()][-KEPT_IMAGES:]

    @rule(who=who, which=which, backup=st.booleans())
    def restore(self, who: int, which: int, backup: bool) -> None:  # noqa: FBT001
        tablet = self._tablet(who)
        if tablet and tablet.images:
            image = tablet.images[which % len(tablet.images)]
            self.run.mine.restore(tablet, image, backup=backup)

    @rule(who=who)
    def reset(self, who: int) -> None:
        """Give a tablet out anew: it knows nothing, and nobody knows it yet."""
        if tablet := self._tablet(who):
            self.run.mine.destroy(tablet)
            self.run.mine.new_tablet(f"{tablet.name} anew")

    @rule(who=who)
    def enrol(self, who: int) -> None:
        machine, trust = self._machine(who), self.run.mine.office.holdings.trust()
        if machine.holdings.own_tablets()[-1] not in {*trust.tablets, *trust.cuts}:
            self.run.mine.enrol(machine)

    @rule(who=who)
    def revoke(self, who: int) -> None:
        trust = self.run.mine.office.holdings.trust()
        tablet = self._tablet(who)
        if tablet and tablet.holdings.own_tablets()[-1] not in trust.cuts:
            self.run.mine.revoke(tablet)

    @rule(who=who, back=which)
    def enrol_at_an_office_from_a_copy(self, who: int, back: int) -> None:
        """It goes on from an older record than the last: two of one number."""
        records = len(self.run.mine.office.holdings.trust_records())
        if records > 1:
            self.run.mine.rival(self._machine(who), back=1 + back % (records - 1))

    @rule(who=who, off_s=st.sampled_from([0.0, YEARS_S, -YEARS_S]))
    def set_the_clock(self, who: int, off_s: float) -> None:
        self._machine(who).clock_off_s = off_s

    # --- what holds -----------------------------------------------------------------------

    @invariant()
    def nobody_harms_another_s_file_or_makes_an_entry_up(self) -> None:
        if hasattr(self, "run"):
            holds([*(f"I7: {it}" for it in self.run.mine.share.harm), *made_up(self.run.mine)])

    def teardown(self) -> None:
        if not hasattr(self, "run"):
            return
        holds(self.run.come_to_rest())
        for machine in self.run.mine.machines:
            shown = {it.revision for it in heads(machine.holdings.lines())}
            if shown != self._heads_by_the_model(machine):
                holds([f"I2: {machine.name} shows other heads than were stated"])

    def _heads_by_the_model(self, machine: Machine) -> set[str]:
        held = {read_entry(it, source="held").revision for it in machine.holdings.lines()}
        stated = held & self.follows.keys()
        return stated - {parent for it in stated for parent in self.follows[it]}

    # --- inside ---------------------------------------------------------------------------

    def _machine(self, who: int) -> Machine:
        return self.run.mine.machines[who % len(self.run.mine.machines)]

    def _tablet(self, who: int) -> Machine | None:
        tablets = self.run.mine.machines[1:]
        return tablets[who % len(tablets)] if len(tablets) > 1 else None

    def _at(self, who: int) -> ListHoldings:
        holdings = self._machine(who).holdings
        assert isinstance(holdings, ListHoldings)
        return holdings

    def _said(self, who: int, made: Entry) -> None:
        self.follows[made.revision] = made.parents
        self.run.mine.note(self._machine(who), made)

    def _works(self, machine: Machine, *, deep: bool) -> None:
        holds(filter(None, [works(self.run.mine, machine, deep=deep)]))
        self.run.expected.keep_what_is_safe()


def holds(problems: Iterable[str]) -> None:
    """Fail with the first thing that does not hold."""
    for problem in problems:
        raise AssertionError(problem)


def heads(lines: Iterable[bytes]) -> list[Entry]:
    """Give what people stated that no other revision of the same thing follows."""
    entries = [read_entry(it, source="held") for it in sorted(lines)]
    stated = [it for it in entries if it.kind in {"round", "sign_off"}]
    followed = {(it.id, parent) for it in stated for parent in it.parents}
    return [it for it in stated if (it.id, it.revision) not in followed]


def standing(holdings: ListHoldings) -> list[Entry]:
    """Give the heads of what counts on a machine."""
    return heads(it.line for it in holdings.entries)


def by_thing(entries: Iterable[Entry]) -> dict[str, list[Entry]]:
    """Group revisions by the thing that they are about."""
    found: dict[str, list[Entry]] = defaultdict(list)
    for it in entries:
        found[it.id].append(it)
    return found
