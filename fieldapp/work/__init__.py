"""What people do, a module a job. No widgets, no SQL."""
