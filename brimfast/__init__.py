"""brimfast: weight, earthquake, joint and spill checks for heavy indoor water installations."""

__version__ = "0.1.0"
