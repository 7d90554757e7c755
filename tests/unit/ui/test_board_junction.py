"""What the board says of an intersection where there is little room."""

import pytest

from fieldapp.ui.board_words import _shorter


@pytest.mark.parametrize(
    ("reason", "shorter"),
    [
        (
            "restricted: cables of the junction at 50.0 m not plated yet; refused: it is loose",
            "restricted from 50.0 m: cables",
        ),
        (
            "restricted: junction at 50.0 m: span 9.200 m, at most 8.5 m",
            "restricted: junction at 50.0 m",
        ),
        ("no entry: damage at 50.0 m", "no entry"),
    ],
)
def test_from_where_it_restricts_is_said_before_the_state_alone(reason: str, shorter: str) -> None:
    assert next(iter(_shorter(reason))) == shorter
