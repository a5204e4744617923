"""Words one letter apart, against the distance of strings as it is usually computed.

The reference is the table of Wagner and Fischer, *The String-to-String Correction Problem*
(Journal of the ACM 21, 1974), with the swap of neighbours of Lowrance and Wagner (1975).
Both are from memory.
"""

from __future__ import annotations

from hypothesis import example, given
from hypothesis import strategies as st

from sleevewright.jobs.searchwords import (
    near_words,
    one_letter_apart,
    read_query,
    variants,
    words_of,
)

WORDS = st.text(alphabet="abcd", max_size=8)
LONG_WORDS = st.text(alphabet="abcdefgh", min_size=4, max_size=12)


def distance(one: str, other: str) -> int:
    """Least number of insertions, deletions, changes and swaps of neighbours."""
    rows = [
        [max(i, j) if not i * j else 0 for j in range(len(other) + 1)] for i in range(len(one) + 1)
    ]
    for i, a in enumerate(one, start=1):
        for j, b in enumerate(other, start=1):
            rows[i][j] = min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + (a != b))
            if i > 1 and j > 1 and a == other[j - 2] and one[i - 2] == b:
                rows[i][j] = min(rows[i][j], rows[i - 2][j - 2] + 1)
    return rows[-1][-1]


@st.composite
def slipped(draw: st.DrawFn) -> tuple[str, str]:
    """A word and the same word with one slip of a letter."""
    word = draw(LONG_WORDS)
    place = draw(st.integers(0, len(word) - 1))
    letter = draw(st.sampled_from("abcdefghxyz"))
    kind = draw(st.sampled_from(["out", "in", "changed", "swapped"]))
    if kind == "out":
        return word, word[:place] + word[place + 1 :]
    if kind == "in":
        return word, word[:place] + letter + word[place:]
    if kind == "changed":
        return word, word[:place] + letter + word[place + 1 :]
    return word, word[:place] + word[place : place + 2][::-1] + word[place + 2 :]


@given(one=WORDS, other=WORDS)
@example(one="abcd", other="abdc")
@example(one="ab", other="ba")
@example(one="", other="a")
def test_one_letter_apart_is_a_distance_of_at_most_one(one: str, other: str) -> None:
    """The quick comparison agrees with the table of distances for any two words."""
    assert one_letter_apart(one, other) is (distance(one, other) <= 1)


@given(pair=slipped())
def test_two_words_one_slip_apart_share_a_variant(pair: tuple[str, str]) -> None:
    """The table of variants finds every word that a slip away, so none is missed."""
    word, typed = pair
    if len(typed) < 4:
        return
    assert set(variants(word)) & set(variants(typed))
    assert word in near_words(typed, [word])


@given(text=st.text(max_size=80))
def test_any_text_is_cut_into_plain_words(text: str) -> None:
    """No text breaks the cutter; words hold letters and digits alone and stay when cut again."""
    for word in words_of(text):
        assert word.isalnum() or all(letter.isalnum() for letter in word)
        assert len(word) <= 24
    assert read_query(text) == read_query(text)
