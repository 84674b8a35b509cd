"""What can be bought: sizes of bolts, boards and pipes by system of units, and lengths as a file writes them."""

from __future__ import annotations

import math

from brimfast.shared.constants import FOOT, INCH
from brimfast.shared.units import System, feet_and_inches

# Common practice, no source: what hardware shops have on the shelf.
_BOLTS = {
    "us": ((3 / 8 * INCH, "3/8 in"), (1 / 2 * INCH, "1/2 in"), (5 / 8 * INCH, "5/8 in")),
    "si": ((0.010, "10 mm"), (0.012, "12 mm"), (0.016, "16 mm")),
}
_ITEMS = ("through-bolt 3/8", "through-bolt 1/2", "through-bolt 5/8")
_LENGTHS = {
    "us": [inches * INCH for inches in (1.5, 2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 7, 8, 10, 12, 14, 16)],
    "si": [mm / 1000 for mm in (*range(40, 70, 5), *range(70, 160, 10), *range(160, 420, 20))],
}
# Of a hexagon bolt, its nut, two washers and two threads: computed from their standard thicknesses.
_BEYOND_GRIP = {"us": (0.625 * INCH, 0.875 * INCH, 1.0 * INCH), "si": (0.018, 0.022, 0.028)}
_OVERSIZE = {"us": (1 / 32 * INCH, 1 / 16 * INCH), "si": (0.0008, 0.0015)}  # NDS section 12.1.3.2
SCREWS = {"us": "1/4 in x 3 in", "si": "6 mm x 80 mm"}  # through a board into the timber behind it
LONGEST_TIMBER = 6.1  # m: 20 ft, the longest that is on the shelf
CURBS = {"us": (2 * INCH, 4 * INCH, 6 * INCH), "si": (0.05, 0.10, 0.15)}  # heights, of rims of pans as well
SHEET = (2.44, 1.22)  # m: of plywood; 4 ft x 8 ft
BORES = {"us": [inches * INCH for inches in (0.5, 0.75, 1, 1.25, 1.5, 2, 3, 4)], "si": [0.020, 0.025, 0.032, 0.040, 0.050, 0.075, 0.110]}  # fmt: skip


class Bolt:
    """One of three sizes (0 to 2) in the units of the file."""

    def __init__(self, size: int, system: System) -> None:
        self.size, self.system = size, system
        self.diameter, self.text = _BOLTS[system][size]
        self.item = _ITEMS[size]

    def length(self, grip: float) -> float | None:
        """The shortest on the shelf for a grip (m): grip, washers, nut; None where there is none so long."""
        least = grip + _BEYOND_GRIP[self.system][self.size]
        return next((length for length in _LENGTHS[self.system] if length >= least - 1e-6), None)

    def hole(self) -> str:
        """The hole that the standard lets be drilled for it."""
        return bolt_hole(self.diameter, self.system)


def bolt_hole(diameter: float, system: System) -> str:
    """The hole that NDS section 12.1.3.2 lets be drilled for a bolt."""
    low, high = (written(diameter + more, system, 64, 0.1) for more in _OVERSIZE[system])
    return f"{low} to {high}"


def lag_hole(diameter: float, system: System) -> str:
    """A lead hole for the thread of a lag screw: 0.55 of its thickness, within the 0.40 to 0.70 of NDS 12.1.4.3 (G ≤ 0.5)."""
    return written(0.55 * diameter, system, 64, 0.1)


def written(value: float, system: System, parts: int = 4, mm: float = 1.0, up: bool = False) -> str:
    """A length as a file may write it, to a fraction of an inch or so many millimetres; up: never less."""
    unit, name = (INCH / parts, "in") if system == "us" else (mm / 1000, "mm")
    steps = math.ceil(value / unit - 1e-6) if up else round(value / unit)
    if system == "us":
        return _inches(steps, parts)
    return f"{round(steps * mm, 3):g} {name}"


def _inches(steps: int, parts: int) -> str:
    whole, rest = divmod(steps, parts)
    if not rest:
        return f"{whole} in"
    shared = math.gcd(rest, parts)
    fraction = f"{rest // shared}/{parts // shared} in"
    return f"{whole} {fraction}" if whole else fraction


def long(value: float, system: System) -> str:
    """A length to cut or buy, never less: '8 ft 4 1/4 in', '2.55 m'."""
    if system == "us":
        return feet_and_inches(math.ceil(value / INCH * 4 - 1e-6) / 4 * INCH)
    return f"{math.ceil(value * 100 - 1e-6) / 100:g} m"


def rounded(value: float, system: System, up: bool = False) -> float:
    """To a half inch or 10 mm (m)."""
    unit = 0.5 * INCH if system == "us" else 0.010
    return (math.ceil(value / unit - 1e-6) if up else round(value / unit)) * unit


def wider(bore: float, system: System) -> float | None:
    """The next pipe on the shelf."""
    return next((one for one in BORES[system] if one > bore * 1.02), None)


def feet(length: float) -> float:
    return length / FOOT
