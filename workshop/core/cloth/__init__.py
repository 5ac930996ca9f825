"""From yarn to a fabric that is known: fibre, swatch, gauge, wash, yarn quantity."""
