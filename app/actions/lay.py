"""Opening the lay plan beside the window."""

from __future__ import annotations

from app import settings
from app.actions.desk import Desk


def open_lay(desk: Desk) -> None:
    """Show the lay plan, or bring it to the front where it is open already."""
    from app.dialogs.lay import LayDialog

    path = desk.session.path
    dialog = desk.window.findChild(LayDialog)
    if dialog is None:
        folder = path.absolute().parent if path else settings.last_folder()
        dialog = LayDialog(desk.session, desk.table, folder, desk.window)
    dialog.show()
    dialog.activateWindow()
