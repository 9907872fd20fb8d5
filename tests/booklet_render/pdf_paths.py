"""The shapes a PDF draws, in its own points: a small walk through the content streams."""

from __future__ import annotations

import io
from typing import Any

import pikepdf

Matrix = tuple[float, float, float, float, float, float]
Point = tuple[float, float]
Shape = list[Point]


def pages_of(pdf: bytes) -> list[list[Shape]]:
    """For each page, every drawn path as its corners, in points from the lower left."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        made = []
        for page in document.pages:
            shapes: list[Shape] = []
            _walk(page.obj, page.obj.get("/Resources"), (1, 0, 0, 1, 0, 0), shapes)
            made.append(shapes)
        return made


def squares(shapes: list[Shape]) -> list[float]:
    """The sides of all shapes that are upright squares."""
    found = []
    for shape in shapes:
        xs, ys = [round(x, 3) for x, _ in shape], [round(y, 3) for _, y in shape]
        wide, high = max(xs) - min(xs), max(ys) - min(ys)
        if len(set(xs)) == 2 and len(set(ys)) == 2 and abs(wide - high) < 0.01:
            found.append(max(x for x, _ in shape) - min(x for x, _ in shape))
    return found


def _times(a: Matrix, b: Matrix) -> Matrix:
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _walk(stream: Any, resources: Any, matrix: Matrix, shapes: list[Shape]) -> None:
    stack: list[Matrix] = []
    path: Shape = []

    def at(x: Any, y: Any) -> Point:
        x, y = float(x), float(y)
        return (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])

    for instruction in pikepdf.parse_content_stream(stream):
        operands: Any = instruction.operands
        name = str(instruction.operator)
        if name == "q":
            stack.append(matrix)
        elif name == "Q":
            matrix = stack.pop()
        elif name == "cm":
            matrix = _times(tuple(float(o) for o in operands), matrix)  # type: ignore[arg-type]
        elif name == "m":
            path = [at(*operands)]
        elif name in ("l", "c", "v", "y"):
            path.append(at(*operands[-2:]))
        elif name == "re":
            x, y, w, h = (float(o) for o in operands)
            path = [at(x, y), at(x + w, y), at(x + w, y + h), at(x, y + h)]
        elif name in ("S", "s", "f", "f*", "B", "B*", "b", "b*"):
            shapes.append(path)
            path = []
        elif name == "n":
            path = []
        elif name == "Do":
            form = resources["/XObject"][str(operands[0])]
            if form.get("/Subtype") == "/Form":
                own = tuple(float(v) for v in form.get("/Matrix", (1, 0, 0, 1, 0, 0)))
                _walk(form, form.get("/Resources", resources), _times(own, matrix), shapes)  # type: ignore[arg-type]
