"""The command line."""

from railgen.cli.main import main

__all__ = ["main"]
