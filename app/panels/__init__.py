"""What stands beside the table: measurements, steps, seams, the selected piece, the order of work."""
