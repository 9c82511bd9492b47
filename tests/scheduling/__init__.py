"""The scheduler against an independent checker, an exact solver and textbook facts."""
