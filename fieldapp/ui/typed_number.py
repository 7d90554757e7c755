"""What a number pad holds while a person types: text that can only become a number."""

from dataclasses import dataclass, replace
from decimal import Decimal


@dataclass(frozen=True)
class TypedNumber:
    """A number on its way. Each touch gives the next one; what doesn't fit is ignored."""

    text: str = ""
    decimals: int = 2
    most_digits: int = 6

    def with_digit(self, digit: str) -> "TypedNumber":
        """Put a digit at the end. A leading zero gives way to it."""
        _, point, fraction = self.text.partition(".")
        full = len(fraction) >= self.decimals if point else self._digits >= self.most_digits
        if full:
            return self
        sign, number = self._parts
        return replace(self, text=sign + (digit if number == "0" else number + digit))

    def with_point(self) -> "TypedNumber":
        """Put the decimal point, once."""
        if not self.decimals or "." in self.text:
            return self
        sign, number = self._parts
        return replace(self, text=f"{sign}{number or '0'}.")

    def turned(self) -> "TypedNumber":
        """Change the sign."""
        sign, number = self._parts
        return replace(self, text=number if sign else "-" + number)

    def erased(self) -> "TypedNumber":
        """Take the last touch away."""
        return replace(self, text=self.text[:-1])

    @property
    def value(self) -> Decimal | None:
        """The number, or None while it is none yet."""
        sign, number = self._parts
        return Decimal(sign + number.removesuffix(".")) if number else None

    @property
    def _parts(self) -> tuple[str, str]:
        return ("-", self.text[1:]) if self.text.startswith("-") else ("", self.text)

    @property
    def _digits(self) -> int:
        return sum(letter.isdigit() for letter in self.text)
