"""How well the opening sentence is understood."""
