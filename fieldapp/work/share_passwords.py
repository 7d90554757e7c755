"""The password of a share on a server: in memory as long as the program runs, written nowhere."""

from sync.places import Password, nobody_knows


class SharePasswords:
    """Gives the password for a place, asked for once; a wrong one is asked for again.

    Parameters
    ----------
    ask : callable
        Asks a person; raises `PasswordWanted` where there is nobody to ask now.
    given : str
        What the surroundings hold, for any place; empty for nothing.
    """

    def __init__(self, ask: Password = nobody_knows, given: str = "") -> None:
        self._ask = ask
        self._given = given
        self._known: dict[str, str] = {}

    def __call__(self, place: str) -> str:
        """Give the password for a place."""
        if place not in self._known:
            self._known[place] = self._given or self._ask(place)
        return self._known[place]

    def take(self, place: str, password: str) -> None:
        """Go by what somebody typed for a place from now on."""
        self._known[place] = password

    def forget(self, place: str) -> None:
        """Go no more by what is known for a place: the server does not take it."""
        self._known.pop(place, None)
        self._given = ""
