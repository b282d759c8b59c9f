"""Layer names by number."""

from __future__ import annotations

from itertools import product

import numpy as np
import pytest

from drills.catalogue.layers import layer_names, layer_numbers, numbers_meant
from drills.theory.layer import name_layer
from drills.theory.layer_pattern import read_layer_pattern


@pytest.mark.parametrize("size", [1, 2, 3, 4])
def test_numbers_stand_for_the_names_that_layers_have(size: int) -> None:
    """One after another or all at once: the same names, and none for four mixed notes."""
    gaps = list(product(range(1, 13), repeat=size - 1))
    numbers = layer_numbers(np.array(gaps, dtype=np.int64).reshape(len(gaps), size - 1))
    for each, number in zip(gaps, numbers.tolist(), strict=True):
        name = name_layer(each)
        assert layer_names()[number] == (None if name.family == "other" else name)


def test_a_pattern_means_the_layers_it_fits() -> None:
    """And never the layer without a name."""
    meant = numbers_meant(read_layer_pattern("open triad"))
    names = [name for name, is_meant in zip(layer_names(), meant.tolist(), strict=True) if is_meant]
    assert {(name.spacing, name.family) for name in names if name} == {("open", "triad")}
    assert not numbers_meant(read_layer_pattern("triad"))[0]
