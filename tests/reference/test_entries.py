"""One line of every kind and version ever released, kept for ever: it still opens as written.

Made by the demo mine of that version. A sample is never mended: where the form changes, the
new version gets a sample of its own.
"""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry

from schemas.bodies import BODIES
from schemas.canonical import canonical_bytes
from schemas.entry import Entry, corrected, read_entry
from schemas.json_schema import published
from schemas.signatures import Certificate, is_signed_by
from tests.made import stated

FOLDER = Path(__file__).parent / "entries"
SITE_KEY = "d1572b8102725d6b0a07d1772c0f68b20bd69109b5f6c498fb21d9de4c0879a5"
"""The demo mine's site key, which certified the person and the tablet."""

REVISIONS = {
    "heading-1": "bef8270dbc1ef6cb66224f4e585cffedb471e77cabf0367496e4d2e871a36a0f",
    "standard-1": "4db45a4b2c74df9fbe05b1323d424d06f54db3818923a32d2453b29f1c9a9706",
    "round-1": "efb65bc7ec4a1084762bfd14e384c7c2ea09f9d6d39be9aa72ff72df3f128b99",
    "round-1-over_old": "aebc574eec7746dcb910ddbdbd318f816301f83b7d4c24607fbde076c95c9d7f",
    "round-1-two_grounds": "74fc261229c95764d59a142d1eeb41703c2a7f6d9ad988983a71fa9d873f6af2",
    "sign_off-1": "357abbf26d29f5fdd881a124808db12681de14ee12dbaa819b8922ed1640826c",
    "event-1": "3ccf24d4143e9670ffdac2562d00d03a4fb1706bd5d4405643897976d8712c49",
    "event-1-stripped": "4a36e3580956f2cd2da8aa4eda35f058d6358b188163891ba9f95e0db62b787c",
    "entry_notice-1": "9dde7f701a1fdb11c8a91ac1f80b855510258c16d1ec8612a05a2fe0e8d57f64",
    "deviation-1": "b9ae675e07e969ff8467e0092a5c02541791028f919ccfcc9cff3c5c8d60b192",
    "deviation-1-signed": "56a504fe6e74100de7f863861f3be1058f32469f29572593174722430894c543",
    "batch-1": "d03a87cf5bc0912c0e70bb8d5ce28eabaea96f0bcebfa51aca763060c587ec05",
    "person-1": "bc15822f28b19d69eb395860776fbd4b94b657e25cc2b54ed34e7b21ff76381c",
    "tablet-1": "b1367817563da45f71d900382d9b9d739919962fc11f071998444467883cf545",
    "photo-1": "909b66e35b6366489eb905e24caaac5034aaa30865923881c3d5ea5ca33c400f",
    "photo_marks-1": "95da5e925809ea0ec1b5ed0d300101f23cbad18cc74b09ca3b0ee5f5a78e07bc",
    "photo_measurement-1": "5a9d07b506f71f14ddba3d24660cde5405baa13c93e9f462eef710d824f46dbb",
    "key_request-1": "d547aa9e2d46dba06552480dd1520dd0e1a85f5de4b28bfe8193c26e6c333ebe",
    "damage-1": "ce8a038408d15128e9f437645aea4aa9ce5bf8d91bd7ff83ad32b24d9842cc16",
    "rehab-1": "08131c5979f99b67038e79915732540caea1fcf627a4b2c9a5b2ccad088ad097",
    "survey_peg-1": "3a37e918f9ba02fb0a10a9dc2ffbe67549291b8eeae0a6ea9271e99ea77d2755",
    "walk-1": "f73ea80625e4c1f87d8950a11b2163344d97254cb1035a77ee87a13766470c8f",
    "bolt_test-1": "16da24eb181c456f03927d61c8d82e009c2a8fc64859463664568074c76d174b",
    "bolt_test-1-cores": "638392c54390d6be495157a61e456bf73589cb393e35f1cb137443558f4564bc",
    "heading-1-surveyed": "899a58be83176423a14404256fb5b0ccad41badde518c78c110ed7910d47dae1",
    "round-1-work": "0e8a8c26842e4e815a8e1f4b1754bd764ab0b36964afb1a5312fef4c8623b5c0",
    "looked_into-1": "c6c29b11411b0502e87c444ba0d2189c13b32e741fb19dc257a705fd413869ef",
    "told-1": "2b2320ea899f893a1a4ab77b5d77309f470cb82f50165ac45442445284c5ea4d",
    "intersection-1": "077b9633f0d2f9c3e950065a551b4ce30f396966b7b44397da1e3e8b59288d17",
    "withdrawal-1": "ef712d847414ba85f683b8e8ed35d8e6a67834b7ebf47bac953e42d841796642",
    "receipt-1": "46ebf25ac076096baa2274acbcf44f5ddee65b0142fc18beaaee8436b6c2fcd4",
    "bad_file-1": "da3efcffcf3cea7af7bc573b33bf31842f8f396db752331f923039c83deae3f4",
    "bad_file-1-good_again": "f6ee123c4c69ae2a2b100cb36d051b7fd61c76a0f1bdfab3d9bb5c2d97b2736a",
    "bad_file-1-photo": "341795369a854697fb73a4839d3214ef9b513cb536035b6dec16c3fcb05396ce",
    "clock_note-1": "f9f8e31d42c990e9085f313c61d08955b91cca267db1b519b3a9bd22711634d4",
    "clock_note-1-behind": "f22bd30f520ae00537e5ac1c3ce057e25be519820be8028bf1231568564e325f",
}

ASSESSMENTS = {
    1: "de88e4e19d3669e8b60465cea5d5553fde61694ec9e3690bbe894c7194f374dd",
    2: "e7a291febd614a560fc32bae09053adc07a97de08918f1a899f37ae649eaafc9",
    3: "450c585a012e2f4cb8013a37893da7c7a3e5f6c25194c92c1dba63188a8609fc",
    4: "fd7a10fff038324a77cf871989df0503de39c9d8485e84fe1865d2aa43fdf809",
    5: "17fea235fc3bf2b5f5a7890e8c0712ddb79c6cfdea6236691558716cf95748be",
    6: "543a8ee9bd95f0436b2fb800590792d025837788e812bcf6719145c8eed3ef3f",
}
"""What the sample round comes to, by method version: a raised version adds its own."""

samples = pytest.mark.parametrize("name", REVISIONS)
SCHEMAS = {name: json.loads(raw) for name, raw in published().items()}
REGISTRY: Registry[Any] = Registry().with_contents([(it["$id"], it) for it in SCHEMAS.values()])


def sample(name: str) -> Entry:
    line = (FOLDER / f"{name}.json").read_bytes().removesuffix(b"\n")
    return read_entry(line, source=name)


def body(name: str) -> Any:
    entry = sample(name)
    return BODIES[entry.kind].model_validate(dict(entry.body))


def test_every_sample_is_in_the_list() -> None:
    assert {path.stem for path in FOLDER.glob("*.json")} == set(REVISIONS)


@samples
def test_its_bytes_and_hash_are_what_they_were(name: str) -> None:
    assert sample(name).revision == REVISIONS[name]


@samples
def test_every_field_of_it_is_read_and_written_back_alike(name: str) -> None:
    """What a newer version adds is left out where it was never said."""
    written = body(name).model_dump(mode="json", exclude_none=True, exclude_unset=True)

    assert canonical_bytes(written) == canonical_bytes(sample(name).body)


@samples
def test_it_is_of_the_published_form(name: str) -> None:
    validator = Draft202012Validator(SCHEMAS["entry.json"], registry=REGISTRY)

    assert [
        error.json_path for error in validator.iter_errors(json.loads(sample(name).line))
    ] == []


@samples
def test_a_correction_of_it_keeps_everything_it_does_not_change(name: str) -> None:
    before = sample(name)
    after = corrected(before, {"a_newer_field": "kept"}, stated())

    assert dict(after.body) == {**before.body, "a_newer_field": "kept"}
    assert after.parents == (before.revision,)


@pytest.mark.parametrize("name", ["sign_off-1", "deviation-1-signed"])
def test_the_signature_still_fits(name: str) -> None:
    assert is_signed_by(sample(name), body(name).public_key)


def test_the_signer_is_still_certified_by_the_site() -> None:
    person = body("person-1")
    certificate = Certificate(
        holder=sample("person-1").id,
        public_key=person.public_key,
        roles=person.roles,
        site_key=SITE_KEY,
        signature=person.certificate,
    )

    assert certificate.is_from(SITE_KEY)
    assert person.public_key == body("sign_off-1").public_key


def test_the_round_still_comes_to_the_assessment_that_was_signed() -> None:
    """By the same method version the same bytes, for ever; by every one the same headline."""
    from fieldapp.assess import assess
    from fieldapp.work.sign import assessment_hash
    from schemas.bundle import Bundle

    signed = body("sign_off-1")
    bundle = Bundle(
        heading=body("heading-1"),
        standard=body("standard-1"),
        round=body("round-1"),
        as_at=signed.judged_at,
    )
    found = assess(bundle)

    assert signed.assessment == ASSESSMENTS[1], "the sample was judged by version 1"
    assert assessment_hash(found) == ASSESSMENTS[found.method_version]
    assert found.headline in signed.says
