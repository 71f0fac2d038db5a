"""Whether what is drawn stays in its box."""


def inside_its_box(drawing):
    for item in drawing.items:
        if item.kind == "stroke":
            points = item.points_mm
        elif item.kind == "disc":
            points = [
                (item.x_mm + a * item.radius_mm, item.y_mm + b * item.radius_mm)
                for a, b in ((1, 0), (-1, 0), (0, 1), (0, -1))
            ]
        else:
            # Inter's widest run of figures and small letters takes 0.66 em a letter.
            width = 0.66 * item.size_pt * 0.3528 * len(item.text)
            left = item.x_mm - {"left": 0.0, "center": 0.5, "right": 1.0}[item.anchor] * width
            points = [(left, item.y_mm - 1.6), (left + width, item.y_mm + 1.6)]
        for x, y in points:
            assert -0.5 <= x <= drawing.width_mm + 0.5, item
            assert -0.5 <= y <= drawing.height_mm + 0.5, item
