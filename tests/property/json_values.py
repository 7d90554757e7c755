"""JSON as entries may hold it: text, whole numbers, words, nothing deeper than is read."""

import unicodedata

from hypothesis import strategies as st

from schemas.canonical import LARGEST_INTEGER, JsonObject, JsonValue

names = st.text(st.characters(max_codepoint=127), max_size=12)
texts = st.text(st.characters(codec="utf-8"), max_size=20)
normal_texts = texts.map(lambda text: unicodedata.normalize("NFC", text))
integers = st.integers(-LARGEST_INTEGER, LARGEST_INTEGER)


def json_values(words: st.SearchStrategy[str] = texts) -> st.SearchStrategy[JsonValue]:
    """Give any value, a few levels deep."""
    single: st.SearchStrategy[JsonValue] = st.none() | st.booleans() | integers | words
    return st.recursive(
        single,
        lambda inner: st.lists(inner, max_size=4) | st.dictionaries(names, inner, max_size=4),
        max_leaves=12,
    )


def json_objects(words: st.SearchStrategy[str] = texts) -> st.SearchStrategy[JsonObject]:
    """Give any object, a few levels deep."""
    return st.dictionaries(names, json_values(words), max_size=5)
