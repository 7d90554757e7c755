"""Tests of support: what each comes to, which are due, and what a failed one opens."""

from fieldapp.assess.bolt_tests.due import Due, due_tests
from fieldapp.assess.bolt_tests.follows import (
    BatchStands,
    JudgedTest,
    Opened,
    Replaced,
    counts_as_gone,
    is_failed_support,
    opened_by,
)
from fieldapp.assess.bolt_tests.judged import bolt_of, pull_rule, result_of, torque_rule
from fieldapp.assess.bolt_tests.one_bolt import DAY, may_be_one_bolt
from fieldapp.assess.bolt_tests.out_of_reason import out_of_reason
from fieldapp.assess.bolt_tests.pull import beyond_the_thread, too_soon_for_its_hold
from fieldapp.assess.bolt_tests.put_in import PutIn, put_in
from fieldapp.assess.bolt_tests.result import Result
from fieldapp.assess.bolt_tests.standing import standing
from fieldapp.assess.bolt_tests.summary import Together, summary

__all__ = [
    "DAY",
    "BatchStands",
    "Due",
    "JudgedTest",
    "Opened",
    "PutIn",
    "Replaced",
    "Result",
    "Together",
    "beyond_the_thread",
    "bolt_of",
    "counts_as_gone",
    "due_tests",
    "is_failed_support",
    "may_be_one_bolt",
    "opened_by",
    "out_of_reason",
    "pull_rule",
    "put_in",
    "result_of",
    "standing",
    "summary",
    "too_soon_for_its_hold",
    "torque_rule",
]
