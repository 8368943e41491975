"""What the first picture of the window needs besides Qt, to be imported before it.

Once Qt is there, shiboken reads the source of every module that is imported after it: a fifth of a millisecond each.
"""

# ruff: noqa: F401 - imported to be there

import socket

import core.body.average
import core.checks.seam_rows
import core.checks.walk
import core.design.history
import core.design.replay
import core.design.settling
import core.file.recovery
import core.outputs.papers
import core.progress
import core.shipped
