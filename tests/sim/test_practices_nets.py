"""Nets: null effects to the bit, sealed and open nets, edges, gaps, openings, badly closed lifts, birds."""

import mesa
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sim.cast import VISITORS, Visitor
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.fabrics import mesh_table, pass_share
from sim.practices.nets import Edges, Material, Nets, leak_of
from sim.practices.workday import Covering, Workday
from sim.surroundings import TODAY, open_ground

BEDS = 4
MARGIN = BEDS - 1
shares = st.floats(0.0, 1.0)


def a_day(day=0, **changes):
    days = records(np.zeros(1, TODAY))
    values = {"tmin_c": 11.3, "tmax_c": 24.7, "rain_mm": 6.1, "day_length_h": 13.7, "clear_share": 0.63} | changes
    days["day"] = day
    for name, value in values.items():
        days[name] = value
    return days[0]


def new_nets(seed=1, **numbers):
    parameters = load_parameters().with_changes({f"nets.{key}": value for key, value in numbers.items()})
    return Nets(mesa.Model(), parameters, bed_count=BEDS, seed=seed)


def written(nets, today=None):
    near = open_ground(np.full(BEDS, 4.8))
    nets.write(a_day() if today is None else today, near)
    return near


NO_NET = {
    "hole_mm": 1000.0,
    "light_share": 1.0,
    "warming_c": 0.0,
    "night_warming_c": 0.0,
    "rain_share": 1.0,
}


def test_bare_beds_are_the_open_air_to_the_bit():
    today = a_day()
    near = written(new_nets(), today)
    assert np.all(near.gets_in == 1.0)
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        assert np.all(near.beds[name] == today[name])
    assert np.all(near.beds["light_share"] == 1.0)
    assert np.all(near.beds["open_share"] == 1.0)
    assert np.all(near.beds["is_covered"] == 0)


@given(
    material=st.sampled_from(Material),
    edges=st.sampled_from(Edges),
    gap=shares,
    minutes=st.floats(0.0, 2000.0),
    tmin=st.floats(-20, 30),
    rain=st.floats(0, 80),
    clear=shares,
    light_hours=st.floats(8.0, 17.0),
)
@settings(max_examples=60, deadline=None)
def test_a_net_that_does_nothing_is_no_net_to_the_bit(material, edges, gap, minutes, tmin, rain, clear, light_hours):
    today = a_day(tmin_c=tmin, tmax_c=tmin + 9.7, rain_mm=rain, clear_share=clear, day_length_h=light_hours)
    nets = new_nets(**{f"{material.name.lower()}.{key}": value for key, value in NO_NET.items()})
    nets.put_on(0, material, edges, gap, (8.0, 11.5))
    nets.open_for(0, minutes)
    covered = written(nets, today)
    bare = written(new_nets(), today)
    assert np.array_equal(covered.gets_in, bare.gets_in)
    for name in ("tmin_c", "tmax_c", "rain_mm", "light_share", "sun_bonus_c"):
        assert covered.beds[name][0] == bare.beds[name][0], name
    assert nets.entangle_per_contact[0] == 0.0


def test_a_covered_bed_is_warmer_dimmer_and_sheltered_and_others_are_not():
    nets = new_nets()
    nets.put_on(1, Material.INSECT_MESH, Edges.BURIED)
    near = written(nets)
    assert near.beds["is_covered"].tolist() == [0, 1, 0, 0]
    assert near.beds["tmax_c"][1] == 24.7 + 1.0
    assert near.beds["light_share"][1] == pytest.approx(0.88)
    assert near.beds["rain_mm"][1] == pytest.approx(6.1 * 0.4)
    assert near.beds["open_share"][1] == 0.0
    assert np.all(near.gets_in[[0, 2, 3]] == 1.0)


def test_a_perfect_edge_and_a_fine_hole_let_nobody_in():
    nets = new_nets(edge_leak_share=[0.0, 0.0, 0.0], **{"fine_mesh.hole_mm": 0.1})
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED)
    assert np.all(written(nets).gets_in[0] == 0.0)


@given(hole=st.floats(0.05, 60.0), wider=st.floats(0.0, 20.0), stop=st.floats(0.2, 30.0))
def test_a_wider_hole_never_passes_fewer(hole, wider, stop):
    narrow, wide = pass_share(hole, stop, 1.6), pass_share(hole + wider, stop, 1.6)
    assert 0.0 <= narrow <= wide <= 1.0
    assert pass_share(stop, stop, 1.6) == 0.0
    assert pass_share(stop * 1.61, stop, 1.6) == 1.0


@given(edge=shares, gap=shares, more=shares, whole=shares)
def test_a_longer_gap_never_leaks_less(edge, gap, more, whole):
    longer = min(1.0, gap + more)
    assert leak_of(edge, 0.0, whole) == pytest.approx(edge)
    assert leak_of(edge, gap, whole) <= leak_of(edge, longer, whole) + 1e-12
    assert 0.0 <= leak_of(edge, gap, whole) <= 1.0


def test_edges_leak_in_the_order_buried_weighted_slack():
    nets = new_nets()
    for bed, edges in enumerate(Edges):
        nets.put_on(bed, Material.FINE_MESH, edges) if bed < MARGIN else None
    entry = written(nets).gets_in[:MARGIN, Visitor.CABBAGE_WHITE]
    assert entry == pytest.approx(load_parameters().numbers("nets.edge_leak_share"))
    assert entry[0] < entry[1] < entry[2]


def test_opening_for_a_job_lets_in_by_the_share_of_daylight():
    nets = new_nets(edge_leak_share=[0.0, 0.0, 0.0], badly_closed_share=0.0)
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED)
    nets.open_for(0, 30.0)
    nets.open_for(1, 30.0)  # bare: takes no notice
    near = written(nets, a_day(day_length_h=10.0))
    assert near.gets_in[0, Visitor.HONEY_BEE] == pytest.approx(0.05)
    assert near.gets_in[0, Visitor.BIRD] == pytest.approx(0.05)
    assert written(nets).gets_in[0, Visitor.HONEY_BEE] == 0.0  # closed again the day after


def test_daily_opening_counts_only_hours_of_light():
    nets = new_nets(edge_leak_share=[0.0, 0.0, 0.0])
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED, open_hours=(4.0, 9.0))
    near = written(nets, a_day(day_length_h=12.0))  # light from 6 to 18
    assert near.beds["open_share"][0] == pytest.approx(3 / 12)
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED, open_hours=(0.0, 24.0))
    near = written(nets, a_day(day_length_h=12.0))
    assert near.beds["open_share"][0] == 1.0
    assert np.all(near.gets_in[0] == 1.0)


def test_a_bad_closing_leaks_until_the_next_visit():
    nets = new_nets(badly_closed_share=0.2, badly_closed_leak_share=0.35, edge_leak_share=[0.02, 0.1, 0.35])
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED)
    badly_closed_after = []
    for day in range(4000):
        nets.open_for(0, 5.0)
        nets.write(a_day(day), open_ground(np.ones(BEDS)))
        badly_closed_after.append(int(nets.covers["is_badly_closed"][0]))
    assert np.mean(badly_closed_after) == pytest.approx(0.2, abs=0.03)
    nets.covers["is_badly_closed"][0] = 1
    near = written(nets, a_day(5000))
    assert near.gets_in[0, Visitor.CABBAGE_WHITE] == pytest.approx(1 - 0.98 * 0.65)
    assert near.gets_in[0, Visitor.BIRD] > 0.0
    nets.check(0)
    assert written(nets, a_day(5001)).gets_in[0, Visitor.CABBAGE_WHITE] == pytest.approx(0.02)


def test_a_net_never_lifted_is_never_badly_closed():
    nets = new_nets(badly_closed_share=0.2)
    nets.put_on(0, Material.FINE_MESH, Edges.BURIED)
    for day in range(300):
        nets.write(a_day(day), open_ground(np.ones(BEDS)))
        assert nets.covers["is_badly_closed"][0] == 0


def test_birds_come_in_only_by_slack_edges_or_openings():
    nets = new_nets()
    nets.put_on(0, Material.INSECT_MESH, Edges.WEIGHTED, 0.5)
    nets.put_on(1, Material.INSECT_MESH, Edges.SLACK)
    entry = written(nets).gets_in[:, Visitor.BIRD]
    assert entry[0] == 0.0
    assert 0.0 < entry[1] < 0.1


def test_wide_or_slack_nets_can_catch_a_bird_and_tight_fine_ones_cannot():
    nets = new_nets()
    nets.put_on(0, Material.INSECT_MESH, Edges.BURIED)
    nets.put_on(1, Material.BIRD_NET, Edges.BURIED)
    nets.put_on(2, Material.INSECT_MESH, Edges.SLACK)
    written(nets)
    assert nets.entangle_per_contact.tolist() == [0.0, 0.003, 0.003, 0.0]


def test_dense_shade_takes_the_warmth_of_the_sun():
    nets = new_nets(**{"row_cover.light_share": 0.5})
    nets.put_on(0, Material.ROW_COVER, Edges.BURIED)
    nets.put_on(1, Material.INSECT_MESH, Edges.BURIED)
    bonus = written(nets).beds["sun_bonus_c"]
    assert bonus[0] == 0.0
    assert bonus[1] == bonus[MARGIN] == pytest.approx(1.5 * 0.63)


def test_the_margin_cannot_be_covered():
    with pytest.raises(IndexError, match="cannot be covered"):
        new_nets().put_on(MARGIN, Material.VEIL, Edges.BURIED)


def test_nets_follow_the_workday():
    nets = new_nets()
    nets.put_on(0, Material.VEIL, Edges.BURIED)
    nets.put_on(1, Material.VEIL, Edges.BURIED)
    day = Workday(uncovered=[0], covered=[Covering(2, 0, 1, 0.0, None)], openings=[(1, 60.0)])
    nets.follow(day)
    near = written(nets, a_day(day_length_h=12.0))
    assert near.beds["is_covered"].tolist() == [0, 1, 1, 0]
    assert near.beds["open_share"][1] == pytest.approx(1 / 12)


def test_one_record_or_an_array_of_one_give_the_same():
    nets, near = new_nets(), open_ground(np.ones(BEDS))
    days = records(np.zeros(1, TODAY))
    days["day_length_h"], days["tmax_c"] = 12.0, 21.5
    nets.write(days, near)
    assert np.all(near.beds["tmax_c"] == 21.5)


def test_every_visitor_has_a_stop_aperture():
    assert mesh_table(load_parameters()).shape == (len(Material), VISITORS)


def test_an_opening_by_day_lets_warmth_of_the_day_out_and_none_of_the_night():
    nets = new_nets(**{"insect_mesh.warming_c": 2.0, "insect_mesh.night_warming_c": 1.0})
    nets.put_on(0, Material.INSECT_MESH, Edges.BURIED, open_hours=(9.0, 15.0))
    near = written(nets, a_day(day_length_h=12.0))
    assert near.beds["tmax_c"][0] == pytest.approx(24.7 + 1.0)
    assert near.beds["tmin_c"][0] == pytest.approx(11.3 + 1.0)
