"""The common form of everything that is written down."""

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """A frozen piece of an entry. Fields that this version doesn't know are kept."""

    model_config = ConfigDict(
        frozen=True, extra="allow", strict=False, allow_inf_nan=False, str_max_length=2_000
    )

    @property
    def must(self) -> tuple[str, ...]:
        """Features that whoever reads an entry with this body has to know."""
        return ()


class Own(BaseModel):
    """A frozen piece that only this program writes: nothing unknown belongs in it."""

    model_config = ConfigDict(frozen=True, extra="forbid", allow_inf_nan=False)
