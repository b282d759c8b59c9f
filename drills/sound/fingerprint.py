"""A few digits that stand for how sounds come out."""

from __future__ import annotations

from functools import lru_cache
from hashlib import sha256
from typing import Final

import numpy as np

from drills.sound import encode
from drills.sound.bank import Bank
from drills.sound.mix import played

_SECONDS: Final = 1.5
_REFERENCE: Final = (40, 52, 59, 67, 83)
_N_SLOTS, _N_BANDS = 15, 8
_FLOOR: Final = 1e-6


@lru_cache(maxsize=1)
def sound_fingerprint() -> str:
    """Ten hexadecimal digits that change whenever playing or encoding does.

    They stand for how strong a reference sounds from moment to moment and from low to high, in whole
    decibels: what another machine does to the last digits of a sample makes no other sound.
    """
    samples = played(Bank(_SECONDS), _REFERENCE, _SECONDS, root_midi=_REFERENCE[0])
    slots = samples.reshape(_N_SLOTS, -1)
    powers = np.square(np.abs(np.fft.rfft(slots, norm="forward")))[:, 1:]
    bands = [band.sum(axis=1) for band in np.array_split(powers, _N_BANDS, axis=1)]
    decibels = np.round(10.0 * np.log10(np.stack(bands) + _FLOOR)).astype(np.int16)
    return sha256(f"{encode.FOLLOWING} {encode.STEADY} ".encode() + decibels.tobytes()).hexdigest()[:10]
