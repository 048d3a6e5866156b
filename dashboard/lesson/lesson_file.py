"""What a lesson file may say. Numbers of the season never stand in it: the tool makes them when a sheet is made."""

from __future__ import annotations

import re
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, Strict, ValidationInfo, model_validator

from dashboard.language.spoken import BY_MEASURE
from dashboard.lesson.lesson import LAST_SEASON, MOST_PLANS, MOST_SEATS
from sim.errors import LeafnestError, tell, tell_many
from sim.scenario import Scenario
from sim.scenario.values import MonthDay, Part, Slug, refuse

GUESSES = 2
LENGTHS_MINUTES = (20, 45, 90)
SIGNS = (">", "<", "~", "=")
_HOLDS = re.compile(r"([a-z][a-z0-9_-]*) ([<>~=]) ([a-z][a-z0-9_-]*)")


def _one_line(text: str) -> str:
    said = " ".join(text.split())
    if not said:
        raise refuse(tell("text in quotes"))
    return said


Said = Annotated[str, Strict(), AfterValidator(_one_line)]
Measure = Annotated[str, Strict()]
Event = Literal[
    "first_egg", "first_damage", "hatch", "first_picking", "first_bloom", "first_bee", "first_spray", "turned_away",
    "fledging",
]  # fmt: skip
Looked = Literal["pests", "eggs", "bird_food_g", "picked_kg", "flowers", "minutes"]
Season = Annotated[int, Strict(), Field(ge=1, le=LAST_SEASON)]


class GuessQuestion(Part):
    """A question that the class answers before it sees anything, by an order of the plans."""

    question: Said
    measure: Measure


class Pause(Part):
    """A stop in the season: a moment, the day for plans that never see it, a question, and a prompt for the teacher.

    ``look`` names what is printed of each plan on that evening.
    """

    event: Event
    fallback_day: MonthDay
    look: tuple[Looked, ...] = ("pests", "picked_kg", "bird_food_g")
    question: Said
    prompt: Said


class Reason(Part):
    """A sentence for the answer key, said only if the seasons in use bear out what it rests on.

    ``holds`` compares two plans in the question's measure: ``net > nothing`` is more, ``<`` less, ``~`` too close to
    call, ``=`` the same in every season.
    """

    holds: Said
    says: Said

    @property
    def parts(self) -> tuple[str, str, str]:
        """The two plans with the sign between them."""
        this, sign, that = self.holds.split()
        return this, sign, that


class ClosingQuestion(Part):
    """A question at the end, the measure that answers it, and why it comes out so."""

    question: Said
    measure: Measure
    why: tuple[Reason, ...] = Field(min_length=1)


class NextChange(Part):
    """What to change in the second round: settings of the garden by their dotted keys, one thing at a time."""

    say: Said
    plan: Slug
    changes: dict[str, Any] = Field(min_length=1)
    prompt: Said


class Step(Part):
    """Some minutes of a lesson: what happens, and what is clicked."""

    minutes: Annotated[int, Strict(), Field(ge=1, le=90)]
    what: Said
    click: Said


class Timing(Part):
    """How the lesson runs in so many minutes."""

    minutes: Annotated[int, Strict(), Field(ge=1)]
    who: Said
    steps: tuple[Step, ...] = Field(min_length=1)


class NewWord(Part):
    """A word that learners may not know."""

    word: Said
    means: Said


class LessonFile(Part):
    """A lesson as its file says it."""

    name: Slug
    title: Said
    about: Said
    for_whom: Said
    garden: Said
    plans: tuple[Slug, ...]
    season: Season = 1
    seats: Annotated[int, Strict(), Field(ge=2, le=MOST_SEATS)] = 24
    aims: tuple[Said, ...] = Field(min_length=1)
    situation: Said
    words: tuple[NewWord, ...] = ()
    guesses: tuple[GuessQuestion, ...]
    pauses: tuple[Pause, ...] = Field(min_length=1)
    next: NextChange
    closing: tuple[ClosingQuestion, ...] = Field(min_length=1)
    open_question: Said
    timings: tuple[Timing, ...]
    ideas: tuple[Slug, ...] = ()
    standards: tuple[Said, ...] = ()
    standards_files: tuple[Said, ...] = ()

    @property
    def seasons(self) -> range:
        """The seasons of the class: the first seat has the first."""
        return range(self.season, self.season + self.seats)

    @model_validator(mode="after")
    def _check(self, info: ValidationInfo) -> LessonFile:
        if len(self.guesses) != GUESSES:
            raise refuse(
                tell("two, the first about the harvest"),
                key="guesses",
                has=tell_many("one question", "{count} questions", len(self.guesses)),
            )
        self._check_measures()
        self._check_timings()
        load = (info.context or {}).get("load_garden")
        if load is not None:
            self._check_garden(self._loaded(load))
        return self

    def _check_measures(self) -> None:
        asked = [(f"guesses.{place}", one.measure) for place, one in enumerate(self.guesses)]
        asked += [(f"closing.{place}", one.measure) for place, one in enumerate(self.closing)]
        for key, measure in asked:
            if measure not in BY_MEASURE:
                raise refuse(
                    tell("one of {known}", known=", ".join(BY_MEASURE)),
                    key=f"{key}.measure",
                    found=measure,
                    known=BY_MEASURE,
                )

    def _check_timings(self) -> None:
        lengths = tuple(timing.minutes for timing in self.timings)
        if sorted(lengths) != list(LENGTHS_MINUTES):
            raise refuse(
                tell("one timing each of 20, 45 and 90 minutes"),
                key="timings",
                has=tell("timings of {known} minutes", known=", ".join(map(str, lengths))),
            )
        for place, timing in enumerate(self.timings):
            together = sum(step.minutes for step in timing.steps)
            if together != timing.minutes:
                allowed = tell("steps that add up to {count} minutes", count=timing.minutes)
                raise refuse(
                    allowed,
                    key=f"timings.{place}.steps",
                    has=tell_many("a step of one minute in all", "steps of {count} minutes in all", together),
                )

    def _loaded(self, load: Any) -> Scenario:
        try:
            garden: Scenario = load(self.garden)
        except LeafnestError as error:
            allowed = tell("a garden from 'leafnest scenarios', or a scenario file beside the lesson")
            raise refuse(
                allowed,
                key="garden",
                has=tell("'{garden}', which cannot be used ({why})", garden=self.garden, why=error),
            ) from None
        return garden

    def _check_garden(self, garden: Scenario) -> None:
        known = garden.plan_names
        if not 1 < len(set(self.plans)) == len(self.plans) <= MOST_PLANS:
            raise refuse(
                tell("2 to {most} different plans", most=MOST_PLANS),
                key="plans",
                has=tell_many("one plan", "{count} plans", len(self.plans)),
            )
        for key, name in self._plans_named():
            if name not in known:
                raise refuse(
                    tell("plans of the garden, {known}", known=", ".join(known)),
                    key=key,
                    found=name,
                    known=known,
                )
        first, last = garden.season.first_day, garden.season.last_day
        for place, pause in enumerate(self.pauses):
            if not first <= pause.fallback_day <= last:
                raise refuse(
                    tell("a day of the garden's season, {first} to {last}", first=first, last=last),
                    key=f"pauses.{place}.fallback_day",
                    found=pause.fallback_day,
                )
        for place, one in enumerate(self.closing):
            for number, reason in enumerate(one.why):
                self._check_reason(reason, f"closing.{place}.why.{number}.holds")
        try:
            garden.with_changes(self.next.changes)
        except LeafnestError as error:
            allowed = tell("settings of the garden by their dotted keys")
            raise refuse(
                allowed, key="next.changes", has=tell("a change that cannot be made ({why})", why=error)
            ) from None

    def _plans_named(self) -> list[tuple[str, str]]:
        return [*((f"plans.{place}", name) for place, name in enumerate(self.plans)), ("next.plan", self.next.plan)]

    def _check_reason(self, reason: Reason, key: str) -> None:
        such = f"'{self.plans[1]} > {self.plans[0]}'"
        allowed = tell(
            "two plans of the lesson with one of {signs} between them, such as {such}", signs=" ".join(SIGNS), such=such
        )
        found = _HOLDS.fullmatch(reason.holds)
        if not found or found[1] not in self.plans or found[3] not in self.plans:
            raise refuse(allowed, key=key, found=reason.holds)
