"""A lesson's whole setting as a short code: garden, plans, first season, model version, and each changed setting.

A guess is not in it, since everyone makes their own. Names are kept as prints of their letters, not as places in a
list, so that a garden or a setting that is added later moves nothing.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from dashboard.codes.bits import BitReader, BitWriter, one_with, print_of
from dashboard.codes.keys import canonical, gathered, known_keys, known_words
from dashboard.codes.letters import CodeError, read_letters, spell
from dashboard.codes.made import (
    FILE_BITS,
    FILE_PREFIX,
    GARDEN_BITS,
    RELEASE_BITS,
    file_mark,
    file_print,
    garden_print,
    other_garden,
    other_release,
    release,
    release_number,
    wanted_file,
    wanted_lesson,
)
from dashboard.language.saying import say_error
from dashboard.language.tongue import _
from dashboard.lesson.lesson import LAST_SEASON, MOST_PLANS, Lesson, first_lesson
from dashboard.lesson.opened import open_lessons, own_lesson_text
from dashboard.lesson.reading import lesson_names
from sim.errors import LeafnestError, Sentence, tell, tell_many
from sim.scenario import Scenario

_ABOUT_BITS = 2
_GARDEN, _FILE, _READY, _OWN = range(4)
"""What a code is about: a garden of the program, one that was brought, a ready lesson, a teacher's own lesson."""
_NAME_BITS, _KEY_BITS, _PLAN_BITS, _FEW_BITS, _SEASON_BITS = 7, 20, 4, 4, 14
_LATER = (1 << _PLAN_BITS) - 1
"""A plan's place from here on is written at length."""


def code_of(lesson: Lesson, gardens: Mapping[str, Scenario]) -> str:
    """Return the code of a lesson: 8 to 10 letters for a ready one, more for each setting that was changed.

    Parameters
    ----------
    lesson
        What was chosen; its guess does not count.
    gardens
        Name → garden, those that the visitor brought among them.
    """
    garden = gardens[lesson.garden]
    bits = BitWriter()
    bits.put(0, 1)  # the shape of the code, so that there can be another one day
    bits.put(release_number(), RELEASE_BITS)
    plain = first_lesson(gardens, lesson.garden, lesson.ready)
    about = _about(lesson, plain)
    bits.put(about, _ABOUT_BITS)
    if about == _FILE:
        bits.put(file_print(lesson.garden), FILE_BITS)
    elif about == _OWN:
        bits.put(own_lesson_print(plain.ready), FILE_BITS)
    else:
        bits.put(print_of(plain.ready or lesson.garden, _NAME_BITS), _NAME_BITS)
        bits.put(garden_print(garden), GARDEN_BITS)
    has_plans = lesson.plans != plain.plans
    bits.put(int(has_plans), 1)
    bits.put(int(bool(lesson.changes)), 1)
    is_late = lesson.season > 1 << _FEW_BITS
    bits.put(int(is_late), 1)
    bits.put(lesson.season - 1, _SEASON_BITS if is_late else _FEW_BITS)
    if has_plans:
        bits.put(len(lesson.plans) - 1, 2)
        for plan in lesson.plans:
            _put_plan(bits, garden.plan_names.index(plan))
    if lesson.changes:
        _put_changes(bits, lesson, garden)
    return spell(bits.digits())


def lesson_of_code(code: str, gardens: Mapping[str, Scenario]) -> tuple[Lesson | None, list[str]]:
    """Return the lesson of a code, or None if it cannot be had, and a sentence for whatever must be told.

    Parameters
    ----------
    code
        As typed.
    gardens
        Name → garden, those that the visitor brought among them.
    """
    said: list[str] = []
    try:
        return _Reader(BitReader(read_letters(code)), gardens, said).lesson(), said
    except CodeError as error:
        return None, [*said, say_error(error)]


def own_lesson_print(name: str) -> int:
    """Return the number by which a code knows a teacher's own lesson: it changes with any word of its file."""
    return print_of(own_lesson_text(name), FILE_BITS)


def _about(lesson: Lesson, plain: Lesson) -> int:
    if lesson.garden.startswith(FILE_PREFIX):
        return _FILE
    if not plain.ready:
        return _GARDEN
    return _READY if plain.ready in lesson_names() else _OWN


def _put_plan(bits: BitWriter, place: int) -> None:
    bits.put(min(place, _LATER), _PLAN_BITS)
    if place >= _LATER:
        bits.put_long(place - _LATER)


def _put_changes(bits: BitWriter, lesson: Lesson, garden: Scenario) -> None:
    _put_plan(bits, garden.plan_names.index(lesson.tried_plan) + 1 if lesson.tried_plan else 0)
    changes = gathered(canonical(lesson.changes, garden), garden)
    known = known_keys(garden)
    bits.put_long(len(changes))
    before: str | None = None
    for key, value in sorted(changes.items(), key=lambda change: (json.dumps(change[1]), change[0])):
        is_known = one_with(print_of(key, _KEY_BITS), _KEY_BITS, known) == key
        bits.put(int(is_known), 1)
        if is_known:
            bits.put(print_of(key, _KEY_BITS), _KEY_BITS)
        else:
            bits.put_text(key)
        bits.put(int(json.dumps(value) == before), 1)
        if json.dumps(value) != before:
            bits.put_value(value, known_words())
        before = json.dumps(value)


class _Reader:
    def __init__(self, bits: BitReader, gardens: Mapping[str, Scenario], said: list[str]) -> None:
        self.bits = bits
        self.gardens = gardens
        self.said = said

    def lesson(self) -> Lesson:
        bits = self.bits
        if bits.take(1):
            raise CodeError(tell("The code is of a later kind than this version of the program knows."))
        made = bits.take(RELEASE_BITS)
        lesson = self._begun()
        if made != release_number():
            self.said[:] = [other_release(f"{release().rsplit('.', 1)[0]}.{made}"), *self.said]
        garden = self.gardens[lesson.garden]
        has_plans, has_changes, is_late = (bits.take(1) for _flag in range(3))
        season = bits.take(_SEASON_BITS if is_late else _FEW_BITS) + 1
        if season > LAST_SEASON:
            raise CodeError(tell("The code names a season after {last}, the last there is.", last=LAST_SEASON))
        lesson = replace(lesson, season=season)
        if has_plans:
            lesson = replace(lesson, plans=self._plans(garden))
        if has_changes:
            tried = self._plan(garden, self._place() - 1)
            lesson = replace(lesson, tried_plan=tried, changes=self._changes(garden))
        bits.end()
        return lesson

    def _begun(self) -> Lesson:
        """Return what the code's garden, file or ready lesson begins with."""
        about = self.bits.take(_ABOUT_BITS)
        if about == _FILE:
            return first_lesson(self.gardens, self._file())
        if about == _READY:
            return self._one_of(
                [first_lesson(self.gardens, ready=name) for name in open_lessons()],
                tell("The code is about a lesson that this program does not have."),
            )
        if about == _GARDEN:
            own = [name for name in self.gardens if not name.startswith(FILE_PREFIX)]
            return self._one_of(
                [first_lesson(self.gardens, name) for name in own],
                tell("The code is about a garden that this version of the program does not have."),
            )
        return self._own_lesson()

    def _own_lesson(self) -> Lesson:
        wanted = self.bits.take(FILE_BITS)
        for name in open_lessons():
            if name not in lesson_names() and own_lesson_print(name) == wanted:
                return first_lesson(self.gardens, ready=name)
        raise CodeError(wanted_lesson(file_mark(wanted)))

    def _one_of(self, known: list[Lesson], unknown: Sentence) -> Lesson:
        name_print, made_print = self.bits.take(_NAME_BITS), self.bits.take(GARDEN_BITS)
        alike = [one for one in known if print_of(one.ready or one.garden, _NAME_BITS) == name_print]
        if not alike:
            raise CodeError(unknown)
        same = [one for one in alike if garden_print(self.gardens[one.garden]) == made_print]
        if not same:
            self.said.append(other_garden(self.gardens[alike[0].garden]))
        return (same or alike)[0]

    def _file(self) -> str:
        wanted = self.bits.take(FILE_BITS)
        for name in self.gardens:
            if name.startswith(FILE_PREFIX) and file_print(name) == wanted:
                return name
        raise CodeError(wanted_file(file_mark(wanted)))

    def _place(self) -> int:
        place = self.bits.take(_PLAN_BITS)
        return place + self.bits.take_long() if place == _LATER else place

    def _plan(self, garden: Scenario, place: int) -> str:
        if place >= len(garden.plan_names):
            raise CodeError(
                tell("The code is about a plan that the garden '{garden}' does not have.", garden=garden.title)
            )
        return garden.plan_names[place] if place >= 0 else ""

    def _plans(self, garden: Scenario) -> tuple[str, ...]:
        count = self.bits.take(2) + 1
        plans = tuple(dict.fromkeys(self._plan(garden, self._place()) for _one in range(count)))
        if len(plans) < count or not 1 < count <= MOST_PLANS:
            raise CodeError(
                tell_many(
                    "The code names one plan; 2 to {most} are allowed.",
                    "The code names {count} plans, or one twice; 2 to {most} are allowed.",
                    count=count,
                    most=MOST_PLANS,
                )
            )
        return plans

    def _changes(self, garden: Scenario) -> dict[str, Any]:
        changes: dict[str, Any] = {}
        value: Any = None
        for _one in range(self.bits.take_long()):
            key = self._key(garden)
            value = value if self.bits.take(1) else self.bits.take_value(known_words())
            if key is None:
                self.said.append(_("The code changes a setting that this version does not know; it was left out."))
                continue
            try:
                tried = {**changes, **canonical({key: value}, garden)}
                garden.with_changes(tried)
            except LeafnestError as error:
                self.said.append(_("A setting of the code was left out. {error}").format(error=say_error(error)))
            else:
                changes = tried
        return changes

    def _key(self, garden: Scenario) -> str | None:
        if not self.bits.take(1):
            return self.bits.take_text()
        return one_with(self.bits.take(_KEY_BITS), _KEY_BITS, known_keys(garden))
