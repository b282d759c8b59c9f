"""Which card is which: equal identities are the same card, in whatever deck it comes.

An identity says what is asked: the voicing, the root's pitch class, the drill, the tuning. Wording,
order, layout, pictures and the recipe it stands in never enter it, so a rebuilt deck updates the card
that a student already has. Changing what is written here would cost every student their progress.
"""

from __future__ import annotations

from base64 import urlsafe_b64encode
from hashlib import sha256

from drills.cards.subject import Subject


def identity(subject: Subject, drill: str) -> str:
    """Stable text for one drill on a subject."""
    tuning = ".".join(str(midi) for midi in subject.instrument.open_midi)
    return f"{_asked(subject, drill)} {drill} on {tuning}"


def short_id(identity: str) -> str:
    """Twelve url-safe characters for an identity: 72 bits of its SHA-256, in the alphabet of RFC 4648.

    This is what a phone's journal stores for a card, and what its progress file holds. It must never change.
    """
    return urlsafe_b64encode(sha256(identity.encode()).digest())[:12].decode()


def _asked(subject: Subject, drill: str) -> str:
    """The voicing and its root; both voicings and both roots where a drill is about two."""
    own = _over_root(subject)
    if drill == "connect" and subject.next is not None:
        return f"{own} to {_over_root(subject.next)}"
    if drill == "twin" and subject.twin is not None:  # twins are one pair, whichever comes first in a recipe
        return " beside ".join(sorted((own, _over_root(subject.twin))))
    return own


def _over_root(subject: Subject) -> str:
    return f"{voicing_identity(subject)} over {subject.root.pitch_class}"


def voicing_identity(subject: Subject) -> str:
    """Stable text for the voicing: its own id where the recipe gives one, else its sound and layers."""
    if subject.id:
        return f"id {subject.id}"
    voicing = subject.voicing
    heights = ".".join(str(height) for height in voicing.heights_semitones)
    sizes = "+".join(str(size) for size in voicing.sizes)
    return f"{voicing.lowest_over_root_semitones}:{heights} in {sizes}"
