"""Long runs by command, seeded; smaller ones of each are tests. See README.md of the tests."""
