"""What holds for every property."""

from tests.compiled_once import compile_once
from tests.new_tables import remember_new_tables

compile_once()
remember_new_tables()
