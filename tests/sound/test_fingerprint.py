"""The fingerprint: steady, and another one whenever sounds come out otherwise."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from drills.sound import encode, mix, string
from drills.sound.fingerprint import sound_fingerprint


def forget() -> None:
    """Nothing is remembered of how sounds came out before."""
    for cache in (sound_fingerprint, string._circle, mix._falling):
        cache.cache_clear()


def test_it_is_the_same_every_time() -> None:
    """Worked out twice."""
    first = sound_fingerprint()
    forget()
    assert sound_fingerprint() == first
    assert len(first) == 10


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda patch: patch.setattr(string, "_PICK_AT", 0.3), id="another-place-to-pick"),
        pytest.param(lambda patch: patch.setattr(string, "_BODY", string._BODY[:1]), id="another-body"),
        pytest.param(lambda patch: patch.setattr(string, "_BRIGHT_RING_S", 0.4), id="duller"),
        pytest.param(lambda patch: patch.setattr(mix, "_CHORD_WEIGHT", 2.0), id="a-louder-chord"),
        pytest.param(lambda patch: patch.setattr(mix, "LOUDNESS_LUFS", -24.0), id="softer"),
        pytest.param(lambda patch: patch.setattr(encode, "FOLLOWING", ("VARIABLE", 0.8)), id="finer"),
    ],
)
def test_another_sound_is_another_fingerprint(
    monkeypatch: pytest.MonkeyPatch, change: Callable[[pytest.MonkeyPatch], None]
) -> None:
    """Whatever is changed in plucking, mixing or encoding."""
    before = sound_fingerprint()
    forget()
    change(monkeypatch)
    assert sound_fingerprint() != before
    monkeypatch.undo()
    forget()
    assert sound_fingerprint() == before
