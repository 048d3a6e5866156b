"""Every mistake is told as a sentence that another language can say again.

The checker of types sees to it that errors are raised with such a sentence and nothing else; what it cannot see is
looked at here.
"""

from __future__ import annotations

import ast
import inspect

import pytest

import dashboard.brought.own_files
import dashboard.codes.letters  # noqa: F401
import sim.jobs  # noqa: F401
from sim.errors import LeafnestError, Sentence
from sim.scenario.values import refuse
from tests.house.files import ROOT

TEMPLATES = {"tell": 1, "tell_many": 2}
"""What makes a sentence → how many texts it takes."""


def _sources():
    for folder in ("sim", "dashboard", "scenarios"):
        for file in sorted((ROOT / folder).rglob("*.py")):
            yield file.relative_to(ROOT).as_posix(), file.read_text(encoding="utf-8")


def _calls(source, names):
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in names:
            yield node


def _is_text(node):
    return isinstance(node, ast.Constant) and isinstance(node.value, str)


def _not_gathered(source):
    """Return the lines of sentences whose template is not written out, so that no catalogue can hold it."""
    return [
        call.lineno
        for call in _calls(source, TEMPLATES)
        if len(call.args) < TEMPLATES[call.func.id] or not all(map(_is_text, call.args[: TEMPLATES[call.func.id]]))
    ]


def _bare_english(source):
    """Return the lines of sentences with words in their places that stay English in every language."""
    amiss = []
    for call in _calls(source, TEMPLATES):
        for given in call.keywords:
            choices = (given.value.body, given.value.orelse) if isinstance(given.value, ast.IfExp) else (given.value,)
            amiss += [one.lineno for one in choices if _is_text(one) and one.value]
            amiss += [one.lineno for one in choices if isinstance(one, ast.JoinedStr) and _has_words(one)]
    return amiss


def _has_words(text):
    return any(letter.isalpha() for part in text.values if _is_text(part) for letter in part.value)


def _family(error=LeafnestError):
    yield error
    for below in error.__subclasses__():
        yield from _family(below)


@pytest.mark.parametrize("error", list(_family()))
def test_every_error_takes_a_sentence(error):
    taken = inspect.signature(error).parameters["sentence"]
    assert taken.annotation in (Sentence, "Sentence")


@pytest.mark.parametrize(("given", "kind"), [("allowed", "Sentence"), ("has", "Sentence | None")])
def test_a_value_is_refused_with_sentences(given, kind):
    assert inspect.signature(refuse).parameters[given].annotation == kind


def test_every_template_is_written_out_where_it_is_told():
    sources = list(_sources())
    assert sum(len(list(_calls(source, TEMPLATES))) for _place, source in sources) > 200
    assert [(place, lines) for place, source in sources if (lines := _not_gathered(source))] == []


def test_no_place_of_a_sentence_is_filled_with_bare_english():
    assert [(place, lines) for place, source in _sources() if (lines := _bare_english(source))] == []


def test_sentences_are_made_in_one_place_only():
    made = [place for place, source in _sources() if list(_calls(source, {"Sentence"}))]
    assert made == ["sim/errors.py"]


@pytest.mark.parametrize(
    ("source", "finder"),
    [
        ("tell(text, name=name)", _not_gathered),
        ("tell(f'no {name}')", _not_gathered),
        ("tell_many('one', several, count)", _not_gathered),
        ("tell('{what}', what='a net')", _bare_english),
        ("tell('{what}', what='' if net else 'none')", _bare_english),
        ("tell('{what}', what=f'a net of {mesh}')", _bare_english),
    ],
)
def test_a_slip_would_be_found(source, finder):
    assert finder(source) == [1]


def test_what_is_sound_is_let_be():
    source = "tell_many('one', '{count}', 2, name=name, none='', range=f'{low}-{high}', what=tell('a net'))"
    assert _not_gathered(source) == _bare_english(source) == []
