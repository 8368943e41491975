"""The design: the one document, its replay into garments, and its history."""
