"""What the support that is there can carry, beside what its class demands of it.

Load only ever worsens a verdict: a wide gap may carry its pressure on paper, and stays a gap.
"""
