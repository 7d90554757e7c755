"""What holds for every test of one part."""

from tests.new_tables import remember_new_tables

remember_new_tables()
