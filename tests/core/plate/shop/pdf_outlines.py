"""Outlines of a PDF page, in points from the lower left corner."""

from __future__ import annotations


def _times(a, b):
    return (
        a[0] * b[0] + a[1] * b[2], a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2], a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4], a[4] * b[1] + a[5] * b[3] + b[5],
    )  # fmt: skip


def circles_of(page) -> list[tuple[float, float, float]]:
    """Centre and radius of each closed outline of four curves, as they lie on the page."""
    found = []
    for _, points, curves in _outlines_of(page):
        if curves == 4:
            xs, ys = zip(*points, strict=True)
            found.append(((min(xs) + max(xs)) / 2.0, (min(ys) + max(ys)) / 2.0, (max(xs) - min(xs)) / 2.0))
    return found


def filled_boxes_of(page) -> list[tuple[float, float, float, float]]:
    """Left, lower, right and upper end of what is filled."""
    found = []
    for operator, points, _ in _outlines_of(page):
        if operator in (b"f", b"f*"):
            xs, ys = zip(*points, strict=True)
            found.append((min(xs), min(ys), max(xs), max(ys)))
    return found


def _outlines_of(page):
    """How each is painted, its points as they lie on the page, how many curves; -99 and less with lines."""
    matrix, kept, path, curves = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], [], 0
    for operands, operator in page.get_contents().operations:
        numbers = [float(one) for one in operands] if operator in (b"cm", b"m", b"l", b"c", b"re") else []
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = _times(numbers, matrix)
        elif operator == b"re":
            x, y, width, height = numbers
            path, curves = [(x, y), (x + width, y + height)], -99
        elif operator in (b"m", b"l"):
            path, curves = ([], 0) if operator == b"m" else (path, -99)
            path.append(numbers)
        elif operator == b"c":
            path.append(numbers[4:])
            curves += 1
        elif operator in (b"S", b"s", b"f", b"f*", b"B", b"b", b"n") and path:
            yield operator, [_on_page(point, matrix) for point in path], curves
            path, curves = [], 0


def _on_page(point, matrix):
    x, y = point
    return matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5]
