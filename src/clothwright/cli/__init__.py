"""The command line: reads what was typed, calls one use case, shows the answer."""
