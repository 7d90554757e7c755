import pytest
from sqlalchemy import text

from fieldapp.store import Store
from fieldapp.store.drafts import Draft, DraftClosed
from fieldapp.store.troubles import DatabaseDamaged
from tests.made import entry


def test_touches_come_back_in_order(store: Store) -> None:
    store.drafts.begin("d-1", b"about")

    assert [store.drafts.touch("d-1", b"%d" % number) for number in range(3)] == [1, 2, 3]
    assert store.drafts.touches("d-1") == (b"0", b"1", b"2")


def test_drafts_do_not_mix(store: Store) -> None:
    for draft_id in ("d-1", "d-2"):
        store.drafts.begin(draft_id, draft_id.encode())
    for number in range(3):
        store.drafts.touch("d-1", b"a%d" % number)
        store.drafts.touch("d-2", b"b%d" % number)

    assert store.drafts.touches("d-1") == (b"a0", b"a1", b"a2")
    assert store.drafts.touches("d-2") == (b"b0", b"b1", b"b2")
    assert store.drafts.open_drafts() == (Draft("d-1", b"d-1"), Draft("d-2", b"d-2"))


def test_beginning_again_is_harmless(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.touch("d-1", b"t")
    store.drafts.begin("d-1", b"about")

    assert store.drafts.touches("d-1") == (b"t",)


def test_beginning_again_about_something_else_is_a_bug(store: Store) -> None:
    store.drafts.begin("d-1", b"about")

    with pytest.raises(ValueError, match="something else"):
        store.drafts.begin("d-1", b"other")


def test_a_finished_draft_is_closed_and_its_entries_are_there(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.touch("d-1", b"t")
    store.drafts.finish("d-1", [entry(1), entry(2)])

    assert store.drafts.open_drafts() == ()
    assert store.drafts.touches("d-1") == ()
    assert list(store.ledger.all()) == [entry(1), entry(2)]


def test_finishing_again_with_the_same_entries_is_harmless(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.finish("d-1", [entry(1)])
    store.drafts.finish("d-1", [entry(1)])

    assert list(store.ledger.all()) == [entry(1)]


def test_finishing_again_with_other_entries_is_refused(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.finish("d-1", [entry(1)])

    with pytest.raises(DraftClosed) as caught:
        store.drafts.finish("d-1", [entry(1), entry(2)])

    assert caught.value.draft_id == "d-1"
    assert list(store.ledger.all()) == [entry(1)]


def test_a_closed_draft_takes_no_touch(store: Store) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.finish("d-1", [])

    with pytest.raises(DraftClosed):
        store.drafts.touch("d-1", b"t")


def test_a_draft_that_was_never_begun_is_a_bug(store: Store) -> None:
    with pytest.raises(LookupError):
        store.drafts.touch("d-1", b"t")
    with pytest.raises(LookupError):
        store.drafts.finish("d-1", [])


@pytest.mark.parametrize(
    ("change", "ask"),
    [("UPDATE touch SET line = x'61'", "touches"), ("UPDATE draft SET about = x'61'", "open")],
)
def test_bytes_that_changed_behind_our_back_are_not_believed(
    store: Store, change: str, ask: str
) -> None:
    store.drafts.begin("d-1", b"about")
    store.drafts.touch("d-1", b"t")
    with store.database.writing() as connection:
        connection.execute(text(change))

    with pytest.raises(DatabaseDamaged):
        store.drafts.touches("d-1") if ask == "touches" else store.drafts.open_drafts()
