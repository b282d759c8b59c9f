"""Jazz-guitar chord voicings, split into layers and turned into spaced-repetition drills."""
