"""A lesson as words of an address, so that a reload loses nothing, and back again.

An address says what model it was made with and what differs from the first garden as it stands. What is not understood
is told in one sentence each and left out.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from dashboard.codes.keys import canonical
from dashboard.codes.made import FILE_PREFIX, differences, file_mark, file_print, made_word, wanted_file
from dashboard.language.saying import say_error, say_sentence
from dashboard.language.tongue import _
from dashboard.lesson.lesson import (
    CARED,
    CURVED,
    LAST_SEASON,
    LEVELS,
    LOOKS,
    MOST_BECAUSE_LETTERS,
    MOST_PLANS,
    MOST_TAPS,
    QUESTIONS,
    TAPS,
    Guess,
    Lesson,
    first_lesson,
)
from sim.errors import LeafnestError, near_names
from sim.scenario import Scenario

MADE = "v"
"""The word of an address that says which model and which garden it was made with."""
LOCKED, SHOWN = "yes", "shown"
"""What an address says of a guess that nobody can change any more: not yet answered, or answered; and of a moved plan
that is shown as it was moved."""
MOST_SCREENS = 20


def address_of(lesson: Lesson, gardens: Mapping[str, Scenario]) -> dict[str, list[str]]:
    """Return the words of an address that lead back to this lesson."""
    plain = first_lesson(gardens, lesson.garden, lesson.ready)
    words = {MADE: [made_word(lesson.garden, gardens[lesson.garden])]}
    if lesson.ready:
        words["lesson"] = [lesson.ready]
    elif lesson.garden != next(iter(gardens)):
        words["garden"] = [lesson.garden]
    if lesson.plans != plain.plans:
        words["plans"] = [".".join(lesson.plans)]
    if lesson.season != plain.season:
        words["season"] = [str(lesson.season)]
    words |= _address_of_guesses(lesson)
    if lesson.tried_plan:
        words["try"] = [lesson.tried_plan]
    if lesson.changes:
        words["set"] = [f"{key}:{json.dumps(value)}" for key, value in lesson.changes.items()]
    if lesson.as_moved and lesson.changes:
        words["moved"] = [SHOWN]
    if lesson.led:
        words["led"] = [".".join(lesson.led)]
    words |= {word: [said] for word in ("look", "bargain", "curve", "along") if (said := getattr(lesson, word))}
    if lesson.cares:
        words["cares"] = [f"{measure}:{level}" for measure, level in lesson.cares.items()]
    return words


def _address_of_guesses(lesson: Lesson) -> dict[str, list[str]]:
    words: dict[str, list[str]] = {}
    guess = lesson.guess
    for question, ranks in guess.ranks.items():
        words[f"{question}_order"] = [".".join(map(str, ranks))]
    for question, hands in guess.hands.items():
        words[f"{question}_hands"] = [".".join(map(str, hands))]
    for question, named in guess.begun.items():
        words[f"{question}_begun"] = [".".join(named)]
    if guess.because:
        words["because"] = [guess.because]
    if guess.reason:
        words["reason"] = [guess.reason]
    if guess.is_locked:
        words["locked"] = [SHOWN if guess.is_shown else LOCKED]
    if guess.plans:
        words["guessed_plans"] = [".".join(guess.plans)]
    if lesson.taps:
        words["taps"] = [f"{change}:{word}" for change, word in lesson.taps.items()]
    return words


def mark_of_file(name: str) -> str:
    """Return the mark of a garden that a visitor brought, by its name in an address; nothing for another garden."""
    is_file = re.fullmatch(re.escape(FILE_PREFIX) + "[0-9a-f]{12}", name)
    return file_mark(file_print(name)) if is_file else ""


def lesson_from(words: Mapping[str, Sequence[str]], gardens: Mapping[str, Scenario]) -> tuple[Lesson, list[str]]:
    """Return the lesson that an address leads to, and a sentence for each word that was not understood."""
    reader = _Reader(words, gardens)
    return reader.lesson(), reader.complaints


class _Reader:
    def __init__(self, words: Mapping[str, Sequence[str]], gardens: Mapping[str, Scenario]) -> None:
        self.words = words
        self.gardens = gardens
        self.complaints: list[str] = []

    def lesson(self) -> Lesson:
        from dashboard.plans.bargains import bargains_of  # the words of measures are not needed by every code and link

        ready = self._ready()
        plain = first_lesson(self.gardens, ready=ready)
        name = self._one_of("garden", self.gardens, plain.garden)
        garden = self.gardens[name]
        self.complaints += differences(self._said(MADE), name, garden)
        lesson = first_lesson(self.gardens, name, ready)
        lesson = replace(lesson, plans=self._plans("plans", garden, lesson.plans), season=self._season(lesson.season))
        about = self._plans("guessed_plans", garden, ())
        changes = self._changes(garden)
        return replace(
            lesson,
            guess=self._guess(about or lesson.plans, about),
            taps=self._taps(),
            led=tuple(part for part in self._said("led").split(".") if part.isalpha())[:MOST_SCREENS],
            tried_plan=self._one_of("try", garden.plan_names, ""),
            changes=changes,
            as_moved=bool(changes) and self._said("moved") == SHOWN,
            cares=self._cares(),
            look=self._one_of("look", LOOKS, ""),
            bargain=self._one_of("bargain", bargains_of(name), ""),
            curve=self._one_of("curve", CURVED, ""),
            along=self._one_of("along", changes, ""),
        )

    def _said(self, word: str) -> str:
        return self.words[word][0] if self.words.get(word) else ""

    def _refuse(self, word: str, found: str, allowed: str, near: str = "") -> None:
        told = _("The link says {word} = '{found}'; {allowed}, so that part was left out.")
        self.complaints.append(told.format(word=word, found=found[:60], allowed=allowed) + say_sentence(near))

    def _one_of(self, word: str, known: Any, otherwise: str) -> str:
        found = self._said(word)
        if not found or found in known:
            return found or otherwise
        if word == "garden" and (mark := mark_of_file(found)):
            self.complaints.append(say_sentence(wanted_file(mark)))
            return otherwise
        self._refuse(word, found, _("there is no such one here"), near_names(found, known))
        return otherwise

    def _ready(self) -> str:
        if not self._said("lesson"):
            return ""
        from dashboard.lesson.opened import open_lessons

        return self._one_of("lesson", open_lessons(), "")

    def _taps(self) -> dict[str, str]:
        taps = {}
        for said in self.words.get("taps", ())[:MOST_TAPS]:
            change, _colon, word = said.partition(":")
            if word in TAPS and change.replace("_", "").replace("-", "").isalnum():
                taps[change] = word
            else:
                self._refuse("taps", said, _("a tap is more, same or less"))
        return taps

    def _plans(self, word: str, garden: Scenario, otherwise: tuple[str, ...]) -> tuple[str, ...]:
        said = self._said(word)
        wanted = list(dict.fromkeys(said.split("."))) if said else []
        found = tuple(plan for plan in wanted if plan in garden.plan_names)
        if said and (len(found) < len(wanted) or not 1 < len(found) <= MOST_PLANS):
            self._refuse(word, said, _("it takes 2 to {most} plans of this garden").format(most=MOST_PLANS))
            return otherwise
        return found or otherwise

    def _season(self, otherwise: int) -> int:
        said = self._said("season")
        if not said:
            return otherwise
        if said.isascii() and said.isdigit() and 1 <= int(said) <= LAST_SEASON:
            return int(said)
        self._refuse("season", said, _("a season has a number from 1 to {last}").format(last=LAST_SEASON))
        return otherwise

    def _guess(self, about: Sequence[str], other_plans: tuple[str, ...]) -> Guess:
        plans = len(about)
        ranks, hands = {}, {}
        for question in QUESTIONS:
            order = self._row(f"{question}_order", plans, lowest=1, highest=plans)
            if order:
                ranks[question] = order
            counts = self._row(f"{question}_hands", plans, lowest=0, highest=999)
            if counts:
                hands[question] = counts
        begun = {question: named for question in QUESTIONS if (named := self._begun(question, about))}
        because, reason = (self._said(word)[:MOST_BECAUSE_LETTERS] for word in ("because", "reason"))
        guess = Guess(ranks, hands, because, reason, plans=other_plans, begun=begun)
        is_locked = self._said("locked") in (LOCKED, SHOWN) and guess.is_whole
        return replace(guess, is_locked=is_locked, is_shown=is_locked and self._said("locked") == SHOWN)

    def _begun(self, question: str, about: Sequence[str]) -> tuple[str, ...]:
        word = f"{question}_begun"
        named = tuple(dict.fromkeys(self._said(word).split("."))) if self._said(word) else ()
        if len(named) < len(about) and set(named) <= set(about):
            return named
        self._refuse(word, self._said(word), _("it takes plans of the guess, not all of them"))
        return ()

    def _row(self, word: str, length: int, lowest: int, highest: int) -> tuple[int, ...]:
        said = self._said(word)
        if not said:
            return ()
        parts = said.split(".")
        if len(parts) == length and all(p.isascii() and p.isdigit() and lowest <= int(p) <= highest for p in parts):
            return tuple(map(int, parts))
        allowed = _("it takes {length} whole numbers from {lowest} to {highest}, with points between")
        self._refuse(word, said, allowed.format(length=length, lowest=lowest, highest=highest))
        return ()

    def _changes(self, garden: Scenario) -> dict[str, Any]:
        changes: dict[str, Any] = {}
        for said in self.words.get("set", ()):
            key, _colon, value = said.partition(":")
            try:
                tried = {**changes, **canonical({key: json.loads(value)}, garden)}
                garden.with_changes(tried)
            except (ValueError, RecursionError):  # lists in lists, thousands deep, are no setting either
                self._refuse("set", said, _("its value cannot be read"))
            except LeafnestError as error:
                self.complaints.append(_("A setting of the link was left out. {why}").format(why=say_error(error)))
            else:
                changes = tried
        return changes

    def _cares(self) -> dict[str, int]:
        cares: dict[str, int] = {}
        for said in self.words.get("cares", ()):
            measure, _colon, level = said.partition(":")
            if measure in CARED and level in map(str, LEVELS):
                cares[measure] = int(level)
            else:
                self._refuse("cares", said, _("it takes a measure that is asked about and an answer from 0 to 3"))
        return cares
