"""Repairs, from the list over the plan to what somebody else verified."""
