"""Everything the menus and keys can do, as one table."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Act:
    """One action: its id, menu, words, key and a second key; the main window has what it does."""

    id: str
    menu: str
    words: str
    keys: str = ""
    other_keys: str = ""


PAGES = (
    "Site", "Satellites", "Mount", "Plate", "Stand", "Evening", "Keyway", "Setup", "Sheet", "Run",
)  # fmt: skip

ACTS: tuple[Act, ...] = (
    Act("open", "&Plan", "&Open plan...", "Ctrl+O"),
    Act("import_elements", "&Plan", "&Import elements...", "Ctrl+I"),
    Act("save", "&Plan", "&Save", "Ctrl+S"),
    Act("save_as", "&Plan", "Save &as...", "Ctrl+Shift+S"),
    Act("print", "&Plan", "&Print the sheet...", "Ctrl+P"),
    Act("new", "&Plan", "&New plan", "Ctrl+N"),
    Act("demo", "&Plan", "&Demo plan"),
    Act("quit", "&Plan", "&Quit", "Ctrl+Q"),
    Act("undo", "&Edit", "&Undo", "Ctrl+Z"),
    Act("redo", "&Edit", "&Redo", "Ctrl+Shift+Z", "Ctrl+Y"),
    Act("find", "&Edit", "&Find a satellite", "Ctrl+F"),
    Act("cancel", "&Edit", "&Cancel what is being computed", "Ctrl+."),
    Act("from_now", "&Edit", "Re-plan from &now...", "Ctrl+R"),
    Act("compute", "&Edit", "&Work it out again", "F5"),
    Act("errors", "&Edit", "Recent &errors..."),
    Act("scheme_light", "&Look", "&Light", "Ctrl+Alt+1"),
    Act("scheme_dark", "&Look", "&Dark", "Ctrl+Alt+2"),
    Act("scheme_dusk", "&Look", "D&usk", "Ctrl+Alt+3"),
    *(
        Act(f"page_{title.lower()}", "Pa&ges", title, f"Ctrl+{number % 10}")
        for number, title in enumerate(PAGES, start=1)
    ),
    Act("keys", "Help", "&Keys...", "F1"),
)

#: Keys that pages and fields take themselves: where, which and what for.
PAGE_KEYS: tuple[tuple[str, str, str], ...] = (
    ("Everywhere", "Tab, Shift+Tab", "to the next field or part, and back"),
    ("Everywhere", "Alt+letter", "to what has the letter underlined"),
    ("Fields", "Enter", "take what was typed"),
    ("Fields", "Esc", "show the plan's value again"),
    ("Fields", "Delete all, Enter", "back to the default, where a number has one"),
    ("Tables", "Space", "pick or want the row"),
    ("Tables", "F2", "type into the cell"),
    ("Site, the horizon", "Page Up, Page Down", "choose a point"),
    ("Site, the horizon", "arrows", "move it by a degree, with Shift by 0.1"),
    ("Site, the horizon", "Insert, Delete", "add a point, remove it"),
    ("Site, Compare fields", "Delete", "remove the field chosen"),
    ("Satellites", "Delete", "remove the rows selected"),
    ("Evening", "Up, Down", "choose the pass before, the next one"),
    ("Evening", "Left, Right", "point 10 s earlier or later, with Shift 60 s, with Ctrl 1 s"),
    ("Evening", "Space", "pick the pass, or unpick it"),
    ("Evening", "Enter, Esc", "open the pass, close it"),
    ("Evening", "+, -, Home", "show fewer hours, more, all"),
    ("Keyway", "arrows", "turn it by a degree, with Shift by 0.1"),
    ("Keyway", "Page Up, Page Down", "turn it by 10 degrees"),
    ("Keyway", "Enter", "turn it to the best"),
    ("Sheet", "Home, End", "the top of the page, its foot"),
)
