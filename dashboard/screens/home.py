"""Take it home: a handout of the comparison in hand, and the papers of the lesson that is open."""

from dashboard.handout.on_screen import offer_handout
from dashboard.language.tongue import _
from dashboard.page.dress import show_cautions, show_limits
from dashboard.page.visit import offer_as_moved, open_screen, show_setting
from dashboard.teaching.on_screen import lead
from dashboard.teaching.taking_sheets import offer_sheets


def page() -> None:
    """Draw the page from top to bottom."""
    lesson = open_screen(_("What will you take home?"))
    show_setting(lesson)
    offer_as_moved(lesson)
    lesson = lead(lesson, "home")
    make = offer_handout(lesson)
    offer_sheets(lesson)
    show_limits()
    show_cautions()
    make()


if __name__ == "__main__":
    page()
