"""Plan -> drawings as plain data, with two renderers: text for the terminal and SVG."""
