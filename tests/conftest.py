"""What holds for every test."""

from hypothesis import settings

# The machine may be busy with the other lane: a time is never a verdict.
settings.register_profile("lastrow", deadline=None)
settings.load_profile("lastrow")
