"""The command line: everything that can be done without the window, and the way to open it."""

from core.commands.command_line import main

__all__ = ["main"]
