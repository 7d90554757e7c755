"""What an exchange came to, as the terminal and the screen say it."""

from fieldapp.report.words.exchange import exchange_lines
from sync.folder import ShareReadOnly
from sync.outcome import Outcome


def test_a_revoked_tablet_is_told_apart_from_one_that_nobody_enrolled() -> None:
    outcome = Outcome(unverified={"taken", "strange"})
    said = list(exchange_lines(outcome, {"taken": "Tablet 2", "other": "Tablet 3"}))

    assert "Kept and not believed, for the office has revoked it: Tablet 2." in said
    assert "Kept and not believed, for the office has not enrolled it: strange." in said


def test_why_nothing_more_was_sent_stands_in_lines_of_its_own() -> None:
    """One line of the screen has no room for what happened, what was kept and what to do next."""
    outcome = Outcome(only_read="\n".join(ShareReadOnly("/mnt/support").sentences()))

    assert list(exchange_lines(outcome, {}))[2:] == [
        "Nothing more was sent. This tablet may not write in /mnt/support.",
        "What others sent was read; what this tablet has to send waits here.",
        "Ask whoever looks after the share for the right to write there.",
    ]
