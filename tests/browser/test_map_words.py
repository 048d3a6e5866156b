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


def test_in_a_crowd_beds_that_are_alike_share_one_name_and_none_hides_another(browser, address):
    open_map(browser, address, "")
    look = """
        const one = player.maps[0], beds = player.data.ground.beds;
        if (arguments[0]) one.isCrowded = () => true;
        if (arguments[1]) beds.forEach((bed, n) => { bed.row = n < 2 ? bed.name : "greens"; });
        if (arguments[2]) beds.forEach((bed, n) => { bed.row = `the long bed by the north wall of the yard ${n}`; });
        player.resize();
        const meet = one.rowNames.some((name, n) => one.rowNames.slice(n + 1).some(
          (other) => one.doMeet(name, other, one.letters * 1.45)));
        return [one.rowNames.map(({ words }) => words).sort(), meet, beds.map((bed) => bed.name).sort()];
    """
    assert run(browser, look, False, False, False)[0] == []
    names, do_meet, beds = run(browser, look, True, False, False)
    assert not do_meet
    assert names == beds
    names, do_meet, _beds = run(browser, look, True, True, False)
    assert not do_meet
    assert len(names) == 3
    assert names.count("greens") == 1
    names, do_meet, beds = run(browser, look, True, False, True)
    assert not do_meet
    assert 0 < len(names) < len(beds)  # what has no room is left out


def test_distances_of_nests_are_left_out_where_they_would_lie_on_one_another(browser, address):
    open_map(browser, address, "")
    look = """
        const one = player.maps[0], said = [], pill = one.pill.bind(one);
        if (arguments[0]) one.nestAt = one.nestAt.map(([, y], n) => [100 + 10 * n, y]);
        one.pill = (c, words, ...rest) => { said.push(words); return pill(c, words, ...rest); };
        one.drawDay(0);
        one.pill = pill;
        return said.filter((words) => words.includes("away"));
    """
    assert len(run(browser, look, False)) == 3
    assert run(browser, look, True) == []
