"""Whatever stands in a bundle, it is a verdict or a refusal: never a crash, never a wrong type."""

import io
import json
from collections.abc import Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from fieldapp.cli import main
from tests.unit.cli.bundles import CONFORMING, LOOSE, TWO_MISSING, document

DOCUMENTS = [document(scenario) for scenario in (CONFORMING, LOOSE, TWO_MISSING)]
VERDICTS = {0, 3, 4}
REFUSED = 2

scalars = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(2**70), 2**70),
    st.floats(),
    st.text(max_size=8),
    st.decimals(allow_nan=True, allow_infinity=True).map(str),
    st.sampled_from(["0", "-0.001", "0.000001", "60", "100", "99999", "1e5", "٣", "1.4"]),
    st.sampled_from(["accept", "missing", "present", "fired", "2031-05-06T09:30:00Z"]),
)
values = st.recursive(
    scalars,
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=6), inner, max_size=3)
    ),
    max_leaves=6,
)


def places(found: Any) -> Iterator[tuple[Any, Any]]:
    """Give every place of a document: what holds it, and its name there."""
    inside = found.items() if isinstance(found, dict) else enumerate(found)
    for name, value in inside:
        yield found, name
        if isinstance(value, dict | list):
            yield from places(value)


def assessed(raw: bytes) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with TemporaryDirectory() as folder, redirect_stdout(out), redirect_stderr(err):
        path = Path(folder) / "bundle.json"
        path.write_bytes(raw)
        code = main(["assess", str(path), "--json"])
    return code, out.getvalue(), err.getvalue()


def check(raw: bytes) -> None:
    code, out, err = assessed(raw)

    assert code in {*VERDICTS, REFUSED}, err
    assert "Traceback" not in err
    if code == REFUSED:
        assert out == ""
        assert len(err.splitlines()) == 3
    else:
        assert json.loads(out)["findings"]


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.data())
def test_a_bundle_with_anything_anywhere_is_judged_or_refused(data: st.DataObject) -> None:
    found = json.loads(json.dumps(data.draw(st.sampled_from(DOCUMENTS))))
    for _ in range(data.draw(st.integers(1, 3))):
        everywhere = list(places(found))
        holder, name = everywhere[data.draw(st.integers(0, len(everywhere) - 1))]
        if data.draw(st.booleans()):
            holder[name] = data.draw(values)
        elif isinstance(holder, dict):
            del holder[name]
        else:
            holder.pop(name)
    check(json.dumps(found).encode("utf-8", "surrogatepass"))


@settings(max_examples=100, deadline=None)
@given(st.binary(max_size=60))
@example(b"[" * 200_000)
@example(b'{"a":' * 100_000)
@example(b'"' + b"\\" * 100_001)
@example(b"9" * 100_000)
def test_any_bytes_are_refused(raw: bytes) -> None:
    code, _, err = assessed(raw)

    assert code == REFUSED
    assert len(err.splitlines()) == 3


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(DOCUMENTS), st.data())
def test_a_torn_bundle_is_refused(found: Any, data: st.DataObject) -> None:
    raw = json.dumps(found).encode()
    code, _, _ = assessed(raw[: data.draw(st.integers(0, len(raw) - 1))])

    assert code == REFUSED


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(DOCUMENTS), st.data())
def test_a_flipped_bit_never_crashes(found: Any, data: st.DataObject) -> None:
    raw = bytearray(json.dumps(found).encode())
    place = data.draw(st.integers(0, len(raw) - 1))
    raw[place] ^= 1 << data.draw(st.integers(0, 7))
    check(bytes(raw))
