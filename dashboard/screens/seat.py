"""Where a device of the class comes in: a seat number, which gives it a season of its own."""

import streamlit as st

from dashboard.language.tongue import _
from dashboard.lesson.lesson import LAST_SEASON, MOST_SEATS
from dashboard.page.again import fresh, is_code_waiting, take_code
from dashboard.page.dress import show_way_on
from dashboard.page.running import first_start_words
from dashboard.page.visit import current_lesson, gardens, keep, open_screen, seats, tell_what_was_moved, visit_name
from dashboard.sharing.role import code_of_the_class, tell_seats

_FIRST = "season of the first seat"


def say_seat() -> None:
    """Note the seat that was typed, and let the teacher's server know of one that was typed twice."""
    seats().say(visit_name(), int(st.session_state[fresh("seat number")]))
    tell_seats(seats().said_twice())


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(_("Which seat are you in?"))
    if why := first_start_words():
        st.caption(why)
    take_code()
    lesson = current_lesson()
    if not lesson.ready and not code_of_the_class():
        st.caption(_("In a lesson? Then type the code from your teacher's screen first."))
    first = st.session_state.setdefault(_FIRST, lesson.season)
    if is_code_waiting():
        st.markdown(_("You reached the class's pages. The code did not open: ask for it again, and type it above."))
        return
    st.markdown(
        _("You got in. Type the number of your seat: it gives you a season of your own, with its own weather and luck.")
    )
    most = min(MOST_SEATS, LAST_SEASON - first + 1)
    given, field = min(most, lesson.season - first + 1), fresh("seat number")
    seat = int(st.number_input(_("Seat number"), 1, most, given, key=field, on_change=say_seat))
    if seats().is_said_elsewhere(visit_name(), seat):
        st.info(_("Another device has seat {seat}, too. Check your number, or share its season.").format(seat=seat))
    lesson = lesson.with_season(first + seat - 1)
    keep(lesson)
    said = _("Seat {seat} has season {season}. Garden: {garden}.")
    st.markdown(said.format(seat=seat, season=lesson.season, garden=_(gardens()[lesson.garden].title)))
    tell_what_was_moved(lesson)
    show_way_on("screens/guess.py", _("Next: make a guess"))


if __name__ == "__main__":
    page()
