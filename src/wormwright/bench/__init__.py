"""What the live readings say, kind by kind: pooled figures with their doubt, and the pair."""

from wormwright.bench.figures import PITCH_NOISE, TO_AND_FRO, Bench, Figure, named_instrument, noise
from wormwright.bench.pair import pair_doubts, pair_in_hand

__all__ = [
    "PITCH_NOISE",
    "TO_AND_FRO",
    "Bench",
    "Figure",
    "named_instrument",
    "noise",
    "pair_doubts",
    "pair_in_hand",
]
