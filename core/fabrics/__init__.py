"""The fabrics of a design: what the pieces are cut from."""
