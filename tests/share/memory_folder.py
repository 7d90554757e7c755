"""A shared folder in memory that keeps its word: the model for the honest part."""

from collections.abc import Iterable

from sync.folder import Folder, Listed, NotThere


class MemoryFolder(Folder):
    """Files by path; counts what it is asked."""

    def __init__(self) -> None:
        self.place = "memory"
        self.files: dict[str, bytes] = {}
        self.asked: list[str] = []
        self.written: list[str] = []

    def listing(self, path: str) -> Iterable[Listed]:
        self.asked.append(f"list {path}")
        found: dict[str, int] = {}
        for name, content in self.files.items():
            if name.startswith(path + "/"):
                first, deeper, _ = name[len(path) + 1 :].partition("/")
                found[first] = 0 if deeper else len(content)
        return [Listed(name, size) for name, size in found.items()]

    def read(self, path: str, *, at_most: int) -> bytes:
        self.asked.append(f"read {path}")
        if path not in self.files:
            raise NotThere(path)
        return self.files[path][: at_most + 1]

    def put(self, path: str, content: bytes) -> None:
        self.asked.append(f"put {path}")
        if self.files.get(path) != content:
            self.written.append(path)
        self.files[path] = content

    def remove(self, path: str) -> None:
        self.files.pop(path, None)
