"""A plan on paper, in a terminal, and for programs."""
