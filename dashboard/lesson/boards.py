"""The questions of the screen that shows where it all went, by their words in an address."""

from dashboard.language.tongue import mark
from dashboard.lesson.lesson import LOOKS

EGGS, SHORT, DAYS, ENERGY, FOLLOW, SPRING = LOOKS
BOARDS = {
    EGGS: mark("What became of the eggs?"),
    SHORT: mark("Who was left with less?"),
    DAYS: mark("When did it happen?"),
    ENERGY: mark("Where did the energy go?"),
    FOLLOW: mark("Who is behind a number?"),
    SPRING: mark("What waits for next spring?"),
}
