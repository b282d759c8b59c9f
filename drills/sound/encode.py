"""Samples as MP3, which every phone plays."""

from __future__ import annotations

import io
from typing import Final

import numpy as np
from numpy.typing import NDArray

from drills.sound.string import SAMPLE_RATE_HZ

MOST_BYTES_A_SECOND: Final = 4_096

FOLLOWING: Final = ("VARIABLE", 0.97)
"""Bits where the sound needs them, for most sounds; the number goes from 0, fine, to 1, coarse."""
STEADY: Final = ("AVERAGE", 0.9)
"""About 25 kbit a second, for the few sounds of very low notes that would need more than is allowed."""


def mp3(samples: NDArray[np.float32]) -> bytes:
    """One channel of samples between -1 and 1, at 22,050 a second, as an MP3 file.

    Its first frame tells players how many samples the encoder put before and after, so that they leave them
    out. Other threads run meanwhile.
    """
    data = _encoded(samples, *FOLLOWING)
    if len(data) * SAMPLE_RATE_HZ > MOST_BYTES_A_SECOND * len(samples):
        return _encoded(samples, *STEADY)
    return data


def _encoded(samples: NDArray[np.float32], bitrate_mode: str, coarseness: float) -> bytes:
    import soundfile

    file = io.BytesIO()
    soundfile.write(
        file,
        samples,
        SAMPLE_RATE_HZ,
        format="MP3",
        subtype="MPEG_LAYER_III",
        compression_level=coarseness,
        bitrate_mode=bitrate_mode,
    )
    return file.getvalue()
