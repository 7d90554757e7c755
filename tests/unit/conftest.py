"""What holds for every test of one part."""

from tests.cheap_codes import make_codes_cheap
from tests.compiled_once import compile_once
from tests.new_tables import remember_new_tables

compile_once()
make_codes_cheap()
remember_new_tables()
