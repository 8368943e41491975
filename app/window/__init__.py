"""The one window, and what it needs to be opened and closed in good order."""
