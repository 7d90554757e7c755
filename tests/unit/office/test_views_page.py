"""The page about the views tells every column of them, and its questions can be asked."""

import re
from importlib import resources

import pytest

from fieldapp.store.office.views import view_statements
from fieldapp.work.demo.story import DECLINE, ORE_N
from tests.office import all_of, ask

PAGE = resources.files("fieldapp.store.office").joinpath("views.md").read_text("utf-8")
QUESTIONS = re.findall(r"^([^\n]+\?)\n\n```sql\n(.*?)```", PAGE, re.M | re.S)
TOLD = {
    name: tuple(re.findall(r"`(\w+)`", columns))
    for name, columns in re.findall(r"^\*\*(\w+)\*\*:.*\n(`.*)$", PAGE, re.M)
}


def test_every_view_is_told_of() -> None:
    assert TOLD.keys() == view_statements().keys()


def test_every_column_is_told_of_in_its_order(filled: str) -> None:
    for name, told in TOLD.items():
        assert told == all_of(filled, name).columns, name


def test_there_are_questions() -> None:
    assert len(QUESTIONS) == PAGE.count("```sql")


@pytest.mark.parametrize(("question", "query"), QUESTIONS, ids=[it[0] for it in QUESTIONS])
def test_a_question_of_the_page_is_answered(filled: str, question: str, query: str) -> None:
    answered = ask(filled, query)

    assert answered.columns
    assert bool(answered.rows) == (question in SOMETHING_TO_TELL)


SOMETHING_TO_TELL = (
    "Which headings does more than the missing next round close, and why?",
    "How many bolts of each round are there and plated, of how many demanded?",
    "What was found wrong most often?",
    "Which laps are narrower than demanded?",
    "How much of what was fired is signed?",
)
"""Of the demo mine; its tablets are all enrolled, and its one standard is in force."""


def test_what_is_wrong_most_often_is_counted(filled: str) -> None:
    query = dict(QUESTIONS)["What was found wrong most often?"]
    headings = "SELECT DISTINCT heading FROM findings WHERE shown AND verdict <> 'accept'"

    assert sum(row[2] for row in ask(filled, query).rows) == 9
    assert {row[0] for row in ask(filled, headings).rows} == {ORE_N, DECLINE}
