"""The demo mine's past: a year and a half that was simulated, and what people stated of it.

`truth` says what is true, the simulators make of it what happened, the tellers state what people
saw of that. Every trend has something to find, and the tests know what.
"""

from fieldapp.work.demo.history.places import PASTS, RETURN
from fieldapp.work.demo.history.teller import Hand
from fieldapp.work.demo.history.telling import History, Progress
from fieldapp.work.demo.history.truth import LASTS

__all__ = ["LASTS", "PASTS", "RETURN", "Hand", "History", "Progress"]
