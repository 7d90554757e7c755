"""A repair on the glass: what is known of it, and what is asked before each of its steps."""
