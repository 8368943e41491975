"""The file of a design: an envelope read with suspicion and written whole or not at all."""
