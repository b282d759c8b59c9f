"""The page's sound in a real browser: ready for the tap, in tune, not clipping, no fault without audio."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from .conftest import NewPhone, Served
from .test_string import cents, measured_hz, tempered_hz

if TYPE_CHECKING:
    from playwright.sync_api import Page

# The page listens to itself: what goes to the loudspeaker passes an analyser first.
STAGE = """<!doctype html><title>sound</title><link rel="icon" href="data:,"><button>play</button>
<script type="module">
  import { makeSound, wakeOnGesture } from "./sounds/sound.js";
  class Overheard extends AudioContext {
    get destination() {
      if (!this.ear) {
        this.ear = this.createAnalyser();
        this.ear.fftSize = 32768;
        this.ear.connect(super.destination);
        window.context = this;
      }
      return this.ear;
    }
    createBuffer(...how) {
      window.strings += 1;
      return super.createBuffer(...how);
    }
  }
  window.strings = 0;
  class Blocked extends EventTarget {
    state = "suspended";
    resume() { return new Promise(() => {}); }
  }
  window.told = [];
  const made = (AudioContext, isOn = true) =>
    makeSound({ AudioContext, a4_hz: 440, isOn, onFailure: (text) => window.told.push(text) });
  Object.assign(window, { made, Overheard, Blocked, wakeOnGesture });
  window.use = (how) => { window.does = how; };
  const button = document.querySelector("button");
  button.addEventListener("click", (event) => (window.result = window.does(event)));
  window.latest = () => {
    const samples = new Float32Array(window.context.ear.fftSize);
    window.context.ear.getFloatTimeDomainData(samples);
    return Array.from(samples);
  };
  window.sound = made(Overheard);
</script>"""


@pytest.fixture
def stage(tmp_path: Path, checkout: Path, new_phone: NewPhone, served: Served) -> Page:
    """A page with nothing but the sound and a button to tap."""
    (tmp_path / "sounds").mkdir()
    for name in ("sounds/sound", "sounds/string", "sounds/beats", "words"):
        shutil.copy(checkout / f"drills/page/{name}.js", tmp_path / f"{name}.js")
    (tmp_path / "index.html").write_text(STAGE, encoding="utf-8")
    page = new_phone().new_page()
    page.goto(served(tmp_path))
    page.wait_for_function("window.sound")
    return page


def tap(page: Page, what: str) -> Any:
    """Taps the button, which does `what` in the page (a function of the event); gives what comes of it."""
    page.evaluate(f"use({what})")
    page.get_by_role("button").tap()
    return page.evaluate("window.result")


def heard(page: Page, after_ms: int) -> tuple[np.ndarray[Any, np.dtype[np.float64]], int]:
    """The last two thirds of a second that went to the loudspeaker, and the samples a second."""
    page.wait_for_timeout(after_ms)
    return np.array(page.evaluate("latest()")), page.evaluate("context.sampleRate")


def test_a_chord_looked_at_waits_for_no_string(stage: Page) -> None:
    """Its strings are made while its card is looked at; a tap then makes none, other chords their own."""
    tap(stage, "() => sound.ready()")
    stage.evaluate("sound.prepare([40, 50, 56])")
    stage.wait_for_function("strings === 3")
    tap(stage, "() => sound.chord([40, 50, 56])")
    assert stage.evaluate("strings") == 3
    tap(stage, "() => sound.chord([41, 50, 57])")
    assert stage.evaluate("strings") == 5


@pytest.mark.parametrize("a4_hz", [415, 440, 445])
def test_strings_and_drone_follow_the_pitch_reference(stage: Page, a4_hz: int) -> None:
    """What is heard lies within a cent of equal temperament about the reference (ISO 16 for 440)."""
    wanted = tempered_hz(52, a4_hz)
    tap(stage, f"() => (sound.set({{ a4_hz: {a4_hz} }}), sound.chord([52]))")
    samples, rate = heard(stage, 900)
    assert abs(cents(measured_hz(samples, wanted, rate), wanted)) < 1
    low = tempered_hz(38, a4_hz)
    tap(stage, "() => { sound.hush(); window.stop = sound.drone(38); }")
    samples, rate = heard(stage, 1700)
    assert abs(cents(measured_hz(samples, low, rate), low)) < 1
    stage.evaluate("stop()")
    samples, _ = heard(stage, 1500)
    assert np.abs(samples).max() < 1e-4


def test_playing_on_and_on_does_not_clip(stage: Page) -> None:
    """Six strings again and again, and eight once: no sample reaches 1, and the chord before is hushed."""
    six = "[40, 47, 52, 56, 59, 64]"
    for _ in range(4):
        tap(stage, f"() => sound.chord({six})")
        stage.wait_for_timeout(60)
    samples, _ = heard(stage, 300)
    assert 0.05 < np.abs(samples).max() < 1
    tap(stage, "() => sound.chord([28, 35, 40, 47, 52, 56, 59, 64])")
    samples, _ = heard(stage, 300)
    assert np.abs(samples).max() < 1


@pytest.mark.parametrize(
    ("play", "starts_s"),
    [
        ("sound.chord([48, 52, 79])", [0, 0.018, 0.036]),
        ("sound.arpeggio([48, 52, 79])", [0, 0.3, 0.6]),
        ("sound.rootThenChord(36, [48, 52])", [0, 1.2, 1.218]),
    ],
)
def test_strings_come_when_they_should(stage: Page, play: str, starts_s: list[float]) -> None:
    """A chord is strummed from below, an arpeggio comes note by note, a root stands before its chord."""
    stage.evaluate(
        "void (() => { window.starts = []; const start = AudioBufferSourceNode.prototype.start;"
        " AudioBufferSourceNode.prototype.start = function (when) {"
        " starts.push(when); start.call(this, when); }; })()"
    )
    tap(stage, f"() => {play}")
    starts = stage.evaluate("starts")
    assert [start - starts[0] for start in starts] == pytest.approx(starts_s)


def test_clicks_are_even_to_the_sample(stage: Page) -> None:
    """At 200 beats a minute a click comes every 0.3 s on a busy page too; the first of a bar differs."""
    tap(
        stage,
        "() => { window.beats = [];"
        " window.stop = sound.clicks({ bpm: 200, beatsPerBar: 4, onBeat: (beat) => { beats.push(beat);"
        " const until = performance.now() + 60; while (performance.now() < until); } }); }",
    )
    gaps_s: list[float] = []
    pitches_hz = set()
    for _ in range(5):
        samples, rate = heard(stage, 450)
        loud = np.flatnonzero(np.abs(samples) > 0.02)
        starts = [
            int(n) for n, before in zip(loud, np.r_[-rate, loud], strict=False) if n - before > rate // 10
        ]
        whole = [n for n in starts if rate // 20 < n < len(samples) - rate // 20]
        gaps_s += list(np.diff(whole) / rate)
        for n in whole:
            spectrum = np.abs(np.fft.rfft(samples[n : n + rate // 25], rate))
            pitches_hz.add(round(int(np.argmax(spectrum)) / 100) * 100)
    stage.evaluate("stop()")
    assert gaps_s
    assert max(abs(gap - 0.3) for gap in gaps_s) < 0.0005
    assert len(pitches_hz) == 2
    beats = stage.evaluate("beats")
    assert beats == list(range(len(beats)))
    assert len(beats) >= 6
    stage.wait_for_timeout(700)
    assert stage.evaluate("beats.length") == len(beats)


def test_nothing_sounds_when_sound_is_off_but_beats_are_counted(stage: Page) -> None:
    """A silent click counts on, from the beat it was given."""
    tap(stage, "() => sound.chord([60])")
    stage.evaluate("sound.set({ isOn: false })")
    heard(stage, 900)
    tap(
        stage,
        "() => { window.beats = []; sound.chord([60]); sound.drone(40);"
        " window.stop = sound.clicks("
        "{ bpm: 200, beatsPerBar: 4, firstBeat: 8, onBeat: (beat) => beats.push(beat) }); }",
    )
    samples, _ = heard(stage, 1000)
    stage.evaluate("stop()")
    assert np.abs(samples).max() == 0
    assert stage.evaluate("beats.slice(0, 3)") == [8, 9, 10]


@pytest.mark.parametrize("kind", ["undefined", "Blocked"])
def test_without_sound_the_page_goes_on_and_says_so_once(stage: Page, kind: str) -> None:
    """A browser without audio, or one that never lets it run: one text, no error, and beats are counted."""
    tap(
        stage,
        f"() => {{ window.mute = made({kind}); window.beats = [];"
        " mute.ready(); mute.ready().then((is) => (window.isReady = is));"
        " window.stop = mute.clicks({ bpm: 200, beatsPerBar: 4, onBeat: (beat) => beats.push(beat) }); }",
    )
    stage.wait_for_function("beats.length > 2")
    stage.evaluate("stop()")
    assert stage.evaluate("isReady") is False
    assert len(stage.evaluate("told")) == 1
    assert stage.evaluate("mute.failure") == stage.evaluate("told[0]")


def test_absent_audio_makes_playing_a_quiet_thing(stage: Page) -> None:
    """Every way of playing may be called where there is no audio."""
    tap(
        stage,
        "() => { const mute = made(undefined); mute.chord([60]); mute.arpeggio([60, 64]); mute.hush();"
        " mute.rootThenChord(48, [60]); mute.prepare([60]); mute.set({ a4_hz: 442 }); mute.drone(40)(); }",
    )
    assert len(stage.evaluate("told")) == 1


def test_the_first_tap_anywhere_wakes_the_sound(stage: Page) -> None:
    """Browsers allow sound after a tap or a key: it is opened with the finger down, woken when it is up."""
    stage.evaluate(
        "window.does = () => {}; window.calls = [];"
        "wakeOnGesture({ open: () => calls.push('open'), ready: () => calls.push('ready') }, document)"
    )
    stage.get_by_role("button").tap()
    stage.get_by_role("button").tap()
    stage.keyboard.press("a")
    assert stage.evaluate("calls") == ["open", "ready"]
