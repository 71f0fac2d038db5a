"""The part's drawings as data: the same items are drawn on screen, as SVG and as PDF."""
