"""A file is there whole or not at all, and a place that refuses is told in one sentence."""

from __future__ import annotations

import os

import pytest

from sim.errors import OutputError
from sim.writing import write_whole, writing


def test_a_place_that_cannot_be_written_is_told(tmp_path):
    with pytest.raises(OutputError) as told, writing(tmp_path / "no" / "page.md"):
        (tmp_path / "no" / "page.md").write_text("")
    assert str(told.value) == f"'{tmp_path}/no/page.md' cannot be written: No such file or directory."


def test_other_mistakes_pass_as_they_are(tmp_path):
    with pytest.raises(ValueError, match="ours"), writing(tmp_path):
        raise ValueError("ours")


def test_a_file_is_written_and_nothing_stays_beside_it(tmp_path):
    write_whole(tmp_path / "seasons", b"one")
    write_whole(tmp_path / "seasons", b"two")
    assert [path.name for path in tmp_path.iterdir()] == ["seasons"]
    assert (tmp_path / "seasons").read_bytes() == b"two"


def test_a_file_that_fails_leaves_the_one_before(tmp_path, monkeypatch):
    write_whole(tmp_path / "seasons", b"one")

    def full(handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(tmp_path / "seasons", b"two")
    assert [path.name for path in tmp_path.iterdir()] == ["seasons"]
    assert (tmp_path / "seasons").read_bytes() == b"one"
