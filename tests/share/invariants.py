"""What holds after every run, whatever happened. They are numbered; that no photo is freed which
nobody else holds (I5) is not simulated: tests/unit/store/test_photo_shelf.py states it.

I1   no entry is anywhere that nobody stated
I2   at rest every machine holds the same segments, and believes the same entries
I3   what was kept on a machine that lives, or lay whole in the share when its machine was
     lost, is held by all
I4   a photo that the office says to hold is there, with the bytes that its name means; what lies
     whole in the share is on every machine that wants it
I6   an exchange ends in a known trouble or well, in a bounded number of calls
I7   nobody changes or takes away a good file of somebody else
I8   with nothing new: store.json, two listings, and no write
I9   every segment verifies, byte for byte the same, on every machine
I10  fields and kinds that this version doesn't know arrive unharmed (they are among I1 to I3)
I11  what a tablet sealed after the place where the office cut it counts nowhere
I12  a record of trust that a machine once took in stays, whatever the share shows
I13  what a machine states comes after what it stated before, and no other's wrong clock drags it
     along, whatever the clocks show
"""

from collections.abc import Iterable, Iterator, Mapping
from hashlib import sha256

from sync.belief import counts
from sync.holdings import Holdings
from sync.names import HEADS, IDENTITY, PHOTOS, STORE, TABLETS, TRUST, HeadName, SegmentName
from sync.segment import BrokenSegment, lines_of, open_segment
from tests.share.holdings import BAD_FILE, CLOCK_NOTE, RECEIPT
from tests.share.mine import Machine, Mine
from tests.share.simulated_folder import is_good

CALLS_OF_AN_EXCHANGE = 60
CALLS_OF_A_FILE = 8
NOTHING_NEW = [f"read {STORE}", f"list {HEADS}", f"list {TRUST}"]


class Expected:
    """What must be held by all in the end.

    Parameters
    ----------
    mine : Mine
        The mine that is watched.
    """

    def __init__(self, mine: Mine) -> None:
        self._mine = mine
        self.lines: set[bytes] = set()
        self._safe: set[SegmentName] = set()

    def keep_what_is_safe(self) -> None:
        """Remember what lies whole in the share: no machine may lose it again."""
        self._safe |= _whole(self._mine.share.there())

    def lose(self, files: Mapping[str, bytes]) -> None:
        """Forget what the share itself has lost."""
        self._safe &= _whole(files)

    def remember(self) -> None:
        """Remember what is kept on the machines that live."""
        self.lines = {line for it in self._mine.machines for line in it.holdings.lines()}

    def missing(self, mine: Mine) -> list[str]:
        """Give what the machines do not hold of it."""
        return [lost for machine in mine.machines for lost in self._missing_in(machine)]

    def _missing_in(self, machine: Machine) -> list[str]:
        held = {it.name for row in machine.holdings.rows().values() for it in row}
        lost = self.lines - machine.holdings.lines()
        return [
            *(f"I3: {machine.name} lost {line[:80]!r}" for line in sorted(lost)),
            *(f"I3: {machine.name} lost {name.path}" for name in sorted(self._safe - held)),
        ]


def works(mine: Mine, machine: Machine, *, deep: bool) -> str:
    """Have a machine exchange; give what is wrong with how that went."""
    machine.folder.asked.clear()
    believed = machine.holdings.trust_records()
    mine.meet(machine, deep=deep)
    if not set(believed) <= set(machine.holdings.trust_records()):
        mine.set_back.append(machine.name)
    files = len(mine.share.there()) + len(machine.folder.written)
    bound = CALLS_OF_AN_EXCHANGE + CALLS_OF_A_FILE * files
    asked = len(machine.folder.asked)
    return f"I6: {asked} calls of {bound} by {machine.name}" if asked > bound else ""


def broken(mine: Mine, expected: Expected) -> list[str]:
    """Give the first that does not hold, at rest."""
    checks = (
        _harm,
        _set_back,
        _misplaced,
        made_up,
        expected.missing,
        _not_the_same,
        _counts_after_a_cut,
        _photos_that_are_not_there,
        _not_genuine,
        _not_quiet,
    )
    return next((found for check in checks if (found := check(mine))), [])


def _harm(mine: Mine) -> list[str]:
    return [f"I7: {harm}" for harm in mine.share.harm]


def _set_back(mine: Mine) -> list[str]:
    return [f"I12: {name} forgot a record of trust" for name in mine.set_back]


def _misplaced(mine: Mine) -> list[str]:
    return [f"I13: {problem}" for problem in mine.misplaced]


def made_up(mine: Mine) -> list[str]:
    """Give the entries that nobody stated."""
    lines = {it.line for machine in mine.machines for it in machine.holdings.entries}
    own = [f'"kind":"{kind}"'.encode() for kind in (RECEIPT, BAD_FILE, CLOCK_NOTE)]
    unknown = sorted(it for it in lines - mine.stated if not any(kind in it for kind in own))
    return [f"I1: nobody stated {line[:80]!r}" for line in unknown]


def _not_the_same(mine: Mine) -> list[str]:
    first, *others = mine.machines
    rows, believed = first.holdings.rows(), first.holdings.believed()
    apart = [it.name for it in others if _names(it) != _names(first)]
    unlike = [it.name for it in others if it.holdings.believed() != believed]
    return [
        *(f"I2: {name} holds other segments than {first.name}: {len(rows)}" for name in apart),
        *(f"I2: {name} believes other entries than {first.name}" for name in unlike),
    ]


def _counts_after_a_cut(mine: Mine) -> list[str]:
    """Give what counts though it stands only in segments that a cut tablet sealed afterwards.

    The office is asked alone: by now all believe the same.
    """
    held = _names(mine.office)
    after = {it for it in held if it.seq > mine.cuts.get(it.tablet, it.seq)}
    counting = _lines_in(mine.office, after) & mine.office.holdings.believed()
    wrong = counting - _lines_in(mine.office, held - after) if counting else counting
    return [f"I11: sealed after the cut, and counts: {line[:80]!r}" for line in sorted(wrong)]


def _photos_that_are_not_there(mine: Mine) -> list[str]:
    """Give what was acknowledged and is not held, and what is wanted, in the share, not held."""
    hashes = {it: sha256(content).hexdigest() for it, content in mine.share.there().items()}
    return [lacks for it in mine.machines for lacks in _photos_lacking(mine, it, hashes)]


def _photos_lacking(mine: Mine, machine: Machine, hashes: Mapping[str, str]) -> Iterator[str]:
    shelf = mine.rules.shelf(machine.holdings)
    if shelf is None:
        return
    good = {it for it in shelf.held() if shelf.content(it) is not None}
    wanted = mine.photos_wanted(machine)
    needed = {it.sha256 for it in wanted if hashes.get(it.path) == it.sha256}
    if machine is mine.office:
        needed |= shelf.acknowledged()
    for lacking in sorted(needed - {it.sha256 for it in good}):
        yield f"I4: {machine.name} has no photo {lacking}"


def _lines_in(machine: Machine, names: Iterable[SegmentName]) -> set[bytes]:
    contents = (machine.holdings.content(name) for name in names)
    return {line for content in contents if content for line in lines_of(content)}


def _names(machine: Machine) -> set[SegmentName]:
    return {it.name for row in machine.holdings.rows().values() for it in row}


def _not_genuine(mine: Mine) -> list[str]:
    """Open every segment as a stranger would, once; all others must hold the same bytes."""
    found = []
    first = mine.office.holdings
    for name in _names(mine.office):
        content, identity = first.content(name), first.identity(name.tablet)
        try:
            assert content
            assert identity
            tuple(open_segment(name.file, content, public_key=identity.public_key).entries)
        except (AssertionError, BrokenSegment):
            found.append(f"I9: {name.path} does not verify")
        if any(it.holdings.content(name) not in (content, None) for it in mine.machines):
            found.append(f"I9: {name.path} has two contents")
    return found


def _not_quiet(mine: Mine) -> list[str]:
    found = []
    for machine in mine.machines:
        machine.folder.asked.clear()
        mine.pass_time(3600)
        mine.meet(machine)
        if not _is_quiet(mine, machine):
            found.append(f"I8: {machine.name} with nothing new: {machine.folder.asked[:8]}")
    return found


def _is_quiet(mine: Mine, machine: Machine) -> bool:
    """Tell whether nothing more was asked than must be.

    Holes are asked for again, and what no other machine may acknowledge is looked after; so are
    the photos of a tablet that is not believed, and those that have not come, and a record of
    trust that is bad and that nobody holds.
    """
    held = {f"read {name.path}" for name, _ in mine.office.holdings.trust_records()}
    looked_for = (f"read {PHOTOS}/", f"read {TRUST}/")
    asked = [it for it in machine.folder.asked if not it.startswith(looked_for) or it in held]
    if _has_holes(mine, machine) or _is_alone(mine, machine):
        only_looks = all(it.startswith(("read", "list")) for it in asked)
        return asked[:2] == NOTHING_NEW[:2] and only_looks
    return asked == NOTHING_NEW


def _is_alone(mine: Mine, machine: Machine) -> bool:
    """Tell whether something is held of which no other machine can say that it arrived."""
    own = machine.holdings.own_tablets()
    waiting = set(machine.holdings.published()) - machine.holdings.acknowledged()
    return any(not _witnesses(mine, name.tablet) for name in waiting if name.tablet in own)


def _witnesses(mine: Mine, tablet: str) -> list[Machine]:
    """Give the machines that are believed and are not that tablet themselves."""
    return [
        it
        for it in mine.machines
        if tablet not in it.holdings.own_tablets() and is_believed(it.holdings)
    ]


def _has_holes(mine: Mine, machine: Machine) -> bool:
    """Tell whether there are signs of segments that nobody holds and that are whole nowhere."""
    held, rows = _names(machine), machine.holdings.rows().values()
    heads = (HeadName.of_file(path.rpartition("/")[2]) for path in mine.share.there())
    signs = {it.before for row in rows for it in row if it.before}
    signs |= {head.segment for head in heads if head}
    return not signs <= held


def _whole(files: Mapping[str, bytes]) -> set[SegmentName]:
    """Give the segments in the share that a stranger could verify."""
    found = set()
    for path, content in files.items():
        folder, _, file = path.rpartition("/")
        if file.endswith(".seg") and is_good(path, content):
            tablet = folder.split("/")[1]
            identity = f"{TABLETS}/{tablet}/{IDENTITY}"
            name = SegmentName.of_file(tablet, file)
            if name and is_good(identity, files.get(identity, b"")):
                found.add(name)
    return found


def is_believed(holdings: Holdings) -> bool:
    """Tell whether what a machine seals next counts."""
    tablet = holdings.own_tablets()[-1]
    last = max((it.name.seq for it in holdings.rows().get(tablet, ())), default=0)
    return counts(holdings.trust(), holdings.identity, tablet, last + 1)
