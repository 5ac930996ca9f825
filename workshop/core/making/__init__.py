"""What all garments share, row by row: counts, spacing, ledger, necklines, edges."""
