"""What holds for every property."""

from tests.new_tables import remember_new_tables

remember_new_tables()
