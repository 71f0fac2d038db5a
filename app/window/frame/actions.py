"""Everything the menus and keys can do, as one table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Act:
    """One action: its id, menu, words and key; the main window has what it does."""

    id: str
    menu: str
    words: str
    keys: str = ""


PAGES = ("Site", "Satellites", "Mount", "Evening", "Keyway", "Setup", "Sheet", "Run")

ACTS: tuple[Act, ...] = (
    Act("open", "&Plan", "&Open plan...", "Ctrl+O"),
    Act("import_elements", "&Plan", "&Import elements...", "Ctrl+I"),
    Act("save", "&Plan", "&Save", "Ctrl+S"),
    Act("save_as", "&Plan", "Save &as...", "Ctrl+Shift+S"),
    Act("new", "&Plan", "&New plan", "Ctrl+N"),
    Act("demo", "&Plan", "&Demo plan"),
    Act("quit", "&Plan", "&Quit", "Ctrl+Q"),
    Act("undo", "&Edit", "&Undo", "Ctrl+Z"),
    Act("redo", "&Edit", "&Redo", "Ctrl+Shift+Z"),
    Act("find", "&Edit", "&Find a satellite", "Ctrl+F"),
    Act("cancel", "&Edit", "&Cancel what is being computed", "Ctrl+."),
    Act("compute", "&Edit", "&Work it out again", "F5"),
    Act("errors", "&Edit", "Recent &errors..."),
    Act("scheme_light", "&Look", "&Light", "Ctrl+Alt+1"),
    Act("scheme_dark", "&Look", "&Dark", "Ctrl+Alt+2"),
    Act("scheme_dusk", "&Look", "D&usk", "Ctrl+Alt+3"),
    *(
        Act(f"page_{title.lower()}", "Pa&ges", title, f"Ctrl+{number}")
        for number, title in enumerate(PAGES, start=1)
    ),
)
