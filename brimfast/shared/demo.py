"""The built-in installations: invented, each in a file that `check` would read."""

from __future__ import annotations

from importlib.resources import files

from brimfast.shared.reading import Source, read_bytes

DEMOS = {
    "nursery": "a timber rack with two beds, tank, sump, pumps and a floor drain",
    "porch": "two weighed bodies, about ten numbers",
    "rented-room": "an upper-floor rented room with two glass tanks",
}


def demo_bytes(name: str) -> bytes:
    return files("brimfast.shared").joinpath("demos", f"{name.replace('-', '_')}.yaml").read_bytes()


def demo(name: str) -> Source:
    return read_bytes(demo_bytes(name), f"{name}.yaml")
