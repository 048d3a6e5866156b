"""The words on the map and of its legend: no name hides another, and nothing is explained that never comes."""

import pytest

from tests.browser.map_player import open_map, run

pytestmark = pytest.mark.browser
LEAF = "?garden=leaf_bed"


def test_where_names_would_hide_one_another_beds_have_numbers_and_a_line_names_them(browser, address):
    open_map(browser, address, LEAF)
    look = """
        const beds = player.data.ground.beds;
        if (arguments[0]) beds.forEach((bed, n) => { bed.name = `the long bed by the north wall of the yard ${n}`; });
        player.resize();
        const line = map.querySelector(".bed-numbers");
        return [line.hidden, line.textContent.replaceAll("\\u00a0", " "), beds.map((bed, n) => `${n + 1} ${bed.name}`)];
    """
    is_hidden, _said, _beds = run(browser, look, False)
    assert is_hidden
    is_hidden, said, beds = run(browser, look, True)
    assert not is_hidden
    assert said == f"Beds: {' · '.join(beds)}"


def test_what_never_comes_is_not_among_what_drawings_mean(browser, address):
    open_map(browser, address, LEAF)
    look = """
        const { films } = player, legend = map.querySelector(".legend");
        if (arguments[0]) for (const film of films) for (const name of ["aphids", "net", "away"]) film[name].fill(0);
        player.buildLegend();
        const meant = ["gray specks: aphids", "mesh over a bed", "arrow at a net"];
        return meant.filter((words) => legend.textContent.includes(words));
    """
    assert len(run(browser, look, False)) == 3
    assert run(browser, look, True) == []
