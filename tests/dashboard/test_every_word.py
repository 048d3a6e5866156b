"""What every catalogue says: whole, not copied, with the same figures, and plain.

Reading ease of Spanish: Fernández-Huerta's formula, 206.84 - 60 syllables a word - 1.02 words a sentence (in the usual
reading, which mends a slip in how it was first printed), and Szigriszt-Pazos's, 206.835 - 62.3 syllables a word - words
a sentence, read on the INFLESZ scale of Barrio-Cantalejo and others (2008), on which 55 to 65 is "normal" and more is
easy. Formulas and scale are from memory. Syllables are counted by groups of vowels, with the rule for hiatus.
"""

import re

import pytest

from dashboard.words.catalogues import COMMAND, catalogue_text, faults, file_of, languages, read_catalogue, renewed
from dashboard.words.gathering import texts

HOW = f"run '{COMMAND}', which adds what is missing, fill in each empty msgstr in dashboard/words, and run it again"
LEAST_EASE = 60
MOST_WORDS_ON_AVERAGE = 15
SPOKEN_AS_IN_ENGLISH = {"spinosad", "animal", "pupa", "Plan", "plan", "min"}


def worded(language):
    """Return each text with its words, of one and of several the words for several."""
    catalogue = read_catalogue(language)
    for text in texts():
        found = catalogue.get(text if isinstance(text, str) else text[0])
        said = found.string if found is not None and found.id == text else ""
        yield (text, said) if isinstance(text, str) else (text[1], said[-1] if said else "")


@pytest.mark.parametrize("language", languages())
def test_every_text_has_its_words_and_the_same_places_in_braces(language):
    amiss = [f"{text!r} {fault}" for text, fault in faults(language)]
    assert not amiss, f"{HOW}:\n" + "\n".join(amiss)


@pytest.mark.parametrize("language", languages())
def test_a_catalogue_is_as_the_command_writes_it(language):
    assert file_of(language).read_text(encoding="utf-8") == catalogue_text(renewed(language)), HOW


@pytest.mark.parametrize("language", languages())
def test_figures_written_into_a_text_stay_the_same(language):
    for text, said in worded(language):
        assert not said or figures(said) == figures(text), text


def figures(text):
    plain = re.sub(r"\{[^{}]*\}", "", text)
    return sorted(re.findall(r"\d[\d,.]*\d|\d", plain))


@pytest.mark.parametrize("language", languages())
def test_words_are_translated_not_copied(language):
    copied = {text for text, said in worded(language) if said == text}
    assert {text for text in copied if re.search(r"[a-z]{3}", re.sub(r"\{[^{}]*\}", "", text))} <= SPOKEN_AS_IN_ENGLISH


def test_spanish_is_plain():
    sentences = [words for _, said in worded("es") for words in sentences_of(said)]
    words = [word for sentence in sentences for word in sentence]
    a_sentence = len(words) / len(sentences)
    a_word = sum(map(syllables, words)) / len(words)
    huerta = 206.84 - 60 * a_word - 1.02 * a_sentence
    inflesz = 206.835 - 62.3 * a_word - a_sentence
    print(len(sentences), round(a_sentence, 1), round(a_word, 2), round(huerta, 1), round(inflesz, 1))
    assert a_sentence <= MOST_WORDS_ON_AVERAGE
    assert huerta >= LEAST_EASE
    assert inflesz >= LEAST_EASE


def sentences_of(text):
    plain = re.sub(r"\{[^{}]*\}|[*“”()]", "", text)
    for sentence in re.split(r"(?<=[.?!;:])\s+", plain):
        words = re.findall(r"[^\W\d_]+", sentence)
        if len(words) > 3 and sentence.rstrip().endswith((".", "?", "!", ";", ":")):
            yield words


def syllables(word):
    """Count groups of vowels; strong vowels side by side, and an accented weak one, stand apart."""
    groups = re.findall(r"[aeiouáéíóúü]+", re.sub(r"qu|gu(?=[eiéí])", "k", word.lower()))
    apart = sum(len(re.findall(r"(?=[aeoáéó][aeoáéó]|[íú][aeo]|[aeo][íú])", group)) for group in groups)
    return max(1, len(groups) + apart)


@pytest.mark.parametrize(
    ("word", "count"),
    [("huerta", 2), ("rociado", 3), ("oruga", 3), ("guantes", 2), ("leer", 2), ("día", 2), ("que", 1)],
)
def test_syllables_are_counted(word, count):
    assert syllables(word) == count


def test_hard_spanish_is_told_from_plain():
    hard = "La implementación institucional de consideraciones metodológicas comprehensivas."
    plain = "La malla no deja pasar a los bichos. Las aves comen menos."
    eases = []
    for text in (hard, plain):
        words = [word for sentence in sentences_of(text) for word in sentence]
        eases.append(206.84 - 60 * sum(map(syllables, words)) / len(words))
    assert eases[0] < LEAST_EASE < eases[1]
