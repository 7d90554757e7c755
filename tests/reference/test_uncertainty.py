"""Uncertainty and decisions against the examples of JCGM 100 and JCGM 106."""
