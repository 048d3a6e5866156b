"""Several visitors of one real server: each is answered, none sees another's, and what one brought goes with the visit.

Server and workers run with sockets to the outside refused, so this also holds that nothing of them asks outside.
"""

import asyncio
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from tests.benchmarks.visitors import Visitor
from tests.dashboard.guarded import GUARD, REFUSED, environment

pytestmark = pytest.mark.slow
OPEN_SECONDS = 120
START = (
    "from dashboard.server.settings import SETTINGS, free_port, serve_with\n"
    "port = free_port(None)\n"
    "from dashboard.sharing import share as sharing\n"
    "sharing.local_addresses = lambda: ['127.0.0.1']\n"
    "sharing.share().start()\n"
    "print(port, sharing.share().port, flush=True)\n"
    "serve_with(SETTINGS | {'server.port': port, 'server.headless': True})\n"
)


@pytest.fixture(scope="module")
def server(tmp_path_factory):
    """The teacher's and the class's server, which may open no socket to the outside, and where tries are written."""
    tried = tmp_path_factory.mktemp("guard") / "tried.txt"
    command = [sys.executable, "-c", START]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env=environment(tried)) as process:
        port, class_port = process.stdout.readline().split()
        addresses = f"http://localhost:{port}", f"http://127.0.0.1:{class_port}"
        try:
            for address in addresses:
                _wait_until_open(address)
            yield *addresses, tried
        finally:
            process.kill()


def _wait_until_open(address):
    deadline = time.monotonic() + OPEN_SECONDS
    while True:
        try:
            with urllib.request.urlopen(f"{address}/_stcore/health", timeout=2):
                return
        except (urllib.error.URLError, OSError):
            assert time.monotonic() < deadline
            time.sleep(0.2)


async def _study(address, number):
    values = [round(1.1 + number + move / 10, 3) for move in range(3)]
    async with Visitor(address, f"visitor {number}") as visitor:
        words = f"garden=leaf_bed&season={number + 2}&try=net&because=reason-of-{number}&set=pests.arrivals%3A"
        await visitor.open("try", f"{words}{values[0]}")
        for value in values[1:]:
            await visitor.move("Pests that come", value)
        return visitor, {f"{value:g}" for value in values}


def test_each_visitor_is_answered_and_told_of_their_own_alone(server):
    async def all_of_them():
        return await asyncio.gather(*(_study(server[0], number) for number in range(3)))

    for number, (visitor, own) in enumerate(asyncio.run(all_of_them())):
        assert visitor.faults == []
        assert visitor.values_told == own
        assert any(f"season {number + 2} first" in text for text in visitor.told)
        others = "|".join(f"season {other + 2} first|reason-of-{other}" for other in range(3) if other != number)
        assert not any(re.search(others, text) for text in visitor.told)


def test_server_and_workers_ask_nothing_outside(server):
    *addresses, tried = server

    async def look(address):
        async with Visitor(address, "one") as visitor:
            await visitor.open("guess", "garden=leaf_bed&season=40&harvest_order=1.2.3&birds_order=1.2.3&locked=yes")
            assert visitor.faults == []
            assert any("Season 40 gave" in text for text in visitor.told)

    for address in addresses:
        asyncio.run(look(address))
    assert tried.read_text(encoding="utf-8").splitlines() == ["guard is on"]


def test_the_guard_would_have_seen_it(tmp_path):
    """Else the test above could not fail: an outside socket is refused and noted, one of this machine is not."""
    tried = tmp_path / "tried.txt"
    code = (
        "import socket\n"
        "for far in (('192.0.2.1', 80), ('example.invalid', 80)):\n"
        "    try:\n"
        "        socket.create_connection(far, 1)\n"
        "    except OSError as error:\n"
        "        print(error)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], env=environment(tried), capture_output=True, text=True, check=True
    )
    assert done.stdout.count(REFUSED) == 2
    assert len(tried.read_text(encoding="utf-8").splitlines()) == 3
    assert Path(GUARD).is_dir()
