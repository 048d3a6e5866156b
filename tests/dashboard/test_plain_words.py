"""What screens say can be read by a learner of thirteen: by formulas, short sentences, names of creatures left out.

Formulas: Flesch-Kincaid grade (Kincaid and others 1975), SMOG (McLaughlin 1969, as it is given for any number of
sentences) and the automated readability index (Smith and Senter 1967), all from memory; syllables are counted by groups
of vowels, which is right for most English words.
"""

import re

import pytest

from dashboard.words.gathering import texts
from tests.dashboard.test_page import QUESTIONS, app, one_desk, opened  # noqa: F401

HIGHEST_GRADE = 8
MOST_WORDS_ON_AVERAGE = 15
FEWEST_WORDS = 3
"""So few words are a label or a heading, not a sentence."""
NAMES = re.compile(
    r"\b(cabbage (white|looper|aphid)s?|diamondback moths?|harlequin bugs?|flea beetles?|(striped )?cucumber beetles?|"
    r"caterpillars?|azadirachtin|pyrethrins|spinosad|kohlrabi|broccoli|collards?|cucumbers?|lettuce|woodpecker-like|nestlings?)\b",
    re.IGNORECASE,
)
STATES = {
    "garden": {},
    "guess": {},
    "watch": {},
    "compare": {},
    "went": {},
    "try_out": {"try": "net", "set": "pests.arrivals:2.0"},
    "home": {"lesson": "late_cover"},
    "origin": {},
}


def sentences_of(page):
    kinds = (page.title, page.header, page.subheader, page.markdown, page.info, page.warning, page.caption)
    for kind in kinds:
        for part in kind:
            yield from sentences_in(part.value)


def sentences_in(text):
    plain = re.sub(r"[*_`#]|\$\\?|:material/\w+:", "", NAMES.sub("pest", text))
    for sentence in re.split(r"(?<=[.?!])\s+|\n+(?=- )|\n\n+", plain):
        words = re.findall(r"[A-Za-z][A-Za-z'-]*|\d[\d,.]*", sentence)
        if len(words) > FEWEST_WORDS:
            yield words


def syllables(word):
    groups = len(re.findall(r"[aeiouy]+", word.lower()))
    silent = len(word) > 3 and re.search(r"[^aeiouyl]e[ds]?$|[^aeiou]es$", word.lower()) is not None
    return max(1, groups - silent)


def grades(sentences):
    words = [word for sentence in sentences for word in sentence]
    a_sentence = len(words) / len(sentences)
    kincaid = 0.39 * a_sentence + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    long_words = sum(syllables(word) > 2 for word in words)
    smog = 1.043 * (30 * long_words / len(sentences)) ** 0.5 + 3.1291
    readability = 4.71 * sum(map(len, words)) / len(words) + 0.5 * a_sentence - 21.43
    return a_sentence, kincaid, smog, readability


@pytest.mark.parametrize("screen", QUESTIONS)
def test_a_screen_is_said_in_plain_words(app, screen):  # noqa: F811
    sentences = list(sentences_of(opened(app, screen, **STATES[screen])))
    a_sentence, kincaid, smog, readability = grades(sentences)
    print(screen, len(sentences), *(round(one, 1) for one in (a_sentence, kincaid, smog, readability)))
    assert a_sentence <= MOST_WORDS_ON_AVERAGE
    assert kincaid <= HIGHEST_GRADE
    assert smog <= HIGHEST_GRADE
    assert readability <= HIGHEST_GRADE


def test_every_sentence_of_ours_together_is_plain():
    said = [
        text if isinstance(text, str) else text[1] for text, places in texts().items() if places != ["sim/MODEL.md"]
    ]
    plain = [re.sub(r"\{[^{}]*\}", "five", text) for text in said if re.search(r"[.?!]\W*$", text)]
    a_sentence, kincaid, smog, readability = grades([words for text in plain for words in sentences_in(text)])
    print(len(plain), *(round(one, 1) for one in (a_sentence, kincaid, smog, readability)))
    assert a_sentence <= MOST_WORDS_ON_AVERAGE
    assert max(kincaid, smog, readability) <= HIGHEST_GRADE


def test_the_formulas_tell_hard_from_plain():
    hard = "The institutional implementation of comprehensive methodological considerations necessitates collaboration."
    plain = "The net keeps the bugs out. The birds get less to eat. Which do you like?"
    for text, is_plain in ((hard, False), (plain, True)):
        _, kincaid, smog, readability = grades(
            [re.findall(r"\w+", one) for one in re.split(r"[.?]", text) if one.strip()]
        )
        assert (kincaid <= HIGHEST_GRADE) == is_plain
        assert (smog <= HIGHEST_GRADE) == is_plain
        assert (readability <= HIGHEST_GRADE) == is_plain
