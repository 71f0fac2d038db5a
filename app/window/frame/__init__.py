"""The window's frame: menus, head and foot strip, rail, shelf of pages, files and errors."""
