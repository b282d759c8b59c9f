"""Sounds by name: what a sound is called, and the bytes of many, made ahead while others are written."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from itertools import islice

from drills.cards.card import SoundSpec
from drills.errors import DrillsError
from drills.media.names import file_stem, short_hash
from drills.sound.bank import Bank, check_sounds
from drills.sound.encode import mp3
from drills.sound.fingerprint import sound_fingerprint
from drills.sound.mix import played

MOST_THREADS = 8
_AHEAD_FOR_EACH = 4


class Sounds:
    """Names and plays voicings; its bank has every note of a build once.

    Args:
        seconds: how long each sound is.
        a4_hz: what the strings are tuned to.
    """

    def __init__(self, seconds: float, a4_hz: float = 440.0) -> None:
        self._seconds = seconds
        self._a4_hz = a4_hz
        self._bank = Bank(seconds, a4_hz)

    def name(self, sound: SoundSpec, label: str) -> str:
        """The file name of a sound, without making it.

        Args:
            sound: what is played.
            label: chord, key and grip in plain text.

        Raises:
            DrillsError: one of its notes cannot be sounded.
        """
        self._check(sound, label)
        content = f"{sound_fingerprint()} {self._seconds} {self._a4_hz} {sound!r}"
        return f"{file_stem(label, short_hash(content))}.mp3"

    def _check(self, sound: SoundSpec, label: str) -> None:
        root = () if sound.root_midi is None else (sound.root_midi,)
        try:
            for midi in (*sound.midi, *root):
                check_sounds(midi, self._a4_hz)
        except DrillsError as fault:
            mend = f"{fault.mend}: on = false in [sound]"
            raise DrillsError(fault.what, where=label, mend=mend) from None

    def render(self, sounds: Iterable[SoundSpec]) -> Iterator[bytes]:
        """The MP3 bytes of each, in order; a few are always being made ahead, on all cores."""
        n_threads = min(os.cpu_count() or 1, MOST_THREADS)
        coming = iter(sounds)
        with ThreadPoolExecutor(n_threads) as pool:
            first = islice(coming, n_threads * _AHEAD_FOR_EACH)
            ahead = deque(pool.submit(self._made, each) for each in first)
            while ahead:
                yield ahead.popleft().result()
                ahead.extend(pool.submit(self._made, each) for each in islice(coming, 1))

    def _made(self, sound: SoundSpec) -> bytes:
        return mp3(played(self._bank, sound.midi, self._seconds, sound.root_midi))
