"""The one family of errors that a user can cause."""

from __future__ import annotations


class DrillsError(Exception):
    """A fault in what the user gave: what is wrong, where, and how to mend it.

    Args:
        what: what is wrong, with the offending text in it.
        where: file, key, option or place in the text; empty when there is only one.
        mend: what to write instead; empty when nothing better can be said.
    """

    def __init__(self, what: str, *, where: str = "", mend: str = "") -> None:
        super().__init__(what, where, mend)
        self.what = what
        self.where = where
        self.mend = mend

    def __str__(self) -> str:
        """One line for people: place first, then the fault, then the mend.

        >>> print(DrillsError("no note named 'H'", where="--root", mend="use A to G"))
        --root: no note named 'H'; use A to G
        """
        text = f"{self.where}: {self.what}" if self.where else self.what
        return f"{text}; {self.mend}" if self.mend else text

    def within(self, where: str) -> DrillsError:
        """The same fault, told from further out: `where` goes before the place it names."""
        place = f"{where}: {self.where}" if self.where else where
        return type(self)(self.what, where=place, mend=self.mend)
