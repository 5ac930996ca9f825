"""A class: every pupil's project of a folder, its yarn, and the same yarn in many hands. Files are only read."""
