"""Stitch patterns: their repeats on the widths and rows of a garment, and where each row of it stands in them."""
