"""Too few tests give no characteristic value, and whoever asks is told so."""

from decimal import Decimal

from fieldapp.assess.statistics.characteristic import (
    Characteristic,
    NothingHeld,
    TooFewTests,
    by_en_1990,
    by_iso_16269_6,
)


def kn(*loads: int) -> list[Decimal]:
    return [Decimal(it) for it in loads]


def value(found: Characteristic | TooFewTests | NothingHeld) -> Decimal:
    assert isinstance(found, Characteristic)
    return found.value_kn


def test_two_pulls_give_none() -> None:
    by_en = by_en_1990(kn(98, 105), "normal")
    by_iso = by_iso_16269_6(kn(98, 105), "normal", Decimal("0.95"))

    assert isinstance(by_en, TooFewTests)
    assert isinstance(by_iso, TooFewTests)
    assert (by_en.tests, by_en.at_least) == (2, 3)


def test_one_pull_will_do_where_the_variation_is_known() -> None:
    assert value(by_en_1990(kn(100), "normal", Decimal("0.05"))) == Decimal("88.4")
    assert isinstance(by_en_1990([], "normal", Decimal("0.05")), TooFewTests)


def test_three_alike_are_not_taken_for_a_steel_that_never_varies() -> None:
    """Variation 0.10 is taken: 100·(1 − 3.372·0.10)."""
    assert value(by_en_1990(kn(100, 100, 100), "normal")) == Decimal("66.3")


def test_a_bolt_that_held_nothing_leaves_nothing_to_count_on() -> None:
    pulled = kn(0, 90, 180)

    assert value(by_en_1990(pulled, "normal")) == 0
    assert isinstance(by_en_1990(pulled, "lognormal"), NothingHeld)


def test_the_rule_is_named_with_the_value() -> None:
    found = by_iso_16269_6(kn(90, 95, 100, 98), "lognormal", Decimal("0.95"))

    assert isinstance(found, Characteristic)
    assert found.rule == "ISO 16269-6, 95 % confidence, lognormal"
