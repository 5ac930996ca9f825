"""``python -m workshop``."""

import sys

from workshop.cli import main

if __name__ == "__main__":
    sys.exit(main())
