"""The field sheet: what the operator reads at the mount, as pages of A4 or Letter.

`sheet_content` turns a plan and its result into texts and drawings; `sheet_pdf` and `sheet_png` lay them out.
"""

from core.sheet.content import sheet_content
from core.sheet.nouns import SheetContent
from core.sheet.render import Paper, sheet_pdf, sheet_png

__all__ = ["Paper", "SheetContent", "sheet_content", "sheet_pdf", "sheet_png"]
