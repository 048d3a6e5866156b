"""Thirty students at once, with the real model and pages: python -m tests.benchmarks.classroom

Starts the program as a teacher does who shares it, opens a tab for each student in the same instant, and lets each
move a slider every 5 to 15 seconds, each time to a value that nobody had before, in a season of their own, while five
handouts are made. The students are in this process, on the same processors, so the server has a little less than all.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import random
import re
import statistics
import subprocess
import sys
import threading
import time
from dataclasses import dataclass, field

import psutil

from tests.benchmarks.visitors import Visitor

THING = "Pests that come"
GARDEN, PLAN = "teaching_garden", "net"
SHORTEST_PAUSE, LONGEST_PAUSE = 5.0, 15.0
LOWEST_VALUE, BETWEEN_VALUES = 1.001, 0.001
HANDOUT_LESSON = "net_spray_or_leave"
PAPERS = ("Student's sheet", "Cards")
OPEN_SECONDS = 240
PATIENCE = 30.0
MIB = 1 << 20


@dataclass
class Found:
    """What was measured."""

    first_screens: list[float] = field(default_factory=list)
    try_screens: list[float] = field(default_factory=list)
    answers: list[float] = field(default_factory=list)
    handouts: list[float] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    most_mib: float = 0.0


def value_of(student: int, move: int) -> float:
    """Return a value that no other move of any student has."""
    return round(LOWEST_VALUE + BETWEEN_VALUES * (student * 100 + move), 3)


async def study(address: str, student: int, moves: int, found: Found, all_opened: asyncio.Barrier) -> None:
    """Open the first screen, go to the one with sliders, and move."""
    chance = random.Random(student)
    async with Visitor(address, f"student {student}") as visitor:
        found.first_screens.append(await visitor.open(""))
        found.faults += visitor.faults
    await all_opened.wait()
    season = f"season={student + 1}&" if student else ""
    query = f"{season}try={PLAN}&set=pests.arrivals%3A{value_of(student, 0)}"
    async with Visitor(address, f"student {student}") as visitor:
        found.try_screens.append(await visitor.open("try", query))
        await all_opened.wait()
        for move in range(1, moves + 1):
            await visitor.listen(chance.uniform(SHORTEST_PAUSE, LONGEST_PAUSE))
            try:
                found.answers.append(await asyncio.wait_for(visitor.move(THING, value_of(student, move)), PATIENCE))
            except TimeoutError:
                found.faults.append(f"student {student} had no answer to move {move} within {PATIENCE:.0f} s")
        own = {f"{value_of(student, move):g}" for move in range(moves + 1)}
        found.faults += [*visitor.faults, *(f"student {student} was told {one}" for one in visitor.values_told - own)]


async def take_home(address: str, place: int, found: Found, all_opened: asyncio.Barrier) -> None:
    """Make a handout while the others move."""
    await all_opened.wait()
    await all_opened.wait()
    await asyncio.sleep(LONGEST_PAUSE * (1 + place / 2))
    async with Visitor(address, f"handout {place}") as visitor:
        began = time.monotonic()
        await visitor.open("take", f"lesson={HANDOUT_LESSON}")
        await visitor.press("Make the sheets")
        paper = await visitor.fetch(PAPERS[place % len(PAPERS)])
        found.handouts.append(time.monotonic() - began)
        found.faults += visitor.faults
        if not paper.startswith(b"%PDF"):
            found.faults.append(f"handout {place} is no PDF")


async def watch_memory(process: int, found: Found) -> None:
    """Note the most memory of the server and all that it started; shared pages count once."""
    while True:
        found.most_mib = max(found.most_mib, await asyncio.to_thread(memory_mib, process))
        await asyncio.sleep(1)


def memory_mib(process: int) -> float:
    """Return the memory of a process and its children."""
    total = 0
    parent = psutil.Process(process)
    for one in [parent, *parent.children(recursive=True)]:
        try:
            full = one.memory_full_info()
            total += getattr(full, "pss", full.rss)
        except psutil.Error:
            continue
    return total / MIB


async def hold_class(address: str, process: int, students: int, moves: int, handouts: int) -> Found:
    """Run the whole class and return what was measured."""
    found = Found()
    watch = asyncio.create_task(watch_memory(process, found))
    all_opened = asyncio.Barrier(students + handouts)
    await asyncio.gather(
        *(study(address, student, moves, found, all_opened) for student in range(students)),
        *(take_home(address, place, found, all_opened) for place in range(handouts)),
    )
    watch.cancel()
    return found


def percentile(values: list[float], part: float) -> float:
    """Return the value below which this part of the values lies."""
    return (
        statistics.quantiles(values, n=100, method="inclusive")[round(part * 100) - 1] if len(values) > 1 else values[0]
    )


def said(words: str, values: list[float]) -> str:
    """Return a row of the record."""
    if not values:
        return f"| {words} | none |"
    return (
        f"| {words} | {len(values)}: median {statistics.median(values):.2f} s, "
        f"95 of 100 within {percentile(values, 0.95):.2f} s, longest {max(values):.2f} s |"
    )


def warm(address: str) -> None:
    """Wait until the server's processes have loaded the rules, as a teacher does who starts before the class."""

    async def look() -> None:
        async with Visitor(address, "teacher") as visitor:
            await visitor.open("try", f"try={PLAN}&set=pests.arrivals%3A0.4")

    asyncio.run(look())


def main() -> None:
    """Start the program, hold the class, print the record's rows."""
    choice = argparse.ArgumentParser()
    choice.add_argument("--students", type=int, default=30)
    choice.add_argument("--moves", type=int, default=6)
    choice.add_argument("--handouts", type=int, default=5)
    chosen = choice.parse_args()
    command = [sys.executable, "-u", "-m", "dashboard.command", "--no-browser", "--share"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as server:
        listener = threading.Thread(target=lambda: [None for _line in server.stdout or ()], daemon=True)
        try:
            link = link_said(server)
            listener.start()
            until_open(link)
            warm(link)
            before = os.getloadavg()[0]
            found = asyncio.run(hold_class(link, server.pid, chosen.students, chosen.moves, chosen.handouts))
        finally:
            server.terminate()
            if listener.is_alive():
                listener.join()  # it reads until the program is gone
    print(said("all opened in the same instant: first screen", found.first_screens))
    print(said("all opened the screen with sliders in the same instant: all twenty seasons", found.try_screens))
    print(said("slider let go to first answer, a new setting each time", found.answers))
    print(said("handout, with its seasons", found.handouts))
    print(f"| most memory of both servers and their processes | {found.most_mib:,.0f} MiB |")
    print(f"| errors, or words meant for another | {len(found.faults)} |")
    print(f"| load of the machine before and after | {before:.1f}, {os.getloadavg()[0]:.1f} |")
    for fault in found.faults[:10]:
        print(fault, file=sys.stderr)


def link_said(server: subprocess.Popen[str]) -> str:
    """Return the address that the program says, and go on reading, so that it never has nobody to speak to."""
    while found := (server.stdout.readline() if server.stdout else ""):
        if link := re.search(r"http://[\d.]+:\d+", found):
            return link[0]
    raise SystemExit("the program ended without an address")


def until_open(link: str) -> None:
    """Wait until the server answers."""
    from urllib.error import URLError
    from urllib.request import urlopen

    for _try in range(OPEN_SECONDS * 2):
        try:
            with urlopen(f"{link}/_stcore/health", timeout=2):
                return
        except (URLError, OSError):
            time.sleep(0.5)
    raise SystemExit(f"no answer from {link}")


if __name__ == "__main__":
    main()
