"""The editor of the standard on the glass: what stands beside its screen."""
