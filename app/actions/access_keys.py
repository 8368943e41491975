"""The letter that takes each row of a menu: no two rows share one."""

from __future__ import annotations

from collections.abc import Sequence


def with_access_keys(names: Sequence[str]) -> list[str]:
    """The names with an ampersand before a letter that no other has, the first of a word if possible."""
    owner: dict[str, int] = {}
    for index in range(len(names)):
        _find_letter(names, index, owner, set())
    letters = {index: letter for letter, index in owner.items()}
    return [_marked(name, letters.get(index, "")) for index, name in enumerate(names)]


def _letters(name: str) -> list[str]:
    """The letters of a name, first those that begin a word."""
    starts = [c for i, c in enumerate(name) if c.isalpha() and (i == 0 or name[i - 1] == " ")]
    return [c.casefold() for c in (*starts, *name) if c.isalpha()]


def _find_letter(names: Sequence[str], index: int, owner: dict[str, int], tried: set[str]) -> bool:
    """Give a name a letter that is free; else one whose owner can have another (a matching by augmenting paths)."""
    letters = _letters(names[index])
    free = next((letter for letter in letters if letter not in owner), None)
    if free is not None:
        owner[free] = index
        return True
    for letter in letters:
        if letter not in tried:
            tried.add(letter)
            if _find_letter(names, owner[letter], owner, tried):
                owner[letter] = index
                return True
    return False


def _marked(name: str, letter: str) -> str:
    places = [i for i, c in enumerate(name) if c.casefold() == letter]
    starts = [i for i in places if i == 0 or name[i - 1] == " "]
    place = next(iter((*starts, *places)), None)
    return name if place is None else f"{name[:place]}&{name[place:]}"
