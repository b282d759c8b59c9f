"""Neck pictures: exact colours, every form, every window, both hands, both themes."""

from __future__ import annotations

import io
import zlib
from collections.abc import Callable
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageOps

from drills.cards.card import Marker, PictureSpec
from drills.draw import neck
from drills.draw.layout import Layout
from drills.draw.neck import look_fingerprint, render, render_pair
from drills.draw.theme import DARK, GROUND, INK, LAYERS, LIGHT, QUIET, WOOD, Rgb
from drills.errors import DrillsError

SIX = ("E", "A", "D", "G", "B", "E")
NAMES = {6: SIX, 7: ("B", *SIX), 8: ("F♯", "B", *SIX)}
THEMES = [pytest.param(False, id="light"), pytest.param(True, id="dark")]
HANDS = [pytest.param(False, id="right"), pytest.param(True, id="left")]
WINDOWS = [(1, 4), (1, 5), (1, 12), (3, 7), (5, 16), (10, 14), (13, 24), (20, 24), (24, 24), (1, 24)]

GRIP = PictureSpec(
    SIX,
    (
        Marker(1, 4, 0, "♭7"),
        Marker(2, 5, 0, "3"),
        Marker(3, 5, 1, "13"),
        Marker(4, 6, 1, "9"),
        Marker(5, 5, 1, "♯11"),
    ),
    3,
    7,
    muted=(0,),
)
OPEN = PictureSpec(
    SIX,
    (Marker(0, 0, 0, "1", is_root=True), Marker(1, 2, 0, "5"), Marker(2, 5, 0, "♭3"), Marker(5, 0, 1, "1")),
    1,
    5,
)


def layout_of(spec: PictureSpec) -> Layout:
    """Where things are in a picture."""
    return Layout(len(spec.string_names), spec.first_fret, spec.last_fret, spec.is_left_handed)


def shown(spec: PictureSpec, *, dark: bool = False) -> Image.Image:
    """The picture as another program sees it, in RGB."""
    with Image.open(io.BytesIO(render(spec, dark=dark))) as picture:
        return picture.convert("RGB")


def colour(picture: Image.Image, x: int, y: int) -> Rgb:
    """The colour of a pixel."""
    value = picture.getpixel((x, y))
    assert isinstance(value, tuple)
    red, green, blue = value
    return int(red), int(green), int(blue)


def colours(picture: Image.Image, box: tuple[int, int, int, int]) -> set[Rgb]:
    """All colours within a box."""
    part = picture.crop(box).tobytes()
    return {(part[at], part[at + 1], part[at + 2]) for at in range(0, len(part), 3)}


def place(spec: PictureSpec, marker: Marker) -> tuple[int, int]:
    """The middle of a marker."""
    layout = layout_of(spec)
    return layout.fret_x(marker.fret), layout.string_y(marker.string)


@pytest.mark.parametrize(
    ("strings", "is_left_handed"),
    [
        pytest.param(6, False, id="six right"),
        pytest.param(6, True, id="six left"),
        pytest.param(7, False, id="seven right"),
        pytest.param(8, True, id="eight left"),
    ],
)
@pytest.mark.parametrize(("first", "last"), WINDOWS)
def test_marker_middles_have_the_exact_layer_colour(
    first: int, last: int, strings: int, is_left_handed: bool
) -> None:
    """In any window, on any instrument: a marker without text shows its layer's own colour in the middle."""
    frets = (0, first, (first + last) // 2, last, last, first)
    markers = tuple(
        Marker(string, fret, string % 3, is_root=string == 0) for string, fret in enumerate(frets)
    )
    spec = PictureSpec(NAMES[strings], markers, first, last, is_left_handed=is_left_handed)
    for dark, theme in ((False, LIGHT), (True, DARK)):
        picture = shown(spec, dark=dark)
        assert picture.size == (1080, 480 + 70 * (strings - 6))
        for marker in markers:
            assert colour(picture, *place(spec, marker)) == theme[LAYERS[marker.layer].fill]


@pytest.mark.parametrize("dark", THEMES)
@pytest.mark.parametrize("text", ["", "1", "♭13"])
@pytest.mark.parametrize("layer", range(3))
def test_markers_bear_no_foreign_colour(layer: int, text: str, dark: bool) -> None:
    """Within a marker there are its layer's colours, those of its text, and no others."""
    theme, look = DARK if dark else LIGHT, LAYERS[layer]
    spec = PictureSpec(SIX, (Marker(2, 5, layer, text),), 3, 7)
    x, y = place(spec, spec.markers[0])
    seen = colours(shown(spec, dark=dark), (x - 18, y - 16, x + 18, y + 14))
    allowed = {theme[look.fill]} | ({theme[look.text], theme[look.text_edge]} if text else set())
    assert seen == allowed


@pytest.mark.parametrize("dark", THEMES)
@pytest.mark.parametrize("layer", range(3))
def test_roots_are_ringed(layer: int, dark: bool) -> None:
    """Straight above its middle a root meets ink and then the wood; other notes meet no ink."""
    theme = DARK if dark else LIGHT
    for is_root in (True, False):
        spec = PictureSpec(SIX, (Marker(2, 5, layer, is_root=is_root),), 3, 7)
        x, y = place(spec, spec.markers[0])
        picture = shown(spec, dark=dark)
        column = [colour(picture, x, y - up) for up in range(45)]
        assert (theme[INK] in column) is is_root
        assert column[-1] == theme[WOOD]


@pytest.mark.parametrize("dark", THEMES)
def test_the_asked_marker_is_empty(dark: bool) -> None:
    """It shows the ground within, ink for its question mark, and no degree whatever the card says."""
    asked = PictureSpec(SIX, (Marker(2, 5, 0, "♯11", is_root=True, is_asked=True),), 3, 7)
    theme = DARK if dark else LIGHT
    x, y = place(asked, asked.markers[0])
    assert {theme[GROUND], theme[INK]} <= colours(shown(asked, dark=dark), (x - 15, y - 17, x + 15, y + 17))
    bare = PictureSpec(SIX, (Marker(2, 5, 0, is_asked=True),), 3, 7)
    assert render(asked) == render(bare)


def test_ribbons_join_neighbours_of_a_layer_under_the_strings() -> None:
    """Half way between two notes of a layer lies its ribbon; strings stay above it; layers are not joined."""
    picture = shown(GRIP)
    spots = [place(GRIP, marker) for marker in GRIP.markers]
    for (one, other), layer in (((0, 1), 0), ((2, 3), 1), ((3, 4), 1)):
        x, y = (spots[one][0] + spots[other][0]) // 2, (spots[one][1] + spots[other][1]) // 2
        near = colours(picture, (x - 9, y - 3, x + 9, y + 3))
        assert LIGHT[LAYERS[layer].ribbon] in near
    low, high = spots[1], spots[2]
    between = colours(picture, (low[0] - 5, high[1] + 34, low[0] + 5, low[1] - 34))
    assert between <= {LIGHT[WOOD]}
    flat = PictureSpec(SIX, (Marker(2, 4, 0), Marker(2, 7, 0)), 3, 8)
    x = layout_of(flat).fret_x(5)
    assert colour(shown(flat), x, layout_of(flat).string_y(2)) == LIGHT[QUIET]
    assert colour(shown(flat), x, layout_of(flat).string_y(2) + 8) == LIGHT[LAYERS[0].ribbon]


def test_ribbons_follow_the_order_given() -> None:
    """Notes out of pitch order are joined as they come."""
    straight = PictureSpec(SIX, (Marker(1, 4, 0), Marker(2, 7, 0), Marker(3, 4, 0)), 3, 8)
    other = replace(straight, markers=(straight.markers[0], straight.markers[2], straight.markers[1]))
    x, y = layout_of(straight).fret_x(4), layout_of(straight).string_y(2)
    assert colour(shown(straight), x, y + 15) == LIGHT[WOOD]
    assert colour(shown(other), x, y + 15) == LIGHT[LAYERS[0].ribbon]


@pytest.mark.parametrize("is_left_handed", HANDS)
def test_the_nut_shows_at_the_first_fret_only(is_left_handed: bool) -> None:
    """A solid bar of ink where the window begins at fret 1; nowhere an inked bar when it begins higher."""
    for first, has_nut in ((1, True), (2, False), (7, False)):
        spec = PictureSpec(SIX, (), first, first + 4, is_left_handed=is_left_handed)
        x, y = layout_of(spec).x(152), layout_of(spec).string_y(3) + 30
        assert (colour(shown(spec), x, y) == LIGHT[INK]) is has_nut


@pytest.mark.parametrize("names", [SIX, ("E♭", "A♭", "D♭", "G♭", "B♭", "E♭")], ids=["plain", "flats"])
@pytest.mark.parametrize("is_left_handed", HANDS)
@pytest.mark.parametrize(("first", "last"), [(1, 5), (7, 11)])
def test_open_markers_leave_string_names_alone(
    names: tuple[str, ...], is_left_handed: bool, first: int, last: int
) -> None:
    """With ringed, doubled markers on all open strings the names look as without."""
    open_strings = tuple(
        Marker(string, 0, string % 3, "1", is_root=True, is_doubled=True) for string in range(6)
    )
    with_markers = PictureSpec(names, open_strings, first, last, is_left_handed=is_left_handed)
    without = replace(with_markers, markers=())
    low, high = sorted((layout_of(without).x(0), layout_of(without).x(56)))
    box = (low, 0, high, 430)
    assert len(colours(shown(without), box)) > 1
    assert shown(with_markers).crop(box).tobytes() == shown(without).crop(box).tobytes()


def test_no_marker_touches_a_side_dot() -> None:
    """Ringed roots on the lowest string at every fret leave the row of side dots as it was."""
    for first in (1, 8, 15):
        bare = PictureSpec(SIX, (), first, first + 9)
        roots = tuple(Marker(0, fret, 1, "1", is_root=True) for fret in range(first, first + 10))
        row = (158, layout_of(bare).below(37), 1080, layout_of(bare).below(50))
        assert LIGHT[QUIET] in colours(shown(bare), row)
        assert shown(bare).crop(row).tobytes() == shown(replace(bare, markers=roots)).crop(row).tobytes()


@pytest.mark.parametrize("fret", range(1, 25))
def test_side_dots_mark_the_usual_frets(fret: int) -> None:
    """One dot at 3 5 7 9 15 17 19 21, two at 12 and 24 (common practice, no source)."""
    spec = PictureSpec(SIX, (), max(1, fret - 2), max(1, fret - 2) + 4)
    layout = layout_of(spec)
    x, y = layout.fret_x(fret), layout.below(43)
    picture = shown(spec)
    line = [colour(picture, x + dx, y) == LIGHT[QUIET] for dx in range(-30, 31)]
    dots = sum(now and not before for before, now in zip([False, *line], line, strict=False))
    assert dots == (2 if fret in {12, 24} else 1 if fret in {3, 5, 7, 9, 15, 17, 19, 21} else 0)


@pytest.mark.parametrize("is_left_handed", HANDS)
def test_used_frets_are_strong_and_others_quiet(is_left_handed: bool) -> None:
    """Ink under frets with a note, 0 for open strings included; no ink under the others."""
    spec = replace(OPEN, is_left_handed=is_left_handed)
    layout, picture = layout_of(spec), shown(spec)
    for fret in range(6):
        x, y = layout.fret_x(fret), layout.below(70)
        number = colours(picture, (x - 25, y - 15, x + 25, y + 15))
        assert (LIGHT[INK] in number) is (fret in {0, 2, 5})
        assert (LIGHT[QUIET] in number) is True


def test_muted_strings_wear_a_cross_and_others_do_not() -> None:
    """The cross stands in the column of the open strings, on the muted strings alone."""
    spec = PictureSpec(SIX, (), 3, 7, muted=(0, 4))
    layout, picture = layout_of(spec), shown(spec)
    for string in range(6):
        x, y = layout.fret_x(0), layout.string_y(string)
        crossed = colour(picture, x, y) == LIGHT[INK]
        assert crossed is (string in spec.muted)


def test_the_left_hand_sees_everything_mirrored_but_the_text() -> None:
    """Without text the picture is the mirror image; text reads the same way round."""
    names = ("I",) * 6
    plain = PictureSpec(
        names, (Marker(1, 4, 0), Marker(2, 8, 0), Marker(3, 7, 1), Marker(5, 0, 1, is_root=True)), 1, 8
    )
    left = replace(plain, is_left_handed=True)
    board = (0, 0, 1080, 435)
    mirrored = ImageOps.mirror(shown(plain)).crop(board)
    apart = ImageChops.difference(mirrored, shown(left).crop(board)).convert("L")
    assert apart.point([255 * (value > 0) for value in range(256)]).histogram()[255] < 0.01 * 1080 * 435
    told = replace(plain, markers=(Marker(1, 4, 0, "♭13"),))
    here = place(told, told.markers[0])
    there = place(replace(told, is_left_handed=True), told.markers[0])
    assert here[0] != there[0]
    text, other_text = (
        shown(spec).crop((x - 24, y - 18, x + 24, y + 18)).tobytes()
        for spec, (x, y) in ((told, here), (replace(told, is_left_handed=True), there))
    )
    assert text == other_text


def test_markers_side_by_side_do_not_cover_each_other() -> None:
    """A barre and a run of frets show as much of each layer as their markers do alone."""
    barre = tuple(Marker(string, 5, string % 3) for string in range(6))
    run = tuple(Marker(2, fret, fret % 3) for fret in range(5, 17))
    for markers in (barre, run):
        together = shown(PictureSpec(SIX, markers, 5, 16))
        alone = [shown(PictureSpec(SIX, (marker,), 5, 16)) for marker in markers]
        for look in LAYERS:
            fills = [picture.tobytes().count(bytes(LIGHT[look.fill])) for picture in (together, *alone)]
            assert fills[0] == pytest.approx(sum(fills[1:]), rel=0.01)


def test_same_spec_same_bytes() -> None:
    """A picture does not remember what was drawn before it."""
    first = render(GRIP)
    render(OPEN)
    render(replace(GRIP, markers=()))
    assert render(GRIP) == first
    assert render(replace(GRIP)) == first


def test_light_and_dark_share_their_image_data() -> None:
    """The two files of a pair are those of `render`, alike in all but the palette."""
    light, dark = render_pair(GRIP)
    assert (light, dark) == (render(GRIP), render(GRIP, dark=True))
    at = light.index(b"IDAT")
    assert light[at:] == dark[at:]
    assert light[: light.index(b"PLTE")] == dark[: dark.index(b"PLTE")]
    assert light != dark


@pytest.mark.parametrize(
    ("spec", "match"),
    [
        pytest.param(replace(GRIP, first_fret=0), "frets 0 to 7", id="window before the nut"),
        pytest.param(replace(GRIP, last_fret=2), "frets 3 to 2", id="window of no fret"),
        pytest.param(replace(GRIP, last_fret=40), "frets 3 to 40", id="window too wide"),
        pytest.param(replace(GRIP, last_fret=5), "fret 6 is not among", id="note outside the window"),
        pytest.param(replace(GRIP, muted=(6,)), "string 6 is not among the picture's 6", id="no such string"),
        pytest.param(
            replace(GRIP, markers=(Marker(-1, 5),)), "string -1 is not", id="string below the lowest"
        ),
    ],
)
def test_what_has_no_place_is_refused(spec: PictureSpec, match: str) -> None:
    """A note or a window that no picture can show is an error and not a wrong picture."""
    with pytest.raises(DrillsError, match=match):
        render(spec)


def test_fingerprint_is_short_and_steady() -> None:
    """Ten hexadecimal digits, the same each time."""
    look_fingerprint.cache_clear()
    first = look_fingerprint()
    look_fingerprint.cache_clear()
    assert look_fingerprint() == first
    assert len(first) == 10
    assert int(first, 16) >= 0


@pytest.mark.parametrize(
    ("name", "changed"),
    [
        pytest.param("_RIBBON_PX", lambda width: width + 1, id="wider ribbon"),
        pytest.param("LIGHT", lambda theme: replace(theme, colours=theme.colours[::-1]), id="other colours"),
        pytest.param("_DOTTED_FRETS", lambda frets: frets - {21}, id="a side dot less"),
        pytest.param("_CROSS_STROKE_PX", lambda width: width + 1, id="stronger cross"),
    ],
)
def test_fingerprint_changes_with_the_look(
    name: str, changed: Callable[[object], object], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What changes in the drawing changes the fingerprint."""
    caches = (look_fingerprint, neck._bare_neck, neck._cross)
    for cache in caches:
        cache.cache_clear()
    before = look_fingerprint()
    monkeypatch.setattr(neck, name, changed(getattr(neck, name)))
    for cache in caches:
        cache.cache_clear()
    assert look_fingerprint() != before
    monkeypatch.undo()
    for cache in caches:
        cache.cache_clear()
    assert look_fingerprint() == before


@st.composite
def specs(draw: st.DrawFn) -> PictureSpec:
    """Any picture that a deck may ask for."""
    names = NAMES[draw(st.integers(6, 8))]
    first = draw(st.integers(1, 20))
    last = first + draw(st.integers(3, 11))
    degrees = st.sampled_from(["", "1", "♭9", "♯9", "3", "♯11", "♭13", "13", "𝄫7"])
    markers = tuple(
        Marker(
            string,
            draw(st.one_of(st.just(0), st.integers(first, last))),
            draw(st.integers(0, 2)),
            draw(degrees),
            draw(st.booleans()),
            draw(st.booleans()),
            draw(st.booleans()),
        )
        for string in sorted(draw(st.sets(st.integers(0, len(names) - 1))))
    )
    muted = tuple(set(range(len(names))) - {marker.string for marker in markers})
    return PictureSpec(names, markers, first, last, muted, draw(st.booleans()))


@settings(max_examples=40)
@given(specs(), st.booleans())
def test_any_picture_has_its_notes_where_they_belong(spec: PictureSpec, dark: bool) -> None:
    """Each marker shows its layer's colour at its place, and the file is whole."""
    data = render(spec, dark=dark)
    theme = DARK if dark else LIGHT
    with Image.open(io.BytesIO(data)) as opened:
        picture = opened.convert("RGB")
    for marker in spec.markers:
        x, y = place(spec, marker)
        assert theme[LAYERS[marker.layer].fill] in colours(picture, (x - 34, y - 34, x + 34, y + 34))
    assert len(zlib.decompress(data[data.index(b"IDAT") + 4 : -16])) == 541 * picture.height
