"""Searching plants, sampling them, and the scouting sheet."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.cast import SPECIES, STAGES, Species, Stage
from sim.parameters import load_parameters
from sim.practices.by_hand import find_table, found_in, plants_to_look_at, spot_table, write_sheet
from sim.practices.workday import Seen
from sim.randomness import stream_key


def noticed_on(*plants):
    sheet = np.zeros((len(plants), SPECIES, STAGES))
    for row, insects in enumerate(plants):
        for species, stage, count in insects:
            sheet[row, species, stage] = count
    return sheet


def test_tables_hold_shares_for_all_but_the_wasp():
    for table in (find_table(load_parameters()), spot_table(load_parameters())):
        assert table.shape == (SPECIES, STAGES)
        assert np.all((table >= 0.0) & (table <= 1.0))
        assert not table[Species.PARASITOID_WASP].any()
        assert table[:3, Stage.INSTAR_5].min() > 0.0


@given(share=st.floats(0.0, 1.0), seconds=st.floats(0.1, 200.0), more=st.floats(0.0, 100.0))
def test_a_longer_search_never_finds_less(share, seconds, more):
    less = found_in(np.array([share]), seconds, 20.0)[0]
    assert 0.0 <= less <= found_in(np.array([share]), seconds + more, 20.0)[0] + 1e-12
    assert found_in(np.array([share]), 20.0, 20.0)[0] == pytest.approx(share)


@given(count=st.integers(0, 40), day=st.integers(0, 300))
def test_a_sample_is_of_the_bed_and_the_same_every_time(count, day):
    key = stream_key(3, "scout", 0)
    rows = plants_to_look_at(key, day, 100, 130, count)
    assert len(set(rows.tolist())) == len(rows) == min(count, 30)
    assert np.all((rows >= 100) & (rows < 130))
    assert np.array_equal(rows, plants_to_look_at(key, day, 100, 130, count))


def test_every_plant_is_looked_at_equally_often():
    key = stream_key(3, "scout", 0)
    counts = np.bincount(np.concatenate([plants_to_look_at(key, day, 0, 20, 5) for day in range(2000)]), minlength=20)
    assert np.all(np.abs(counts - 500) < 4 * np.sqrt(2000 * 0.25 * 0.75))


def test_the_sheet_counts_plants_for_shares_and_beetles_for_means():
    white, bug, flea = Species.CABBAGE_WHITE, Species.HARLEQUIN_BUG, Species.FLEA_BEETLE
    sheet = write_sheet(
        noticed_on(
            [(white, Stage.INSTAR_3, 4), (white, Stage.EGG, 9), (flea, Stage.ADULT, 3)],
            [(white, Stage.EGG, 9), (bug, Stage.ADULT, 1)],
            [(Species.CUCUMBER_BEETLE, Stage.ADULT, 2), (bug, Stage.EGG, 12)],
            [(white, Stage.PUPA, 1), (white, Stage.ADULT, 1)],
        ),
        np.array([0.0, 25.0, 19.0, 20.0]),
        20.0,
    )
    assert sheet == Seen(0.25, 0.25, 0.75, 0.5, 0.5)
    assert write_sheet(np.zeros((0, SPECIES, STAGES)), np.zeros(0), 20.0) == Seen()
