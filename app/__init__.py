"""Sheerwright's window: shows what the core computes, and changes the design through one session."""
