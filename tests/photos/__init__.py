"""Photos of mesh whose truth is known: made by rules that the estimator does not assume."""
