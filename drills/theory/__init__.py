"""Pure music theory: pitches, chords, scales, layers and the names of voicings."""
