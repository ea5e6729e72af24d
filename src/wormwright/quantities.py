"""Text to numbers with units, and back: the only place where units live."""

from typing import Literal

Dimension = Literal[
    "length", "angle", "torque", "force", "temperature", "speed", "mass", "ratio", "count", "none"
]
"""What kind of quantity a number is; core units are mm, rad, N·mm, N, °C, rpm, kg, 1, 1."""
