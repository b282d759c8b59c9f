"""Keys as recipes list them."""

from __future__ import annotations

from drills.errors import DrillsError
from drills.recipe.fields import Table, quoted
from drills.theory.pitch import NoteName, read_note_name


def read_key(table: Table, key: str, text: str) -> NoteName:
    """A note name, such as a root."""
    with table.at(key):
        try:
            return read_note_name(text)
        except DrillsError as fault:
            meant = text.capitalize()
            if meant == text or not _is_note_name(meant):
                raise
            raise DrillsError(fault.what, mend=f"write {meant!r}") from None


def _is_note_name(text: str) -> bool:
    try:
        read_note_name(text)
    except DrillsError:
        return False
    return True


def read_keys(table: Table, key: str) -> tuple[NoteName, ...] | None:
    """A list of note names, spelled as written; None for "all".

    Raises:
        DrillsError: a name is no note, or two of them sound the same.
    """
    if table.values[key] == "all":
        return None
    if isinstance(table.values[key], str):
        mend = f'write {key} = "all", or a list such as ["C", "F", "Bb"]'
        raise table.error(key, f"{quoted(table.values[key])} is no list of keys", mend)
    names: list[NoteName] = []
    for text in table.texts(key, '["C", "F", "Bb"] or "all"'):
        name = read_key(table, key, text)
        twin = next((each for each in names if each.pitch_class == name.pitch_class), None)
        if twin is not None:
            what = (
                f"{twin.plain} and {name.plain} are the same key"
                if twin != name
                else f"{name.plain} stands twice"
            )
            raise table.error(key, what, "list each key once")
        names.append(name)
    return tuple(names)
