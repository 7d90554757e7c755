"""What an exchange came to, as the terminal and the screen say it."""

from fieldapp.report.exchange_words import exchange_lines
from sync.outcome import Outcome


def test_a_revoked_tablet_is_told_apart_from_one_that_nobody_enrolled() -> None:
    outcome = Outcome(unverified={"taken", "strange"})
    said = list(exchange_lines(outcome, {"taken": "Tablet 2", "other": "Tablet 3"}))

    assert "Kept and not believed, for the office has revoked it: Tablet 2." in said
    assert "Kept and not believed, for the office has not enrolled it: strange." in said
