"""Tests of support: asking, recording, correcting, and what failed."""
