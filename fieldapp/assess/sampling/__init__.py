"""How many must be looked at, which ones, and what it says of the rest. It never says accept."""

from fieldapp.assess.sampling.draw import Stratum, drawn
from fieldapp.assess.sampling.finite import chance_of_at_most, looks_needed, most_bad
from fieldapp.assess.sampling.iso_plan import Plan, single_plan
from fieldapp.assess.sampling.process import looks_at_a_process
from fieldapp.assess.sampling.statement import Looked, Statement, stated

__all__ = [
    "Looked",
    "Plan",
    "Statement",
    "Stratum",
    "chance_of_at_most",
    "drawn",
    "looks_at_a_process",
    "looks_needed",
    "most_bad",
    "single_plan",
    "stated",
]
