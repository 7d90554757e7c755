"""`lastrow bolt-test due`, `list` and `show`: what is to be tested, what was, and what it told."""

import json
from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from fieldapp.work.bolt_tests.recording import BoltTestKnown, HeadingTests
    from fieldapp.work.site import Site

HEAD = ("id", "heading", "place", "test", "made", "came to")
WIDEST = (12, 24, 32, 24, 26, 60)
DUE_HEAD = ("heading", "test", "why")
DUE_WIDEST = (24, 44, 76)

AsJson = Annotated[bool, typer.Option("--json", help="Answer as JSON.")]
OfHeading = Annotated[str | None, typer.Argument(metavar="HEADING", help="Only of this heading.")]


def due(
    ctx: typer.Context, heading: OfHeading = None, *, as_json: AsJson = False, home: Home = None
) -> int:
    """Say which tests are due, heading by heading, and what failed ones opened.

    Example: lastrow bolt-test due "4180 Main"
    """
    with door_of(ctx).site(home) as site:
        known = _of(site, heading)
        if as_json:
            print(_json([_due_json(it) for it in known]))
            return 0
        rows = [row for it in known for row in _due_rows(site, it)]
    if not rows:
        print("No test is due.")
        return 0
    for line in table(DUE_HEAD, rows, DUE_WIDEST):
        print(line)
    return 0


def made(
    ctx: typer.Context, heading: OfHeading = None, *, as_json: AsJson = False, home: Home = None
) -> int:
    """List the tests that were made, the newest first.

    Example: lastrow bolt-test list "4180 Main"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.bolt_tests.recording import bolt_tests
        from fieldapp.work.headings import heading as heading_of

        place = heading_of(site, heading).id if heading else None
        known = bolt_tests(site, place)
        if as_json:
            print(_json([_test_json(it) for it in known]))
            return 0
        rows = [_row(site, it) for it in known]
    if not rows:
        print("No test is recorded.")
        return 0
    for line in table(HEAD, rows, WIDEST):
        print(line)
    return 0


def show(
    ctx: typer.Context,
    test: Annotated[str, typer.Argument(metavar="ID", help="Its short id, or its whole id.")],
    *,
    as_json: AsJson = False,
    home: Home = None,
) -> int:
    """Show one test: everything that was read, what it comes to, and what it opened.

    Example: lastrow bolt-test show 7K3Q-9XTR-5
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.bolt_test import known_lines
        from fieldapp.work.bolt_tests.recording import bolt_test

        known = bolt_test(site, test)
        if as_json:
            print(_json(_test_json(known)))
            return 0
        for line in known_lines(known, site.settings.units, ZoneInfo(site.settings.zone)):
            print(line)
        for line in came_to(site, known):
            print(line)
        if known.test.corrected_because:
            from fieldapp.report.words.bolt_test import corrected_lines
            from fieldapp.report.words.findings import sentence
            from fieldapp.work.bolt_tests.correcting import before
            from fieldapp.work.people import name_of

            earlier = before(site, known.id, known.heading_id)
            for line in corrected_lines(known, earlier, partial(name_of, site)):
                print(sentence(line))
    return 0


def summary(
    ctx: typer.Context, heading: OfHeading = None, *, as_json: AsJson = False, home: Home = None
) -> int:
    """Say what the tests tell together, by kind, bolt type and ground.

    Example: lastrow bolt-test summary
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.assess.bolt_tests import Together
        from fieldapp.report.words.bolt_test import together_lines, together_title
        from fieldapp.work.bolt_tests.recording import together

        found = together(site, heading)
        if as_json:
            from pydantic import TypeAdapter

            print(TypeAdapter(tuple[Together, ...]).dump_json(found).decode())
            return 0
        for one in found:
            print(together_title(one))
            for line in together_lines(one):
                print(f"  {line}")
    if not found:
        print("No test that can be judged is recorded.")
    return 0


def came_to(site: "Site", known: "BoltTestKnown") -> Iterator[str]:
    """Say what a test comes to, and what it opened."""
    from fieldapp.report.words.bolt_test import by_now_lines, opened_words, waiting_lines
    from fieldapp.report.words.findings import sentence
    from fieldapp.work.bolt_test_record import by_standard_now
    from fieldapp.work.bolt_tests.recording import heading_tests
    from fieldapp.work.called import called
    from fieldapp.work.people import name_of

    yield f"Test {called(known.id)}, {known.result.words}."
    found = by_standard_now(site, known.judged)
    yield from map(sentence, by_now_lines(*found) if found else ())
    yield from map(sentence, waiting_lines(known, partial(name_of, site)))
    for opened in heading_tests(site, known.heading_id, site.now()).opened:
        if opened.failed.id == known.id:
            yield from map(sentence, opened_words(opened))


def _of(site: "Site", heading: str | None) -> "tuple[HeadingTests, ...]":
    from fieldapp.work.bolt_tests.recording import bolt_tests_by_heading, heading_tests

    if heading is not None:
        return (heading_tests(site, heading, site.now()),)
    return bolt_tests_by_heading(site, site.now())


def _due_rows(site: "Site", known: "HeadingTests") -> Iterator[tuple[str, str, str]]:
    from fieldapp.report.words.bolt_test import due_title, due_why, opened_words
    from fieldapp.work.called import called

    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    for opened in known.opened:
        if opened.is_open:
            failed = f"follows failed test {called(opened.failed.id)}"
            yield known.heading, failed, "; ".join(opened_words(opened))
    for due in known.due:
        yield known.heading, due_title(due, site.now(), zone), due_why(due, units)


def _row(site: "Site", known: "BoltTestKnown") -> tuple[str, ...]:
    from fieldapp.report.words.bolt_test import kind_words, place_words
    from fieldapp.report.words.findings import when
    from fieldapp.work.called import called

    return (
        called(known.id),
        known.heading,
        place_words(known.test, site.settings.units),
        kind_words(known.test),
        when(known.test.tested_at, ZoneInfo(site.settings.zone)),
        known.result.words,
    )


def _test_json(known: "BoltTestKnown") -> dict[str, object]:
    came_to = known.result
    return {
        "id": known.id,
        "heading": known.heading,
        "test": known.test.model_dump(mode="json", exclude_none=True),
        "outcome": came_to.outcome,
        "because": came_to.because,
        "limit": came_to.limit,
        "clause": came_to.clause,
    }


def _due_json(known: "HeadingTests") -> dict[str, object]:
    return {
        "heading": known.heading,
        "due": [
            {
                "kind": it.kind,
                "bolt_type": it.bolt_type,
                "why": it.why,
                "tests": it.tests,
                "of": it.of,
                "since": it.since.isoformat(),
                "from_m": str(it.from_m),
                "to_m": str(it.to_m),
                "because": it.words,
                "clause": it.clause,
            }
            for it in known.due
        ],
        "opened": [
            {
                "after": it.failed.id,
                "kind": it.kind,
                "which": it.which,
                "tests": it.tests,
                "of": it.demanded,
                "replaced": it.replaced,
                "then": it.then,
                "open": it.is_open,
            }
            for it in known.opened
        ],
    }


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
