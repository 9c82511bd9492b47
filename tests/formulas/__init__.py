"""The published relations, against handbooks, standards and other libraries."""
