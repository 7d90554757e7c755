"""What a child does until it is killed, and what it says is kept. Small, and the real thing."""

from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta
from pathlib import Path

# Warmed here, in the parent: a child that loads modules for half its life is killed there.
import fieldapp.store.alembic_run
import fieldapp.store.opening  # noqa: F401
from fieldapp.start import open_site
from fieldapp.store import Store, open_store
from fieldapp.store.backup_file import read_backup
from fieldapp.store.backups import keep_generation
from fieldapp.store.bring_back import HomeSound, bring_back_newest
from fieldapp.store.bring_back import bring_back as bring_back_from
from fieldapp.work.photo.marks import add_mark, marks_on, spot
from fieldapp.work.photo.photographs import keep_photo
from schemas.bodies.photo_marks import Ring
from tests.faults import collating_jobs, share_jobs
from tests.made import STARTED_AT, entry
from tests.photos.taken import taken

DAMAGE = "01c2a8d6-4d20-7b11-9c35-0a4e6f2d8b19"
MARK = Ring(kind="ring", centre=spot((0.5, 0.5)), rim=spot((0.6, 0.5)))
Acknowledge = Callable[[str], object]

BACKUP_ELSEWHERE = "elsewhere.lastrow"
"""Beside the trial's place, which is cleared before each child."""
DRAFT = "d-1"
TOUCHES = tuple(b'{"touch":%d}' % number * 3 for number in range(6))
SIGNED = (entry(1), entry(2, kind="sign_off"), entry(3, kind="entry_notice"))
WAITING = tuple(entry(number, {"note": "x" * number}) for number in range(10, 260))
"""More than one segment's worth."""


def save_touches(folder: Path, acknowledge: Acknowledge) -> None:
    """Go on with the draft from where it is, as a restarted program does."""
    with open_store(folder) as store:
        for line in TOUCHES[len(store.drafts.touches(DRAFT)) :]:
            store.drafts.touch(DRAFT, line)
            acknowledge("touch")


def finish_draft(folder: Path, acknowledge: Acknowledge) -> None:
    """Sign: the draft becomes three entries."""
    with open_store(folder) as store:
        store.drafts.finish(DRAFT, SIGNED)
        acknowledge("signed")


def seal(folder: Path, acknowledge: Acknowledge) -> None:
    """Seal what waits."""
    with open_store(folder) as store:
        for name in store.sealing.seal():
            acknowledge(name)


def take_photo(folder: Path, acknowledge: Acknowledge) -> None:
    """Keep a photo of damage, then draw on it; done before, it is not done twice."""
    with (site := open_site(folder, now=lambda: STARTED_AT)).store:
        kept = keep_photo(site, taken(folder / "given.jpg"), None, DAMAGE)
        acknowledge("photo")
        if not marks_on(site, kept.id):
            add_mark(site, kept.id, MARK, None)
        acknowledge("mark")


def make_store(folder: Path, acknowledge: Acknowledge) -> None:
    """Open a store where there was none, and keep a first entry."""
    with open_store(folder) as store:
        store.ledger.add(SIGNED)
        acknowledge("added")


def upgrade(folder: Path, acknowledge: Acknowledge) -> None:
    """Open a store that an older version left."""
    with open_store(folder):
        acknowledge("carried forward")


def keep_backup(folder: Path, acknowledge: Acknowledge) -> None:
    """Keep one more generation, and go on working."""
    with open_store(folder, now=lambda: STARTED_AT + timedelta(days=1)) as store:
        assert not keep_generation(store).troubles
        acknowledge("kept")


def bring_back(folder: Path, acknowledge: Acknowledge) -> None:
    """Put a new home in the place of a damaged one, unless that was done."""
    with suppress(HomeSound):
        bring_back_newest(folder, None, lambda: STARTED_AT)
    acknowledge("brought back")


def bring_back_elsewhere(folder: Path, acknowledge: Acknowledge) -> None:
    """Bring a home back from a backup that lies somewhere else, unless that was done."""
    with suppress(HomeSound):
        backup = read_backup(folder.parent.with_name(BACKUP_ELSEWHERE))
        bring_back_from(folder, backup, lambda: STARTED_AT)
    acknowledge("brought back")


_JOBS = (
    save_touches,
    finish_draft,
    seal,
    make_store,
    take_photo,
    upgrade,
    keep_backup,
    bring_back,
    bring_back_elsewhere,
    share_jobs.take_in,
    share_jobs.take_trust,
    share_jobs.begin_anew,
    share_jobs.put,
    share_jobs.meet,
    collating_jobs.collate,
)
JOBS: dict[str, Callable[[Path, Acknowledge], None]] = {job.__name__: job for job in _JOBS}
WARMS: dict[str, Callable[[], None]] = {collating_jobs.collate.__name__: collating_jobs.warm}
"""What loads, in the parent, what a job's child would load late."""


def with_draft(store: Store) -> None:
    """Prepare: a draft without touches."""
    store.drafts.begin(DRAFT, b"about")


def with_touched_draft(store: Store) -> None:
    """Prepare: a draft that can be signed."""
    with_draft(store)
    for line in TOUCHES:
        store.drafts.touch(DRAFT, line)


def with_waiting_entries(store: Store) -> None:
    """Prepare: entries that wait to be sealed."""
    store.keys.tablet()
    store.ledger.add(WAITING)
