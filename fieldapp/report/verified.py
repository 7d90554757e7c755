"""What the code of a printed sheet stands for, looked up in this mine's records."""

from dataclasses import dataclass

from fieldapp.assess import assess
from fieldapp.report.round_sheet.code import SheetCode, parse_sheet_code, sheet_code
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import Known, current, known_by
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signatures import signature_fits
from fieldapp.work.signed import sign_offs
from fieldapp.work.site import Site
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.trouble import BadInput


@dataclass(eq=False)
class SheetUnknown(BadInput):
    """A code is well formed, but no record here has it."""

    code: str
    mine: str

    happened = "No round of {mine} has the sheet code {code}."
    kept = "Nothing was changed."
    do_next = "Ask on the tablet that printed the sheet; don't rely on the sheet meanwhile."


@dataclass(eq=False)
class OtherAssessment(BadInput):
    """The round is known, but nobody signed what the sheet shows of it."""

    code: str
    round: str

    happened = "The sheet {code} shows {round} as nobody has signed it."
    kept = "Nothing was changed."
    do_next = "Print the sheet of the signed round, and take this one down."


@dataclass(frozen=True)
class Verified:
    """What a sheet's code leads to, and what of it fits."""

    signed_round: Known[Round]
    """The very revision that was signed."""
    sign_off: Known[SignOff]
    signature_fits: bool
    judged_alike: bool
    """Whether judging that revision again, as at that time, comes to the hash on the sheet."""
    superseded: bool
    """Whether the round was looked at again after this sign-off."""


def verified(site: Site, text: str) -> Verified:
    """Look up a code as it was scanned or typed.

    Raises
    ------
    SheetCodeUnread
        It is no code of a round sheet.
    SheetUnknown
        No round here has it.
    OtherAssessment
        The round is here, but not signed with that assessment.
    """
    code = parse_sheet_code(text)
    found = [it for it in current(site, "round", Round) if _is_round(code, it.id)]
    if not found:
        raise SheetUnknown(code.readable, site.mine.name)
    for signed in reversed(sign_offs(site, found[0].id)):
        if code.is_of(signed.body.round, signed.body.assessment):
            return _looked_up(site, found, signed)
    raise OtherAssessment(code.readable, found[0].body.name)


def _is_round(code: SheetCode, round_id: str) -> bool:
    return sheet_code(round_id, "0" * 64).round_end == code.round_end


def _looked_up(site: Site, heads: list[Known[Round]], signed: Known[SignOff]) -> Verified:
    entry = site.store.ledger.get(signed.body.round_revision)
    if entry is None:
        raise SheetUnknown(signed.body.round_revision[:12], site.mine.name)
    seen = known_by(site, entry, Round.model_validate(dict(entry.body)))
    again = assessment_hash(assess(judged_bundle(site, seen, signed, site.now())))
    return Verified(
        signed_round=seen,
        sign_off=signed,
        signature_fits=signature_fits(site, signed.entry),
        judged_alike=again == signed.body.assessment,
        superseded=seen.entry.revision not in {head.entry.revision for head in heads},
    )
