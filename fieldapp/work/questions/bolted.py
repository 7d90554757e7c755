"""Who bolted the round, and their own check of it: whoever is named here can't sign it."""

from collections.abc import Iterator

from fieldapp.work.questions.question import Asker, Choice, Known, Question
from fieldapp.work.questions.readings import counting
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    BlockedHolesCounted,
    BoltedByName,
    BolterAnswered,
    CrewNamed,
    InstallerNamed,
    InstallersAllNamed,
)

MOST_CREWS = 4
CANT_SIGN = "Whoever is named can't sign this round."


def bolted(work: RoundWork, asker: Asker, site: Known) -> Iterator[Question]:
    """Yield the questions about who bolted it, and the holes that they gave up."""
    yield _checked(work, asker, site)
    if work.seen.bolter.done is False:
        yield _unchecked(work, asker, site)
    if _by_name(work) is not None:
        yield _by_whom(work, asker, site)
    yield _blocked(work, asker)


def _checked(work: RoundWork, asker: Asker, site: Known) -> Question:
    """Ask for crew and check at once: a crew that checked it is one touch."""
    crews = [
        Choice(crew, BolterAnswered(at=asker.at, by=asker.by, done=True, crew=crew), "checked")
        for crew in site.crews[:MOST_CREWS]
    ]
    by_name = BoltedByName(at=asker.at, by=asker.by)
    no_check = BolterAnswered(at=asker.at, by=asker.by, done=False)
    return Question(
        key="bolter",
        stage="before",
        ask="Who bolted it, and checked it themselves?",
        hint="By the sheet from the machine, or by word.",
        choices=(*crews, *_naming(by_name, site), Choice("Not checked", no_check)),
        answered=work.seen.bolter.done is not None or _by_name(work) is not None,
        checks=("bolter_check",),
    )


def _unchecked(work: RoundWork, asker: Asker, site: Known) -> Question:
    crews = [
        Choice(crew, CrewNamed(at=asker.at, by=asker.by, crew=crew))
        for crew in site.crews[:MOST_CREWS]
    ]
    by_name = BoltedByName(at=asker.at, by=asker.by, checked=False)
    return Question(
        key="bolted by",
        stage="before",
        ask="Not checked by the bolter. Who bolted it?",
        hint="The crew, or the people by name.",
        choices=(*crews, *_naming(by_name, site)),
        answered=work.seen.bolter.crew is not None or _by_name(work) is not None,
    )


def _naming(by_name: BoltedByName, site: Known) -> tuple[Choice, ...]:
    """Offer names where somebody is enrolled whose name can be given."""
    return (Choice("By name", by_name, "who is enrolled"),) if site.installers else ()


def _by_whom(work: RoundWork, asker: Asker, site: Known) -> Question:
    begun, named = _by_name(work), work.seen.installed_by
    checked = begun is None or begun.checked
    left = [it for it in site.installers if it.person_id not in named]
    choices = [
        Choice(
            it.name, InstallerNamed(at=asker.at, by=asker.by, person=it.person_id, checked=checked)
        )
        for it in left
    ]
    if named:
        choices.insert(0, Choice("Nobody else", InstallersAllNamed(at=asker.at, by=asker.by)))
    return Question(
        key="installers",
        stage="before",
        ask="Who else bolted it?" if named else "Who bolted it?",
        hint=CANT_SIGN,
        choices=tuple(choices),
        answered=not left or _all_named(work),
    )


def _blocked(work: RoundWork, asker: Asker) -> Question:
    def counted(holes: int) -> AnyTouch:
        return BlockedHolesCounted(at=asker.at, by=asker.by, holes=holes)

    return Question(
        key="blocked",
        stage="before",
        ask="How many holes were blocked and given up?",
        hint="Each one has a bolt beside it, or is a missing bolt.",
        choices=tuple(Choice(str(n), counted(n)) for n in range(5)),
        digits=counting(counted, unit="holes", limit="as many as were given up", most=200),
        answered=work.seen.bolter.blocked_holes is not None and "blocked" not in asker.again,
        checks=("bolter_check",),
    )


def _by_name(work: RoundWork) -> BoltedByName | None:
    """Give the touch that began naming people, where one stands."""
    begun = [touch for touch in work.standing if isinstance(touch, BoltedByName)]
    return begun[-1] if begun else None


def _all_named(work: RoundWork) -> bool:
    """Whether nobody else was said since naming began."""
    naming: list[AnyTouch] = [
        touch for touch in work.standing if isinstance(touch, BoltedByName | InstallersAllNamed)
    ]
    return isinstance(naming[-1], InstallersAllNamed)
