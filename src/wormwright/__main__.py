"""`python -m wormwright`: the same as the command `wormwright`."""

import sys

from wormwright.cli import main

if __name__ == "__main__":
    sys.exit(main())
