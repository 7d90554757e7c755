"""An intersection from a terminal: stated, its cables put in, and signed for."""

from pathlib import Path

from fieldapp.work.demo.story import JUNCTION
from tests.demo_mine import CODES
from tests.unit.cli.conftest import Terminal

TEE = ("0:-2.5", "5:-2.5", "5:5", "0:5")
CREW, DAY = "Bolter, crew A", "Day supervisor"


def add(lastrow: Terminal, home: Path, *corners: str) -> tuple[str, ...]:
    each = [word for it in corners for word in ("--corner", it)]
    where = ("--from", "50", "--to", "55", *each)
    pattern = ("--class", "W3", "--cable", "LB50", "--cables", "12")
    told = lastrow("intersection", "add", JUNCTION, *where, *pattern, "--as", CREW, "--home", home)
    return (told.sentence,) if told.code else tuple(told.out.splitlines())


def test_its_cables_are_put_in_step_by_step_and_signed_for(lastrow: Terminal, home: Path) -> None:
    assert lastrow("intersection", "list", "--home", home).out.startswith("No intersection")
    said, cables, entry = add(lastrow, home, *TEE)
    name = cables.partition(":")[0]

    def step(which: str, who: str = CREW, typed: str = "") -> str:
        words = ("intersection", which, name, "--count", 12, "--as", who, "--home", home)
        told = lastrow(*words, typed=typed)
        return told.sentence if told.code else told.out.splitlines()[-1]

    assert said == f"The intersection in {JUNCTION} is stated: span 5.00 m."
    assert entry == "Entry is restricted: cables not drilled yet."
    assert "they are only planned yet" in step("grouted")
    assert step("drilled") == "Entry is restricted: cables not grouted yet."
    assert step("grouted") == (
        "Entry is restricted: cables not plated yet; cured from 7 May 2031 09:30 UTC."
    )
    seen = ("--as-standard", "--plates", "seated", "--as", CREW, "--home", home)
    told = lastrow("intersection", "bolts", name, *seen).out
    assert told.startswith("30 bolts are stated.")
    assert "accept: Bolts 30 of 30" in told
    places = [word for x in range(12) for word in ("--cable", f"{x / 4}:0")]
    more = ("--length", "4.9", "--batch", "G-118", "--as", CREW, "--home", home)
    told = lastrow("intersection", "cables", name, *places, *more).out
    assert "rework: Length of cables 4.900 m, at least 5.0 m (S-2, 8.6)" in told
    assert "not cured before" in step("plated", DAY, f"{CODES[DAY]}\n")
    listed = lastrow("intersection", "list", "--home", home).out
    assert "5.00 m" in listed
    assert "12 of 12 plated" in listed
    assert "junction at 50.0 m not cured" in lastrow("board", "--home", home).out
    told = lastrow("handover", JUNCTION, "--home", home).out
    assert "junction at 50.0 metres not cured" in told
    told = lastrow("intersection", "opened", name, "--as", CREW, "--home", home).out
    assert "The breakaway at 52.500 m is stated." in told
    for named in (name, JUNCTION):
        told = lastrow("intersection", "show", named, "--home", home).out
        assert told.startswith("Junction at 50.0 m:")
        assert "Breakaway cables grouted, plated demanded (S-2, 8.7" in told
    why = ("--because", "a plate is loose", "--as", DAY, "--home", home)
    told = lastrow("intersection", "refused", JUNCTION, *why).out
    assert "Entry is restricted: cables not plated yet; refused: a plate is loose." in told
    right = ("--cables", 10, "--because", "typed wrong", "--as", DAY, "--home", home)
    told = lastrow("intersection", "correct", name, *right, typed=f"{CODES[DAY]}\n").out
    assert "12 of 10 cables grouted." in told
    told = lastrow(
        "intersection",
        "correct",
        name,
        *right[:-4],
        "--as",
        CREW,
        "--home",
        home,
        typed=f"{CODES[CREW]}\n",
    ).sentence
    assert "may not put an intersection right" in told


def test_a_heading_with_several_intersections_shows_all_and_lets_one_be_named(
    lastrow: Terminal, home: Path
) -> None:
    add(lastrow, home, *TEE)
    add(lastrow, home, *TEE)
    told = lastrow("intersection", "show", JUNCTION, "--home", home).out
    words = ("intersection", "drilled", JUNCTION, "--count", 12, "--as", CREW, "--home", home)

    assert told.count("Junction at 50") == 2
    assert "so it isn't known which is meant" in lastrow(*words).sentence
    assert (
        "No intersection is stated in 4180 Main"
        in lastrow("intersection", "show", "4180 Main", "--home", home).out
    )
    assert (
        "No intersection here is known"
        in lastrow("intersection", "show", "nowhere", "--home", home).sentence
    )


def test_an_outline_that_crosses_itself_is_refused(lastrow: Terminal, home: Path) -> None:
    (sentence,) = add(lastrow, home, "0:0", "5:5", "5:0", "0:5")

    assert sentence.endswith("its outline crosses or touches itself.")
