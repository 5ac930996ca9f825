"""The calculation core: pure functions of a project and the tables. No files, screen or pint."""
