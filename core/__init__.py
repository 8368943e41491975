"""Sheerwright's core: from a body to finished, checked and printed pieces. Knows nothing of any window."""
