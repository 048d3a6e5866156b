"""Holes, edges and fabrics against tables, trials and rules."""

import mesa
import numpy as np
import pytest

from sim.cast import Visitor
from sim.compiled import records
from sim.parameters import load_parameters
from sim.practices.fabrics import Material, mesh_table, pass_share
from sim.practices.nets import Edges, Nets
from sim.surroundings import TODAY, open_ground
from tests.outside.register import check

P = load_parameters()


def passes(hole_mm, visitor):
    stop_mm = P.numbers("nets.stop_aperture_mm")[visitor]
    return pass_share(hole_mm, float(stop_mm), P.number("nets.sure_pass_ratio"))


def nets_on(*covers):
    """Return nets and a clear 12-hour day beneath them, one bed for each (material, edges, gap)."""
    nets = Nets(mesa.Model(), P, bed_count=len(covers) + 1, seed=1)
    for bed, cover in enumerate(covers):
        nets.put_on(bed, *cover)
    today = records(np.zeros(1, TODAY))
    today["tmin_c"], today["tmax_c"], today["day_length_h"], today["clear_share"] = 12.0, 24.0, 12.0, 1.0
    near = open_ground(np.full(len(covers) + 1, 4.8))
    nets.write(today, near)
    return nets, near


@check("apertures that stop moths and flea beetles", source="gaityuu", read="read", independent=False)
def test_apertures_of_the_table():
    assert passes(1.0, Visitor.DIAMONDBACK_MOTH) == 0.0
    assert passes(0.6, Visitor.FLEA_BEETLE) == 0.0
    assert passes(0.4, Visitor.SMALL_PARASITOID) == 0.0  # for insects of the size of thrips and whitefly
    assert passes(1.0, Visitor.FLEA_BEETLE) == 1.0


@check("flea beetles go through 1 mm, 0.6 mm stops them", source="hirosifarm", read="read", independent=True)
def test_a_grower_found_flea_beetles_under_one_millimetre():
    assert passes(1.0, Visitor.FLEA_BEETLE) > 0.9
    assert passes(0.6, Visitor.FLEA_BEETLE) == 0.0


@check("a butterfly inside half-inch bird net", source="rootsimple2012", read="read", independent=True)
def test_half_inch_bird_net_lets_cabbage_whites_in():
    assert passes(12.7, Visitor.CABBAGE_WHITE) > 0.9
    assert passes(4.0, Visitor.CABBAGE_WHITE) == 0.0


@check("one opening stops and one half as wide again passes a small fly", source="cswd", read="read", independent=True)
def test_from_none_to_all_within_the_ratio_seen_in_fruit_flies():
    # stopped by 1.0 x 0.6 mm, through 1.95 x 0.95 mm: the narrow sides decide
    ratio = P.number("nets.sure_pass_ratio")
    assert pass_share(0.60, 0.60, ratio) == 0.0
    assert pass_share(0.95, 0.60, ratio) > 0.9


@check("a screen of 0.34 mm stops aphids", source="bp91", read="read: abstract", independent=True)
def test_the_finer_figure_for_aphids_stops_them_too():
    assert passes(0.341, Visitor.WINGED_APHID) == 0.0


@check("0.8 mm does not keep cabbage aphids out", source="lm16", read="read: abstract", independent=False)
def test_insect_mesh_lets_winged_aphids_in():
    # A table of apertures (gaityuu) says that 0.8 mm stops them; the field study decides.
    assert 0.3 < passes(0.8, Visitor.WINGED_APHID) < 1.0


@check("nylon mesh tunnels shut cucumber beetles out", source="iow23", read="read: abstract", independent=True)
@pytest.mark.parametrize("hole_mm", [0.35, 0.9])
def test_mesh_tunnels_stop_cucumber_beetles(hole_mm):
    assert passes(hole_mm, Visitor.CUCUMBER_BEETLE) == 0.0


@check(
    "fine net keeps out butterflies, moths, beetles, true bugs and birds",
    source="none",
    read="common practice, no source",
    independent=True,
)
def test_insect_mesh_keeps_six_kinds_out():
    table = mesh_table(P)[Material.INSECT_MESH]
    kept_out = (
        Visitor.CABBAGE_WHITE,
        Visitor.CABBAGE_LOOPER,
        Visitor.DIAMONDBACK_MOTH,
        Visitor.HARLEQUIN_BUG,
        Visitor.CUCUMBER_BEETLE,
        Visitor.BIRD,
    )
    assert not table[list(kept_out)].any()


@check(
    "veil fabric does nearly as well against the larger pests",
    source="none",
    read="common practice, no source",
    independent=True,
)
def test_veil_keeps_out_the_larger_pests_as_mesh_does():
    table = mesh_table(P)
    larger = [Visitor.CABBAGE_WHITE, Visitor.CABBAGE_LOOPER, Visitor.HARLEQUIN_BUG, Visitor.CUCUMBER_BEETLE]
    assert np.all(np.abs(table[Material.VEIL][larger] - table[Material.INSECT_MESH][larger]) < 0.05)
    assert table[Material.VEIL, Visitor.WINGED_APHID] > table[Material.INSECT_MESH, Visitor.WINGED_APHID]


@check("bees are shut out with the pests", source="none", read="common practice, no source", independent=True)
def test_a_closed_mesh_shuts_bees_out():
    table = mesh_table(P)[Material.INSECT_MESH]
    assert not table[[Visitor.HONEY_BEE, Visitor.BUMBLE_BEE, Visitor.SMALL_BEE]].any()


@check("covers work only with sealed edges; soil seals best", source="rhs_mesh", read="read", independent=False)
def test_buried_edges_leak_least_and_slack_ones_most():
    _, near = nets_on(*((Material.FINE_MESH, edges) for edges in Edges))
    entry = near.gets_in[:3, Visitor.CABBAGE_LOOPER]
    assert entry[0] < entry[1] < entry[2]


@check("a loose end is the way in", source="none", read="common practice, no source", independent=True)
def test_entry_grows_with_the_length_of_the_gap():
    _, near = nets_on(*((Material.FINE_MESH, Edges.BURIED, gap) for gap in (0.0, 0.1, 0.3)))
    entry = near.gets_in[:3, Visitor.CABBAGE_WHITE]
    assert entry[0] < entry[1] < entry[2]
    assert entry[2] - entry[0] > 2 * (entry[1] - entry[0])


@check("household net no wider than 5 x 5 mm", source="vic", read="read", independent=False)
def test_nets_within_the_rule_catch_no_bird_and_wide_ones_can():
    nets, _ = nets_on(*((material, Edges.BURIED) for material in Material))
    for material in Material:
        hole_mm = P.number(f"nets.{material.name.lower()}.hole_mm")
        assert (nets.entangle_per_contact[material] > 0.0) == (hole_mm > 5.0), material.name


@check("under a net it is warmer", source="mul13", read="read: abstract", independent=True)
def test_mesh_warms_the_day():
    _, near = nets_on((Material.INSECT_MESH, Edges.BURIED))
    assert near.beds["tmax_c"][0] > near.beds["tmax_c"][1]


@check(
    "finer mesh: other climate, no better control of moths", source="sim14", read="read: abstract", independent=False
)
def test_finer_mesh_changes_climate_more_and_moths_no_further():
    _, near = nets_on((Material.INSECT_MESH, Edges.BURIED), (Material.FINE_MESH, Edges.BURIED))
    assert near.beds["tmax_c"][1] > near.beds["tmax_c"][0]
    assert near.gets_in[0, Visitor.DIAMONDBACK_MOTH] == near.gets_in[1, Visitor.DIAMONDBACK_MOTH]


@check("thin spun cover lets 0.75 to 0.95 of light through", source="bioin", read="read", independent=False)
def test_light_through_spun_cover():
    _, near = nets_on((Material.ROW_COVER, Edges.BURIED))
    assert 0.75 <= near.beds["light_share"][0] <= 0.95


@check("frost help of thin spun cover, 2 °F", source="bioin", read="read", independent=False)
def test_night_warmth_under_spun_cover():
    _, near = nets_on((Material.ROW_COVER, Edges.BURIED))
    assert near.beds["tmin_c"][0] - near.beds["tmin_c"][1] == pytest.approx(2.0 / 1.8, abs=0.2)
