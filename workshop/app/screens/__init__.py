"""One module and one style sheet for each screen."""
