"""Consoles by themselves, and the whole program in a pseudo-terminal."""
