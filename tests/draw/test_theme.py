"""The colours can be read and told apart, by published measures.

Sources, from memory and checked by the known values below:
contrast: W3C, Web Content Accessibility Guidelines 2.1, relative luminance and contrast, criterion 1.4.3;
colour blindness: Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation of Color
Vision Deficiency" (2009), matrices for severity 1.0, on linear RGB;
difference: CIE 1976 L*a*b*, white point D65; 2.3 is just noticeable (Mahy and others, 1994).
"""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from drills.draw.theme import DARK, GROUND, INK, INK_RAMP, LAYERS, LIGHT, QUIET, WOOD, Rgb, Theme

THEMES = [pytest.param(LIGHT, id="light"), pytest.param(DARK, id="dark")]
CLEARLY = 10 * 2.3

SIGHT = {
    "normal": ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def linear(colour: Rgb) -> tuple[float, ...]:
    """The light of each channel, 0 to 1."""
    parts = [part / 255 for part in colour]
    return tuple(part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)


def luminance(colour: Rgb) -> float:
    """Relative luminance of WCAG 2.1."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: Rgb, other: Rgb) -> float:
    """Contrast ratio of WCAG 2.1, from 1 to 21."""
    dim, bright = sorted((luminance(one), luminance(other)))
    return (bright + 0.05) / (dim + 0.05)


def lab(light: tuple[float, ...]) -> tuple[float, float, float]:
    """CIE 1976 L*a*b* of linear RGB."""
    red, green, blue = light
    ratios = (
        (0.4124 * red + 0.3576 * green + 0.1805 * blue) / 0.9505,
        0.2126 * red + 0.7152 * green + 0.0722 * blue,
        (0.0193 * red + 0.1192 * green + 0.9505 * blue) / 1.089,
    )
    x, y, z = (r ** (1 / 3) if r > 216 / 24389 else (24389 / 27 * r + 16) / 116 for r in ratios)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def difference(one: Rgb, other: Rgb, sight: str) -> float:
    """How far apart two colours look to a kind of sight."""
    seen = []
    for colour in (one, other):
        light = linear(colour)
        rows = (sum(weight * part for weight, part in zip(row, light, strict=True)) for row in SIGHT[sight])
        seen.append(lab(tuple(min(1.0, max(0.0, part)) for part in rows)))
    return float(sum((a - b) ** 2 for a, b in zip(*seen, strict=True)) ** 0.5)


def test_measures_agree_with_known_values() -> None:
    """Black on white is 21:1, grey 777777 just misses 4.5:1, white is L* 100."""
    assert contrast((0, 0, 0), (255, 255, 255)) == pytest.approx(21)
    assert contrast((0x77, 0x77, 0x77), (255, 255, 255)) == pytest.approx(4.48, abs=0.005)
    assert lab((1.0, 1.0, 1.0)) == pytest.approx((100, 0, 0), abs=0.1)


@pytest.mark.parametrize("sight", SIGHT)
def test_every_sight_leaves_greys_grey(sight: str) -> None:
    """A row of a simulation matrix sums to 1, so a slip in a figure would show."""
    assert [sum(row) for row in SIGHT[sight]] == pytest.approx([1, 1, 1], abs=2e-6)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("layer", range(3))
def test_degrees_stand_out_from_their_marker(theme: Theme, layer: int) -> None:
    """Text on a marker has a contrast of at least 4.5:1."""
    look = LAYERS[layer]
    assert contrast(theme[look.text], theme[look.fill]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("paint", [pytest.param(INK, id="ink"), pytest.param(QUIET, id="quiet ink")])
def test_ink_stands_out_from_the_ground(theme: Theme, paint: int) -> None:
    """Numbers and names, strong or quiet, have a contrast of at least 4.5:1."""
    assert contrast(theme[paint], theme[GROUND]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
def test_ink_ramp_rises_evenly(theme: Theme) -> None:
    """Between ground and ink the edge paints take steps of like size, so edges look smooth."""
    light = [lab(linear(theme[paint]))[0] for paint in (GROUND, *INK_RAMP)]
    steps = [abs(b - a) for a, b in pairwise(light)]
    assert max(steps) < 2 * min(steps)


@pytest.mark.parametrize("sight", SIGHT)
@pytest.mark.parametrize(("one", "other"), list(combinations(range(3), 2)))
def test_layers_look_different_to_every_sight(sight: str, one: int, other: int) -> None:
    """Any two layers differ by ten just noticeable differences, colour-blind or not."""
    assert difference(LIGHT[LAYERS[one].fill], LIGHT[LAYERS[other].fill], sight) > CLEARLY


def test_the_measure_finds_colours_that_run_together() -> None:
    """Blue beside bluish green, a pair known to fail, fails here too."""
    assert difference((0x00, 0x72, 0xB2), (0x00, 0x9E, 0x73), "tritan") < CLEARLY


def test_layers_differ_in_black_and_white() -> None:
    """Without any colour the three layers still have three lightnesses."""
    lower, upper, middle = (lab(linear(LIGHT[look.fill]))[0] for look in LAYERS)
    assert middle - lower > 9
    assert upper - middle > 9


def test_lower_and_upper_layer_have_published_colours() -> None:
    """Blue and orange are those of Okabe and Ito, "Color Universal Design" (2008, from memory)."""
    assert LIGHT[LAYERS[0].fill] == (0, 114, 178)
    assert LIGHT[LAYERS[1].fill] == (230, 159, 0)


def test_layers_keep_their_colours_by_night() -> None:
    """Markers and the text on them look the same in both themes."""
    for look in LAYERS:
        for paint in (look.fill, look.text, look.text_edge):
            assert LIGHT[paint] == DARK[paint]


@pytest.mark.parametrize("theme", THEMES)
def test_every_paint_has_a_colour_of_its_own(theme: Theme) -> None:
    """Sixteen paints, sixteen colours."""
    assert len(set(theme.colours)) == len(theme.colours) == 16


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("layer", range(3))
def test_ribbons_lie_between_wood_and_layer(theme: Theme, layer: int) -> None:
    """A ribbon is a mixture of its layer's colour and the wood."""
    look = LAYERS[layer]
    for wood, ribbon, fill in zip(theme[WOOD], theme[look.ribbon], theme[look.fill], strict=True):
        assert min(wood, fill) <= ribbon <= max(wood, fill)
