"""Starting the window: nothing is imported that only a later act needs."""

from __future__ import annotations

import subprocess
import sys

LATER = ("scipy", "reportlab", "ezdxf", "spyrrow", "PIL", "numpy.ma")
"""The form, PDF, DXF, lays and lesson pictures have a library each; numpy brings masked arrays by its `unique`."""

STARTED = f"""
import sys
from app.window.start import Running, make_window
application = Running()
window = make_window(demo=True)
window.show()
application.processEvents()
print(*(name for name in {LATER!r} if name in sys.modules))
window.close()
window.deleteLater()
application.processEvents()
"""


def test_slow_libraries_wait_until_they_are_used() -> None:
    """With the demo open and painted, none of them has been imported."""
    done = subprocess.run([sys.executable, "-c", STARTED], capture_output=True, text=True, check=True, timeout=120)
    assert done.stdout.strip() == ""
