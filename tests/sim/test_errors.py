"""A sentence reads as text and remembers what it was made of."""

from __future__ import annotations

import pickle

import pytest

from sim.errors import RunError, Sentence, near_names, quoted, tell, tell_many, unknown, why_of


def test_a_sentence_is_its_english_text():
    assert tell("{count} seasons", count=3) == "3 seasons"
    assert f"{tell('no {what}', what=tell('net'))}." == "no net."


def test_a_sentence_remembers_its_template_and_values():
    inner = tell("a net of {mesh_mm:g} mm", mesh_mm=0.8)
    said = tell("There is {what}.", what=inner)
    assert (said.templates, said.values["what"].values) == (("There is {what}.",), {"mesh_mm": 0.8})


def test_a_sentence_comes_back_from_another_process():
    error = pickle.loads(pickle.dumps(RunError(tell("{count} processes", count=0))))
    assert isinstance(error.sentence, Sentence)
    assert error.sentence.templates == ("{count} processes",)


def test_a_sentence_of_several_comes_back_from_another_process():
    said = pickle.loads(pickle.dumps(RunError(tell_many("one bed of {kind}", "{count} beds", 2, kind="kale"))))
    assert (str(said), said.sentence.values) == ("2 beds", {"count": 2, "kind": "kale"})


@pytest.mark.parametrize(("count", "said"), [(0, "0 plans of kale"), (1, "one plan of kale"), (2, "2 plans of kale")])
def test_one_thing_is_told_otherwise_than_several(count, said):
    assert tell_many("one plan of {bed}", "{count} plans of {bed}", count, bed="kale") == said


def test_names_are_quoted_to_choose_from_or_all_of_them():
    assert quoted(["net"], is_choice=True) == "'net'"
    assert quoted(["net", "soap", "bt"], is_choice=True) == "'net' or 'soap' or 'bt'"
    assert quoted(["net", "soap"], is_choice=False) == "'net' and 'soap'"


def test_braces_in_a_value_stay():
    assert tell("'{name}'", name="{odd}") == "'{odd}'"


@pytest.mark.parametrize(
    ("name", "asked"),
    [("nett", " Did you mean 'net'?"), ("net", " Did you mean 'net' or 'nets'?"), ("oak", "")],
)
def test_near_names_are_asked_about(name, asked):
    known = ["net", "nets"] if asked.count("'") > 2 else ["net"]
    assert near_names(name, known) == asked


def test_a_name_that_is_not_known_is_told_with_those_that_are():
    said = tell("There is no plan '{name}'", name="nett")
    assert unknown(said, "nett", ["net", "soap"]) == (
        "There is no plan 'nett'; allowed: net, soap. Did you mean 'net'?"
    )
    assert unknown(said, "quid", ["net", "soap"]) == "There is no plan 'nett'; allowed: net, soap."
    assert unknown(said, "nett", ["net", "soap"], is_listed=False) == "There is no plan 'nett'. Did you mean 'net'?"


def test_the_machine_s_reasons_are_its_own_words(tmp_path):
    with pytest.raises(FileNotFoundError) as absent:
        (tmp_path / "absent").read_bytes()
    assert why_of(absent.value) == absent.value.strerror == "No such file or directory"
