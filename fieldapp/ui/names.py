"""Names and reasons, short enough for their place.

Of a name both ends stay, for they tell apart; of a reason what it begins with.
"""

LETTERS = 40
"""What two lines of a heading's card on the board hold."""
GAP = " \N{HORIZONTAL ELLIPSIS} "
END = 20


def short(name: str, letters: int = LETTERS) -> str:
    """Take words out of the middle of a longer name: "4180 Sublevel … crosscut north 12"."""
    if len(name) <= letters:
        return name
    beginning = name[: letters - END - len(GAP)]
    end = name[-END:]
    whole_words, _, _ = beginning.rpartition(" ")
    _, _, last_words = end.partition(" ")
    return f"{(whole_words or beginning).rstrip()}{GAP}{(last_words or end).lstrip()}"


def fewer_words(reason: str) -> tuple[str, ...]:
    """Give a reason, then less and less of it: what explains goes before what it says."""
    ways = [reason]
    while (cut := max(ways[-1].rfind(mark) for mark in ("; ", ": "))) > 0:
        ways.append(ways[-1][:cut])
    return tuple(ways)
