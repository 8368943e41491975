"""What the Client menu opens: another client for the design, and her own block."""

from __future__ import annotations

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QMainWindow

from app.actions.typed import Typed
from app.session import Session


class Client(QObject):
    """Opens the dialogs; what is half typed into a measurement counts as typed before."""

    def __init__(self, session: Session, typed: Typed, window: QMainWindow) -> None:
        super().__init__(window)
        self.session = session
        self.typed = typed
        self.window = window

    def another(self) -> None:
        """Put the design on another client."""
        from app.dialogs.another_client import AnotherClientDialog

        self.typed.commit()
        AnotherClientDialog(self.session, self.window).open()

    def own_block(self) -> None:
        """Type her own block, or look at it again."""
        from app.dialogs.own_block import OwnBlockDialog

        self.typed.commit()
        OwnBlockDialog(self.session, self.window).open()
