"""A printed line, worked out again from the inputs printed with it; in both systems of units: tests/reports/test_steps.py."""

import math

NAMES = {name: getattr(math, name) for name in ("sqrt", "sin", "cos", "pi", "floor")} | {
    "min": min,
    "max": max,
    "ln": math.log,
}


def again(line):
    """In the units as they stand."""
    return eval(line.expression, NAMES | {name: number.value for name, number in line.inputs.items()})
