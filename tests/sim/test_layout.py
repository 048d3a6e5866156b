"""Beds, rows and plants on the ground."""

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from sim.cast import Crop
from sim.layout import MARGIN_DISTANCE_M, PATH_M, lay_out
from tests.strategies import bed, garden, gardens

some = settings(max_examples=40, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))


def test_rows_and_spacing_give_the_plants():
    ground = lay_out(garden(bed(length_m=3.0, width_m=1.2, row_spacing_m=0.6, plant_spacing_m=0.5)))
    assert ground.first_plant[1] == 2 * 6
    np.testing.assert_allclose(np.unique(ground.x_m[:12]), [0.3, 0.9])
    np.testing.assert_allclose(np.diff(np.unique(ground.y_m[:12])), 0.5)


def test_the_rim_is_told_from_the_middle():
    ground = lay_out(garden(bed(length_m=2.0, width_m=1.5, row_spacing_m=0.5, plant_spacing_m=0.5)))
    rim = ground.edge_share[: ground.first_plant[1]].reshape(3, 4)
    np.testing.assert_array_equal(rim, [[1, 1, 1, 1], [1, 0, 0, 1], [1, 1, 1, 1]])


def test_beds_lie_a_path_apart_and_the_margin_beside_all():
    ground = lay_out(garden(bed(), bed("kale"), bed("radish")))
    assert ground.distance_m[0, 1] == pytest.approx(PATH_M)
    assert ground.distance_m[0, 2] == pytest.approx(PATH_M)
    assert ground.distance_m[1, 2] == pytest.approx(np.hypot(PATH_M, PATH_M))
    assert (ground.distance_m[:-1, -1] == MARGIN_DISTANCE_M).all()


def test_wild_hosts_stand_in_the_margin_a_square_metre_each():
    ground = lay_out(garden(bed(), margin={"wild_host_plants": 5, "area_m2": 40.0}))
    wild = slice(ground.first_plant[-2], ground.first_plant[-1])
    assert (ground.crop[wild] == Crop.WILD_HOSTS).all()
    assert (ground.bed[wild] == ground.margin).all()
    assert (ground.ground_area_m2[wild] == 1.0).all()
    assert ground.area_m2[-1] == 40.0
    outside = (ground.x_m[wild] < 0) | (ground.x_m[wild] > 1.2) | (ground.y_m[wild] < 0) | (ground.y_m[wild] > 2.0)
    assert outside.all()


@some
@given(scenario=gardens())
def test_a_layout_holds_together(scenario):
    ground = lay_out(scenario)
    beds = scenario.single_beds
    assert ground.names == (*(one.name for one in beds), "margin")
    assert ground.first_plant[-1] == len(ground.crop) == len(ground.x_m) == len(ground.edge_share)
    np.testing.assert_array_equal(np.diff(ground.first_plant)[:-1], [one.plant_count for one in beds])
    np.testing.assert_array_equal(ground.distance_m, ground.distance_m.T)
    assert (np.diag(ground.distance_m) == 0).all()
    for place, one in enumerate(beds):
        rows = slice(ground.first_plant[place], ground.first_plant[place + 1])
        assert ground.ground_area_m2[rows].sum() == pytest.approx(one.length_m * one.width_m)
        assert (ground.x_m[rows] > ground.left_m[place]).all()
        assert (ground.x_m[rows] < ground.left_m[place] + one.width_m).all()
        assert (ground.y_m[rows] > ground.bottom_m[place]).all()
        assert (ground.y_m[rows] < ground.bottom_m[place] + one.length_m).all()
    assert ground.garden_area_m2 > ground.area_m2.sum()
