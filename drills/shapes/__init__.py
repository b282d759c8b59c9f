"""Outlines that pictures and paper share: accidentals and the shapes of markers. Numbers only, no drawing."""
