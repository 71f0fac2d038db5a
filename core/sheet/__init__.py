"""The field sheet: what the operator reads at the mount, as pages of A4 or Letter.

`content` turns a plan and its result into texts and drawings; `render` lays them out.
"""
