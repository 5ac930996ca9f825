"""A guided workshop in the terminal: from a yarn to a jumper plan that one can knit from."""

__version__ = "0.1.0"
