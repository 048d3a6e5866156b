"""A folder of results is a data package by its standard, and nothing in it can be taken for an observation."""

import json

import pandas as pd
from frictionless import Package, validate

from sim.datapackage import FILE, package_of
from sim.export import Results, schema_of, write_results

TABLES = {
    "daily": pd.DataFrame({"date": ["2025-03-01", "2025-03-02"], "harvest_kg": [0.5, float("nan")], "eggs": [1, 2]}),
    "Plans of mine": pd.DataFrame({"plan": ["=net", "a\u00f1o"], "is_done": [True, False]}),
}
WORDS = {"date": "the day", "harvest_kg": "picked"}


def written(tmp_path):
    run = {"scenario": "My garden, 2", "seeds": [1]}
    return write_results(tmp_path / "out", Results(TABLES, run, WORDS))


def test_it_is_valid_by_the_library_of_the_standard(tmp_path):
    report = validate(str(written(tmp_path) / FILE))
    assert report.valid, report.flatten(["type", "message"])
    assert len(report.tasks) == len(TABLES)


def test_a_wrong_table_would_be_found(tmp_path):
    place = written(tmp_path)
    (place / "daily.csv").write_bytes(b"date,harvest_kg,eggs\r\nyesterday,much,1\r\n")
    assert not validate(str(place / FILE)).valid


def test_it_names_types_units_words_licence_and_that_it_is_simulated(tmp_path):
    package = json.loads((written(tmp_path) / FILE).read_text(encoding="utf-8"))
    assert package["simulated"] is True
    assert package["licenses"][0]["name"] == "CC-BY-4.0"
    assert package["name"] == "leafnest-my-garden-2"
    assert "no observations" in package["description"]
    daily, plans = package["resources"]
    assert daily["schema"]["fields"][1] == {
        "name": "harvest_kg",
        "type": "number",
        "unit": "kg",
        "description": "picked",
    }
    assert (plans["name"], plans["path"], plans["rowCount"]) == ("plans-of-mine", "Plans of mine.csv", 2)


def test_rows_are_read_back_with_their_types(tmp_path):
    package = Package(str(written(tmp_path) / FILE))
    rows = package.get_resource("daily").read_rows()
    assert str(rows[0]["date"]) == "2025-03-01"
    assert rows[1]["harvest_kg"] is None
    assert package.get_resource("plans-of-mine").read_rows()[0]["plan"] == "'=net"


def test_each_table_comes_as_parquet_with_its_run(tmp_path):
    place = written(tmp_path)
    assert pd.read_parquet(place / "daily.parquet")["eggs"].tolist() == [1, 2]


def test_a_name_of_strange_letters_still_names():
    assert package_of({}, {}, {"scenario": "庭"})["name"] == "leafnest-results"
    assert schema_of(TABLES["daily"], {})["fields"][0]["type"] == "date"
