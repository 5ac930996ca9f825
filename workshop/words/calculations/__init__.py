"""Workings as they are shown: by step, in inches, and by hand."""
