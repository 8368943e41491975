"""Tools: what the hand does on the cutting table, one file each."""
