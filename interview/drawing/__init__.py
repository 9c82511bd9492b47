"""Drawings of a plan as inline SVG: the section, the view from above, the timeline."""
