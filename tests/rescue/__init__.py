"""What goes wrong: cases, and how well they are told apart."""
