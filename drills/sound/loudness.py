"""How loud sounds are to the ear.

Conventions: loudness is in LUFS, below 0; 0.0 dB full scale is an amplitude of 1.
Source: Recommendation ITU-R BS.1770, which EBU R 128 builds on: two filters, blocks of 0.4 s that overlap by
three quarters, and blocks 10 LU below the others left out. The coefficients, for 48,000 samples a second, are
from memory (`tests/sound/test_loudness.py` holds them to the 0.691 dB at 997 Hz that the recommendation takes
off again).
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

BLOCK_S: Final = 0.4
_HOP_S: Final = 0.1
_OFFSET_LU: Final = -0.691
_GATE_LU: Final = -10.0
_RATE_HZ: Final = 48_000
_FILTERS: Final = (  # numerator and denominator: the head's shelf, then the low cut
    ((1.53512485958697, -2.69169618940638, 1.19839281085285), (1.0, -1.69065929318241, 0.73248077421585)),
    ((1.0, -2.0, 1.0), (1.0, -1.99004745483398, 0.99007225036621)),
)


def gain(frequency_hz: NDArray[np.floating]) -> NDArray[np.float64]:
    """How much stronger or weaker the ear takes each frequency, as a factor of amplitude."""
    later = np.exp(-2j * np.pi * frequency_hz / _RATE_HZ)
    stages = [np.polyval(above[::-1], later) / np.polyval(below[::-1], later) for above, below in _FILTERS]
    factor: NDArray[np.float64] = np.abs(np.prod(stages, axis=0))
    return factor


def heard(samples: NDArray[np.float64], rate_hz: int) -> NDArray[np.float64]:
    """The samples as the ear weighs them; the power of these is how loud they are."""
    return np.fft.irfft(np.fft.rfft(samples) * _gains(len(samples), rate_hz), len(samples))


def loudness_lufs(weighed: NDArray[np.floating], rate_hz: int) -> float:
    """The integrated loudness of what `heard` gives, 0.4 s of it at least, with something to hear in it."""
    hop = round(_HOP_S * rate_hz)
    n_hops = len(weighed) // hop
    powers = np.mean(np.square(weighed[: n_hops * hop]).reshape(n_hops, hop), axis=1)
    blocks = np.lib.stride_tricks.sliding_window_view(powers, round(BLOCK_S / _HOP_S)).mean(axis=1)
    gate = blocks.mean() * 10.0 ** (_GATE_LU / 10.0)
    return _OFFSET_LU + 10.0 * math.log10(blocks[blocks > gate].mean())


@lru_cache(maxsize=4)
def _gains(n_samples: int, rate_hz: int) -> NDArray[np.float64]:
    return gain(np.fft.rfftfreq(n_samples, 1.0 / rate_hz))
