"""`python -m jurystrut`."""

import sys

from jurystrut.cli import main

if __name__ == "__main__":
    sys.exit(main())
