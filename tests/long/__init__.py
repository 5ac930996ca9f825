"""Long runs by command, seeded; smaller ones of each are tests. See DEVELOPERS.md."""
