"""Plane geometry in millimetres: polylines, fair curves, placements, planar sets. Knows nothing of garments."""
