"""Tests of the brief in all its forms."""
