"""One text for all sizes of a design, with its counts in brackets: "Cast on 90 (98, 106, 114, 122) stitches".

What stands beside each other is found by landmarks and by what happens in the rows between them, never by comparing
sentences. A reader in the tests, which has the text and the place of a size, reads it back (tests/graded_reader.py).
"""
