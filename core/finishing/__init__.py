"""From stitching lines to pieces that can be cut: allowances, cutting lines, notches, grain, labels, counts."""
