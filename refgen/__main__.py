"""Lets `python -m refgen` do what the command `refgen` does."""

from refgen.cli import main

if __name__ == "__main__":
    main()
