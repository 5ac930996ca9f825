"""One module for each command, of its name: ``run(options)`` does it and gives the exit code."""
