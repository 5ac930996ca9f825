"""What a step says to its answers."""
