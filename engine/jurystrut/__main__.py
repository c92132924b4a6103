"""`python -m jurystrut`."""

from jurystrut.cli import run

if __name__ == "__main__":
    run()
