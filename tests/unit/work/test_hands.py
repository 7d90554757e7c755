"""Several processes do one job, and nobody sees it from what comes of it."""

import os

import pytest

from fieldapp.work.hands import hands


def squared_by(number: int) -> tuple[int, int]:
    return number * number, os.getpid()


def never(number: int) -> int:
    raise ValueError(number)


def test_what_is_done_comes_in_the_order_in_which_it_was_given() -> None:
    with hands() as several:
        found = list(several.do(squared_by, range(300)))

    assert [(given, square) for given, (square, _) in found] == [
        (it, it * it) for it in range(300)
    ]


def test_while_the_others_have_enough_to_do_this_process_does_it_too() -> None:
    with hands() as several:
        by_whom = {process for _, (_, process) in several.do(squared_by, range(300))}

    assert os.getpid() in by_whom


def test_a_fault_in_another_process_is_a_fault_here() -> None:
    with hands() as several, pytest.raises(ValueError, match="7"):
        list(several.do(never, [7]))
