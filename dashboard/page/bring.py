"""Where a visitor brings a file of their own, and takes a garden away as a file."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import streamlit as st

from dashboard.brought.own_files import (
    LARGEST_FILE_MB,
    Brought,
    Station,
    garden_of_scenario,
    garden_with_weather,
    scenario_text,
)
from dashboard.language.saying import from_units, in_units, say_error, unit_named
from dashboard.language.tongue import _, current_units, in_these_words, mark
from dashboard.lesson.lesson import Lesson, first_lesson
from dashboard.page.visit import gardens, keep, new_shelf
from sim.errors import LeafnestError
from sim.scenario import Scenario

_AS_SAID = mark("as the file says")
TEMPERATURE_UNITS = {None: _AS_SAID, "c": "°C", "f": "°F", "tenths_c": mark("tenths of °C")}
RAIN_UNITS = {None: _AS_SAID, "mm": "mm", "inch": mark("inches"), "tenths_mm": mark("tenths of mm")}
_LOWEST_LATITUDE, _HIGHEST_LATITUDE = -90.0, 90.0
"""All of the earth: a latitude that is left out here is refused in a sentence of the model, not by the box."""
_LOWEST_M, _HIGHEST_M = -430.0, 6000.0


def show_own_files(lesson: Lesson, after: Any) -> None:
    """Offer to bring a garden or local weather, and to take this garden away.

    Parameters
    ----------
    after
        Called once a garden has been opened, before the page is drawn anew.
    """
    with st.expander(_("A file of your own")):
        st.markdown(
            _(
                "Bring a garden as a scenario file (TOML), or daily weather of a station near you (CSV) for the garden "
                "chosen above. Up to {most} MB each. Files stay on the computer that runs this page, for this visit. "
                "They are thrown away within two minutes after you close it."
            ).format(most=LARGEST_FILE_MB)
        )
        st.markdown(
            _(
                "Only for places between the tropics and the far north, 23.5 to 66 degrees. Under weather of your own "
                "the garden keeps its planting days. If your spring comes later, take the garden as a file, change "
                "its days and bring both files."
            )
        )
        left, right = st.columns(2)
        scenario = left.file_uploader(_("Garden: a scenario file (TOML)"), type=["toml"], key="own scenario")
        weather = right.file_uploader(
            _("Weather: a table of days (CSV)"), type=["csv", "txt", "dly"], key="own weather"
        )
        station = None if scenario is not None or weather is None else _ask_station()
        if (scenario or weather) and st.button(_("Use this file"), type="primary"):
            if scenario is None and station is None:
                st.error(_("Say the latitude of the station first: degrees north of the equator, such as 43.5."))
            else:
                _open(lesson, scenario, weather, station, after)
        show_download(gardens()[lesson.garden])


def _ask_station() -> Station | None:
    """Ask where the weather was measured; None until the latitude is said, for no usual one would be right."""
    latitude, elevation, warmth, rain = st.columns(4)
    latitude_deg = latitude.number_input(
        _("Latitude of the station, degrees"), _LOWEST_LATITUDE, _HIGHEST_LATITUDE, None, key="own latitude"
    )
    elevation_m = _height(elevation)
    temperature_unit = warmth.selectbox(
        _("Temperatures are in"), list(TEMPERATURE_UNITS), format_func=lambda unit: _(TEMPERATURE_UNITS[unit])
    )
    rain_unit = rain.selectbox(_("Rain is in"), list(RAIN_UNITS), format_func=lambda unit: _(RAIN_UNITS[unit]))
    return None if latitude_deg is None else Station(latitude_deg, elevation_m, temperature_unit, rain_unit)


def _height(place: Any) -> float:
    """Ask for the height above the sea in the units of the visit and return it in meters."""
    asked = _("Height above the sea, {unit}").format(unit=unit_named("m"))
    low, high, now = (float(round(in_units(one, "m"))) for one in (_LOWEST_M, _HIGHEST_M, 100.0))
    return from_units(place.number_input(asked, low, high, now, key=f"own height {current_units()}"), "m")


def _open(lesson: Lesson, scenario: Any, weather: Any, station: Station | None, after: Any) -> None:
    shelf = new_shelf()
    try:
        days = Brought(weather.name, weather.getvalue()) if weather else None
        folder = shelf.folder_for(days.content) if days else None
        if scenario:
            text = Brought(scenario.name, scenario.getvalue())
            name, garden = garden_of_scenario(text, days, folder)
        elif days and folder and station:
            name, garden = garden_with_weather(gardens()[lesson.garden], days, station, folder)
    except LeafnestError as error:
        st.error(say_error(error))
        return
    shelf.put(name, garden)
    keep(first_lesson(gardens(), name))
    after()
    st.rerun()


def show_download(garden: Scenario) -> None:
    """Offer this garden as a file to edit, to bring again or to run from the command line."""
    said = _("This garden as a scenario file (TOML)")
    name = f"{_file_name(garden)}.toml"
    text = in_these_words(lambda: scenario_text(garden).encode())
    st.download_button(said, text, name, "application/toml", on_click="ignore", key="garden file")


def _file_name(garden: Scenario) -> str:
    return Path(garden.place.weather_file).stem if garden.place.weather_file else garden.name.replace(".", "_")
