"""The steps of a design: frozen records, each of which makes one change to a garment or refuses in one sentence."""
