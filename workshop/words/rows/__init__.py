"""Rows of the ledger as lines of an instruction."""
