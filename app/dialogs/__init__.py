"""What is asked in a window of its own: a new client, a file, a print, whether to save."""
