"""Whose records a home holds: read out of `mine.json`, without knowing all that stands there."""

from pydantic import BaseModel, ConfigDict, ValidationError


class Whose(BaseModel):
    """The mine and the tablet that records belong to; all empty before a mine is started."""

    model_config = ConfigDict(frozen=True, extra="ignore")

    name: str = ""
    site_key: str = ""
    tablet: str = ""

    def is_another_s(self, other: "Whose") -> bool:
        """Whether both are somebody's, and not the same one's."""
        ours, theirs = (self.site_key, self.tablet), (other.site_key, other.tablet)
        return all(ours) and all(theirs) and ours != theirs

    def words(self) -> str:
        """Give it in words for a person."""
        return f"tablet {self.tablet} of {self.name}"


def read_whose(content: bytes) -> Whose | None:
    """Read it out of a `mine.json`; None where that is torn."""
    try:
        return Whose.model_validate_json(content)
    except ValidationError:
        return None
