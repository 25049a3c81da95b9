"""The command line: parses, calls one use case, shows. `main` is the entry point."""

from clothwright.cli.app import main

__all__ = ["main"]
