"""Plan -> words: answers at each step, instructions, and the two ways to name things.

Everything here is plain text; views decide how it looks. Text that the knitter typed is inserted last and
is never read as markup or as a term.
"""
