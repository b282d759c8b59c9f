"""File names: readable, safe on every system, apart where contents differ."""

from __future__ import annotations

import re

import pytest

from drills.media.names import file_stem, short_hash


@pytest.mark.parametrize(
    ("label", "stem"),
    [
        ("Eb13#11 x-4-5-5-6-5", "Eb13sharp11_x-4-5-5-6-5_0f"),
        ("E♭ alone", "Eb_alone_0f"),
        ("C6/9 8-7-7-7-x-x", "C6-9_8-7-7-7-x-x_0f"),
        ("../../etc [sound:x]", "..-..-etc_sound_x_0f"),
        ("第三", "_0f"),
    ],
)
def test_a_name_can_be_read(label: str, stem: str) -> None:
    """Signs become words, whatever else a system may stumble over becomes a line."""
    assert file_stem(label, "0f") == stem


def test_a_long_label_is_cut_and_the_hash_stays() -> None:
    """What sets files apart comes last."""
    assert file_stem("C" * 500, short_hash("a")) == f"{'C' * 80}_{short_hash('a')}"


def test_hashes_are_short_and_apart() -> None:
    """Ten hexadecimal digits."""
    hashes = {short_hash(str(number)) for number in range(1000)}
    assert len(hashes) == 1000
    assert all(re.fullmatch(r"[0-9a-f]{10}", each) for each in hashes)
