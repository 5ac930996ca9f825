"""The Textual application. Nothing outside this package imports textual."""
