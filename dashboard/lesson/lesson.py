"""What one visitor has chosen and guessed. Knows no screen; ``address.py`` says it in words of an address."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from dashboard.language.tongue import mark
from sim.scenario import Scenario

MOST_PLANS = 4
PLANS_AT_FIRST = 3
LAST_SEASON = 9_999
MOST_SEATS = 60
"""Most devices or pupils of a class, each with a season of its own."""
MOST_BECAUSE_LETTERS = 300
CARED = (
    "marketable_kg",
    "bird_food_reachable_g",
    "nestlings_fledged_count",
    "birds_entangled_count",
    "flower_visits_count",
    "bees_harmed_share",
    "spiders_mean_count",
    "labour_minutes",
    "cost_usd",
)
"""Measures of which a class says how much it cares; of each, more or less is better."""
LEVELS = {0: mark("Not at all"), 1: mark("A little"), 2: mark("Much"), 3: mark("Most of all")}
"""Answer → its words; the answer itself is the weight, and what an address says."""
CURVED = (
    "marketable_kg",
    "marketable_share",
    "pests_alive_peak_count",
    "bird_food_reachable_g",
    "bird_food_delivered_g",
    "flower_visits_count",
    "labour_minutes",
    "cost_usd",
)
"""What a curve can be drawn of."""
MOST_TAPS = 40
LOOKS = ("eggs", "short", "days", "energy", "follow", "spring")
"""Questions of the screen that shows where it all went, as an address says them; the first unless told."""
TAPS = ("more", "same", "less")
"""What a class may expect of a change."""
QUESTIONS = {"harvest": "marketable_kg", "birds": "bird_food_reachable_g"}
"""What a class guesses: its word in the address → the measure that answers it."""


@dataclass(frozen=True)
class Guess:
    """Which plan gives most, second most and so on, by the word of the question: a rank a plan, 1 for most."""

    ranks: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    hands: Mapping[str, tuple[int, ...]] = field(default_factory=dict)
    because: str = ""
    reason: str = ""
    """What is said once guess and outcome stand side by side."""
    is_locked: bool = False
    is_shown: bool = False
    """Whether the class has asked to see the outcome beside it; in a lesson the season is watched before."""
    plans: tuple[str, ...] = ()
    """The plans that it is about, where the lesson has others by now."""
    begun: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """The plans named so far, most first, by the word of a question whose order is not whole yet."""

    @property
    def is_whole(self) -> bool:
        """Whether every question has its order."""
        return all(question in self.ranks for question in QUESTIONS)


@dataclass(frozen=True)
class Lesson:
    """A garden, the plans set against each other, the first season's number, a guess, and settings that were moved."""

    garden: str
    plans: tuple[str, ...]
    season: int = 1
    guess: Guess = field(default_factory=Guess)
    tried_plan: str = ""
    changes: Mapping[str, Any] = field(default_factory=dict)
    as_moved: bool = False
    """Whether plans are watched and compared as they were moved, not as they stand."""
    cares: Mapping[str, int] = field(default_factory=dict)
    """How much the class cares about each measure; what is not set counts for nothing."""
    ready: str = ""
    """Name of the lesson file that is followed; nothing in free play."""
    taps: Mapping[str, str] = field(default_factory=dict)
    """Guesses of later rounds: what was changed → one of ``TAPS``."""
    led: tuple[str, ...] = ()
    """Screens whose first steps have been shown."""
    look: str = ""
    """One of ``LOOKS``, or nothing for the first."""
    bargain: str = ""
    """Name of the bargain that is to be struck; nothing for just trying."""
    curve: str = ""
    """What a curve is drawn of, one of ``CURVED``; nothing for none."""
    along: str = ""
    """Key of the setting along which it is drawn, where more than one was moved."""

    @property
    def waits_for_season(self) -> bool:
        """Whether a lesson's guess is locked and its season is to be watched before the outcome is shown."""
        return bool(self.ready) and self.guess.is_locked and not self.guess.is_shown

    @property
    def guessed_plans(self) -> tuple[str, ...]:
        """The plans that the guess is about."""
        return self.guess.plans or self.plans

    def with_plans(self, plans: Sequence[str]) -> Lesson:
        """Return the lesson with other plans; a guess is about its plans, so it goes, unless a lesson keeps it."""
        if tuple(plans) == self.plans:
            return self
        guess = Guess()
        if self.ready and self.guess.is_locked:
            about = self.guessed_plans
            guess = replace(self.guess, plans=() if tuple(plans) == about else about)
        return replace(self, plans=tuple(plans), guess=guess)

    def with_season(self, season: int) -> Lesson:
        """Return the lesson with another first season; a guess that was answered for the old one goes."""
        if season == self.season:
            return self
        return replace(self, season=season, guess=Guess() if self.guess.is_locked else self.guess)


def first_lesson(gardens: Mapping[str, Scenario], garden: str = "", ready: str = "") -> Lesson:
    """Return what a garden begins with, or a lesson that is followed, if it is about that garden."""
    if ready:
        from dashboard.lesson.opened import opened  # lessons know what a guess is, so they cannot come first

        lesson = opened(ready)
        if garden in ("", lesson.garden):
            return lesson
    name = garden or next(iter(gardens))
    return Lesson(name, gardens[name].plan_names[:PLANS_AT_FIRST])
