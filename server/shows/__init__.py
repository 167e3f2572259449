"""Shows: made from a plan, amended while they run, closed."""
