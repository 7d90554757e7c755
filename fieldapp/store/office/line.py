"""What is worked out of the entries for reports: a class a table, a field a column.

Lengths and places are in the unit that ends the field's name. Times are texts in UTC that sort
as times do. What a field holds where nobody said it is None. `fieldapp/store/office/views.md`
tells what a person asks for; these are what it is made of.
"""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Line:
    """One row; the first field is what its row is made anew by."""

    table: ClassVar[str]
