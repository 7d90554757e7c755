"""`smb://user@server/share/folder`: where a share is on a server, and who asks for it."""

from dataclasses import dataclass
from typing import Final, Self
from urllib.parse import quote, unquote, urlsplit

SMB: Final = "smb://"
PORT: Final = 445


@dataclass(frozen=True)
class SmbPlace:
    """Where a share is, and who asks for it. It never holds the password."""

    server: str
    share: str
    folders: tuple[str, ...] = ()
    user: str | None = None
    """None: whoever is signed in on this machine, where the system vouches for them."""
    port: int = PORT

    @classmethod
    def read(cls, place: str) -> Self | None:
        """Read what a person typed; None where it names no share of a server."""
        try:
            parts = urlsplit(place)
            server, port = parts.hostname or "", parts.port or PORT
        except ValueError:
            return None
        share, *folders = [unquote(it) for it in parts.path.split("/") if it] or [""]
        if not server or not share or {".", ".."} & {share, *folders} or parts.query:
            return None
        user = unquote(parts.username) if parts.username else None
        return cls(server, share, tuple(folders), user, port)

    def __str__(self) -> str:
        user = f"{quote(self.user)}@" if self.user else ""
        port = "" if self.port == PORT else f":{self.port}"
        folders = "/".join(quote(it) for it in (self.share, *self.folders))
        return f"{SMB}{user}{self.server}{port}/{folders}"

    def below(self, path: str = "") -> str:
        r"""Give the server's own name, `\\server\share\folder`, for what lies below the place."""
        parts = ("", "", self.server, self.share, *self.folders, *path.split("/"))
        return "\\".join(parts).rstrip("\\")
