"""What is known: facts, questions, rules and sources as data, with their shape and their checks."""
