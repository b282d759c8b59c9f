"""One plucked string, as samples.

Conventions: frequencies in hertz, samples as float64 around 0, 22,050 a second; a note starts at its first
sample.

The string is the loop of Karplus and Strong (1983): what a delay of one period gives goes through a gentle
lowpass and into the delay again. Three things are added. A Lagrange filter of fifth order bends the delay
between samples, so that the phase of the whole loop is right at the string's frequency; a whole number of
samples would be up to 24 cents off. The pick excites the string at a point along its length, which takes out
every harmonic with a node there (Jaffe and Smith 1983). And three broad resonances stand for the body.

All of this is linear, so the samples are not made one after the other: the spectrum of the whole note is
written down and turned into sound at once, on a circle outside the unit one, where a note that has not died
away at the end does not come round to its beginning.

Sources: K. Karplus and A. Strong, "Digital Synthesis of Plucked-String and Drum Timbres", and D. Jaffe and
J. Smith, "Extensions of the Karplus-Strong Plucked-String Algorithm", both in Computer Music Journal 7:2
(1983); T. Laakso et al., "Splitting the Unit Delay", IEEE Signal Processing Magazine 13:1 (1996). All from
memory, as are the resonances and the times of decay, which are of the order measured on guitars.
"""

from __future__ import annotations

import cmath
import math
from functools import lru_cache
from typing import Final, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Samples: TypeAlias = NDArray[np.float64]
Spectrum: TypeAlias = NDArray[np.complex128]
_T = TypeVar("_T", complex, Spectrum)

SAMPLE_RATE_HZ: Final = 22_050
LOWEST_HZ, HIGHEST_HZ = 20.0, 3_000.0
"""Below, no ear hears a note; above, a loop is too short to be bent into shape."""

_TAPS: Final = 6
_PICK_AT: Final = 0.14  # of the string's length, from the bridge
_BRIGHT_HZ: Final = 3_000.0
_BRIGHT_RING_S: Final = 0.9
_BODY: Final = ((105.0, 9.0, 0.9), (210.0, 12.0, 0.9), (395.0, 10.0, 0.5))
"""The air in the body, its top, and one more resonance: hertz, sharpness, height above the string's own 1."""

_SMEAR: Final = (0.7, 8)
"""Of a row of allpasses: the highs come up to 2 ms before the lows, as from wood, and peaks stay lower."""

_OUTSIDE: Final = 1e6  # how much the circle shrinks what comes round: 120 dB


def frequency_hz(midi: int, a4_hz: float = 440.0) -> float:
    """What a MIDI note sounds in equal temperament, A4 being note 69.

    Source: ISO 16 for 440 Hz.

    >>> frequency_hz(69), round(frequency_hz(40), 2)
    (440.0, 82.41)
    """
    return a4_hz * math.pow(2.0, (midi - 69) / 12)


def ring_s(string_hz: float) -> float:
    """The seconds in which a note dies away by 60 dB: low strings ring longer.

    >>> round(ring_s(82.4), 1), round(ring_s(1318.5), 1)
    (7.5, 1.9)
    """
    return 6.5 * math.sqrt(110.0 / string_hz)


def pluck(string_hz: float, n_samples: int) -> Samples:
    """A string plucked once, ringing for `n_samples`; its loudness is as it comes.

    Args:
        string_hz: from `LOWEST_HZ` to `HIGHEST_HZ`.
        n_samples: at least 1.
    """
    circle = _circle(n_samples)
    period = SAMPLE_RATE_HZ / string_hz
    pick = 1.0 - circle.delayed(round(_PICK_AT * period))
    excitation = pick * _lowpass(circle.one_later, _touch_hz(string_hz)) * circle.body
    return circle.sound(excitation / (1.0 - _loop(circle, string_hz)))[:n_samples]


def _touch_hz(string_hz: float) -> float:
    """Where the softness of the pick begins to take the highs away."""
    return 1_100.0 * math.pow(string_hz / 200.0, 0.35)


def _lowpass(one_later: Spectrum, corner_hz: float) -> Spectrum:
    """Two one-pole lowpasses in a row."""
    pole = math.exp(-2.0 * math.pi * corner_hz / SAMPLE_RATE_HZ)
    response: Spectrum = np.square((1.0 - pole) / (1.0 - pole * one_later))
    return response


def _loop(circle: _Circle, string_hz: float) -> Spectrum:
    """What one round does to the string: at its own frequency, a delay of one period and some loss."""
    turn = cmath.exp(-2j * math.pi * string_hz / SAMPLE_RATE_HZ)
    keep, share = _damping(string_hz)
    average = (1.0 - share, share)
    period = SAMPLE_RATE_HZ / string_hz
    needed = period - _delay(average, turn)
    whole = int(needed) - _TAPS // 2 + 1
    bend = _lagrange(needed - whole, turn)
    loss = keep / abs(_at(bend, turn) * _at(average, turn))
    taps = tuple(loss * tap for tap in np.convolve(bend, average).tolist())
    return circle.delayed(whole) * _at(taps, circle.one_later)


def _damping(string_hz: float) -> tuple[float, float]:
    """How much of the string's own frequency a round keeps, and the share of the older sample in the average.

    The average is bent so that what lies at 3 kHz dies away in less than a second on every string; the plain
    one of 1983, half and half, would leave low strings bright and make high ones dull.
    """
    own_s = ring_s(string_hz)
    bright_hz = max(_BRIGHT_HZ, 2.0 * string_hz)
    keep, keep_bright = (
        math.pow(10.0, -3.0 / (string_hz * seconds)) for seconds in (own_s, min(_BRIGHT_RING_S, own_s))
    )
    loss = 1.0 - (keep_bright / keep) ** 2
    product = min(loss / (4.0 * math.sin(math.pi * bright_hz / SAMPLE_RATE_HZ) ** 2), 0.25)
    return keep, (1.0 - math.sqrt(1.0 - 4.0 * product)) / 2.0


def _lagrange(delay: float, turn: complex) -> tuple[float, ...]:
    """The taps whose phase at a frequency is that of a delay of so many samples, from 2 to 3."""
    asked = delay
    for _ in range(8):  # each round leaves a small part of what was missing
        taps = _taps(asked)
        asked += delay - _delay(taps, turn)
    return _taps(asked)


def _taps(delay: float) -> tuple[float, ...]:
    return tuple(
        math.prod((delay - other) / (tap - other) for other in range(_TAPS) if other != tap)
        for tap in range(_TAPS)
    )


def _delay(taps: tuple[float, ...], turn: complex) -> float:
    """The samples by which a filter delays a frequency."""
    return cmath.phase(_at(taps, turn)) / cmath.phase(turn)


def _at(taps: tuple[float, ...], later: _T) -> _T:
    """A filter's response, `later` being that of a delay of one sample."""
    response = later * 0.0
    for tap in reversed(taps):
        response = response * later + tap
    return response


class _Circle:
    """The points at which spectra are written down, and what is the same for all strings there."""

    def __init__(self, n_samples: int) -> None:
        self._n = n_samples + n_samples % 2
        self._places = np.arange(self._n // 2 + 1)
        self._turns = np.exp(-2j * np.pi / self._n * np.arange(self._n))
        self._growth = math.log(_OUTSIDE) / self._n
        self._back = np.exp(self._growth * np.arange(self._n))
        self.one_later = self.delayed(1)
        self.body = _body(self.one_later)

    def delayed(self, samples: int) -> Spectrum:
        """A delay of so many samples."""
        turned: Spectrum = self._turns[self._places * samples % self._n]
        return turned * math.exp(-self._growth * samples)

    def sound(self, spectrum: Spectrum) -> Samples:
        """The samples of a spectrum."""
        sound: Samples = np.fft.irfft(spectrum, self._n) * self._back
        return sound


def _body(one_later: Spectrum) -> Spectrum:
    """What the wood makes of the string."""
    late, n_stages = _SMEAR
    smear: Spectrum = ((one_later - late) / (1.0 - late * one_later)) ** n_stages
    return smear * sum((_resonance(one_later, *each) for each in _BODY), np.complex128(1.0))


def _resonance(one_later: Spectrum, centre_hz: float, sharpness: float, height: float) -> Spectrum:
    """A resonance with two poles, and zeros at both ends of the range."""
    angle = 2.0 * math.pi * centre_hz / SAMPLE_RATE_HZ
    radius = math.exp(-angle / (2.0 * sharpness))
    two_later = np.square(one_later)
    peak = height * (1.0 - radius**2) / 2.0
    return (
        peak * (1.0 - two_later) / (1.0 - 2.0 * radius * math.cos(angle) * one_later + radius**2 * two_later)
    )


@lru_cache(maxsize=2)
def _circle(n_samples: int) -> _Circle:
    return _Circle(n_samples)
