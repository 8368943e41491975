"""How Qt's own widgets look: paper, pencil lines and a firm ring round what has the keyboard."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from app.theme import Theme, ThemeName, palette_for, theme_for
from core.shipped import asset


def theme_now(chosen: ThemeName | None) -> Theme:
    """The chosen theme; for None the one that the desktop asks for."""
    return theme_for(chosen or _desktop_theme())


def _desktop_theme() -> ThemeName:
    hints = QGuiApplication.styleHints()
    if hints.accessibility().contrastPreference() == Qt.ContrastPreference.HighContrast:
        return "contrast"
    return "dark" if hints.colorScheme() == Qt.ColorScheme.Dark else "light"


def dress(theme: Theme) -> None:
    """Give the application the theme's colours, unless it wears them already."""
    application = QApplication.instance()
    assert isinstance(application, QApplication)
    sheet = stylesheet_for(theme)
    if application.styleSheet() != sheet:
        application.setPalette(palette_for(theme))
        application.setStyleSheet(sheet)


def _mark(name: str, theme: Theme) -> str:
    """A mark that stands out from the theme's ground; a stylesheet takes a picture from a file only."""
    return asset("marks", f"{name}-{'pale' if theme.name == 'dark' else 'dark'}.svg").as_posix()


def stylesheet_for(theme: Theme) -> str:
    """The stylesheet of the window. Sizes keep every button at 24 logical pixels or more (WCAG 2.2, 2.5.8)."""
    return f"""
    QMainWindow, QDialog, QMessageBox {{ background: {theme.paper}; }}
    QMenuBar, QToolBar, QStatusBar {{ background: {theme.paper}; color: {theme.ink}; }}
    QToolBar {{ border: 0; border-bottom: 1px solid {theme.edge}; padding: 2px; spacing: 0; }}
    QToolBar::separator {{ background: {theme.edge}; width: 1px; margin: 4px 3px; }}
    QToolButton {{ color: {theme.ink}; border: 1px solid transparent; border-radius: 3px; padding: 3px 2px;
                   min-height: 20px; }}
    QToolButton:hover {{ border-color: {theme.edge}; }}
    QToolButton:checked {{ background: {theme.label}; border-color: {theme.pencil};
                           border-bottom: 3px solid {theme.chalk}; }}
    QToolButton:focus {{ border: 2px solid {theme.focus}; }}
    QToolButton:disabled {{ color: {theme.ghost}; }}
    QPushButton {{ background: {theme.label}; color: {theme.ink}; border: 1px solid {theme.faint}; border-radius: 3px;
                   padding: 3px 10px; min-height: 20px; }}
    QPushButton:hover {{ border-color: {theme.pencil}; }}
    QPushButton:pressed, QPushButton:checked {{ background: {theme.grid}; }}
    QPushButton:disabled {{ color: {theme.ghost}; border: 1px dashed {theme.ghost}; }}
    QPushButton:default {{ border: 2px solid {theme.pencil}; }}
    QPushButton:focus {{ border: 2px solid {theme.focus}; }}
    QLineEdit {{ background: {theme.label}; color: {theme.ink}; border: 1px solid {theme.faint}; border-radius: 3px;
                 padding: 2px 2px; selection-background-color: {theme.selected}; }}
    QLineEdit:focus {{ border: 2px solid {theme.focus}; padding: 1px 1px; }}
    QComboBox {{ background: {theme.label}; color: {theme.ink}; border: 1px solid {theme.faint}; border-radius: 3px;
                 padding: 2px 4px; }}
    QComboBox:focus {{ border: 2px solid {theme.focus}; padding: 1px 3px; }}
    QComboBox:disabled {{ color: {theme.ghost}; border: 1px dashed {theme.ghost}; }}
    QComboBox::drop-down {{ border: 0; width: 1.4em; }}
    QComboBox::down-arrow {{ image: url("{_mark("down", theme)}"); width: 0.9em; height: 0.9em; }}
    Slip {{ border: 1px solid {theme.faint}; background: {theme.label}; }}
    QTableView, QListView {{ border: 1px solid {theme.edge}; gridline-color: {theme.edge}; }}
    QTableView:focus, QListView:focus {{ border: 1px solid {theme.focus}; }}
    QCheckBox::indicator, QListView::indicator {{ width: 0.9em; height: 0.9em; border: 1px solid {theme.faint};
                                                 border-radius: 2px; background: {theme.label}; }}
    QCheckBox::indicator:checked, QListView::indicator:checked {{ border-color: {theme.ink};
                                                                 image: url("{_mark("tick", theme)}"); }}
    QCheckBox::indicator:disabled {{ border: 1px dashed {theme.ghost}; }}
    QCheckBox::indicator:focus {{ border: 2px solid {theme.focus}; }}
    QSplitter::handle {{ background: {theme.edge}; }}
    QSplitter::handle:hover {{ background: {theme.focus}; }}
    QHeaderView::section {{ background: {theme.paper}; color: {theme.ink}; border: 0;
                            border-bottom: 1px solid {theme.edge}; padding: 3px 6px; }}
    QMenu {{ background: {theme.label}; color: {theme.ink}; border: 1px solid {theme.edge}; padding: 3px; }}
    QMenu::item {{ padding: 4px 24px 4px 24px; border: 1px solid transparent; }}
    QMenu::item:selected {{ background: {theme.selected}; color: {theme.paper}; }}
    QMenu::item:disabled {{ color: {theme.faint}; background: transparent; }}
    QMenu::separator {{ height: 1px; background: {theme.edge}; margin: 3px 6px; }}
    QMenuBar::item:selected {{ background: {theme.selected}; color: {theme.paper}; }}
    QToolTip {{ background: {theme.label}; color: {theme.ink}; border: 1px solid {theme.edge}; }}
    QStatusBar::item {{ border: 0; }}
    """
