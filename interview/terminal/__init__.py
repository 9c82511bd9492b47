"""Consoles: prompt_toolkit, plain lines, scripted. They know nothing of the trade."""
