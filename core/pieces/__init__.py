"""Pieces of a garment and how they are sewn: outlines of named edges, darts as records, seams by origin."""
