"""Sharing is an explicit act, opens what it says and no more, and really stops, also when the teacher's end dies."""

import base64
import http.client
import io
import os
import socket
import subprocess
import sys
import time
from types import SimpleNamespace

import pytest

from dashboard.server.class_server import settings_for
from dashboard.server.settings import SETTINGS, free_port
from dashboard.sharing import network, role
from dashboard.sharing import share as sharing
from dashboard.sharing.seats import Seats
from dashboard.sharing.share import Share
from sim.errors import RunError

HERE = "127.0.0.1"
OPEN_SECONDS, CLOSED_SECONDS = 90, 40


def until(condition, seconds):
    """Ask again and again: of a port of another program nobody is told when it opens or closes."""
    deadline = time.monotonic() + seconds
    while not condition():
        assert time.monotonic() < deadline
        time.sleep(0.1)


def answers(port):
    with socket.socket() as probe:
        return probe.connect_ex((HERE, port)) == 0


def card(address, family=socket.AF_INET):
    return SimpleNamespace(address=address, family=family)


def test_the_teachers_server_binds_to_this_machine_only():
    assert SETTINGS["server.address"] == "localhost"


def test_the_class_server_binds_to_one_address_and_knows_no_other_name():
    settings = settings_for("192.168.1.20", 8600)
    assert settings["server.address"] == "192.168.1.20"
    assert settings["server.allowedHosts"] == ["192.168.1.20"]
    assert settings["server.enableXsrfProtection"] is True
    assert settings["server.enableCORS"] is True
    assert settings["browser.gatherUsageStats"] is False


def test_addresses_are_those_of_cards_that_are_up_without_this_machines_own(monkeypatch):
    import psutil

    cards = {
        "lo": [card("127.0.0.1")],
        "eth0": [card("100.64.0.9"), card("fe80::1", socket.AF_INET6)],
        "wlan0": [card("192.168.1.20")],
        "lost": [card("169.254.7.7")],
        "off": [card("10.0.0.3")],
    }
    monkeypatch.setattr(psutil, "net_if_addrs", lambda: cards)
    monkeypatch.setattr(psutil, "net_if_stats", lambda: {name: SimpleNamespace(isup=name != "off") for name in cards})
    assert network.local_addresses() == ["192.168.1.20", "100.64.0.9"]


def test_a_port_in_use_is_passed_over():
    with socket.create_server((HERE, 0)) as taken:
        port = taken.getsockname()[1]
        assert not network.is_free(HERE, port)
    assert network.is_free(HERE, port)


def test_on_windows_no_port_is_asked_for_that_another_program_may_have(monkeypatch):
    """There, asking to have a port again means asking to have it beside whoever has it."""
    options = []

    class Watched(socket.socket):
        def setsockopt(self, _level, option, *value):
            options.append(option)
            super().setsockopt(_level, option, *value)

    monkeypatch.setattr(socket, "os", SimpleNamespace(name="nt"))
    monkeypatch.setattr(socket, "socket", Watched)
    free_port(None)
    sharing._free_port(HERE)
    assert socket.SO_REUSEADDR not in options


def test_without_a_network_one_sentence_says_what_to_do(monkeypatch):
    monkeypatch.setattr(sharing, "local_addresses", list)
    with pytest.raises(RunError, match="in no network"):
        Share().start()


def test_a_share_whose_address_is_gone_says_so(monkeypatch):
    shared = Share(address="192.168.1.20", _process=SimpleNamespace(poll=lambda: None))
    known = ["192.168.1.20"]
    monkeypatch.setattr(sharing, "local_addresses", lambda: known)
    assert not shared.is_cut_off
    known.clear()
    assert shared.is_cut_off


def test_an_address_that_this_machine_does_not_have_is_refused(monkeypatch):
    monkeypatch.setattr(sharing, "local_addresses", lambda: ["192.168.1.20"])
    with pytest.raises(RunError, match=r"no address 10\.0\.0\.1; allowed: 192\.168\.1\.20"):
        Share().start("10.0.0.1")


def test_a_device_is_counted_once_and_only_the_number_is_told(monkeypatch, capsys):
    monkeypatch.setattr(role, "_devices", set())
    for address in ("192.168.1.31", "192.168.1.32", "192.168.1.31"):
        role.count_device(address)
    assert capsys.readouterr().out == '{"devices": 1}\n{"devices": 2}\n'


def test_the_class_hears_the_code_of_the_teachers_setting(monkeypatch):
    monkeypatch.setattr(role, "_told", {})
    for line in ("no json", "[]", '{"code": 3}', '{"code": "04XF-600N"}'):
        role.hear(line)
    assert role.code_of_the_class() == ""  # this is the teacher's own server
    monkeypatch.setenv(role.SHARED, "yes")
    assert role.code_of_the_class() == "04XF-600N"


def test_a_code_is_told_once_and_to_nobody_who_has_ended():
    written = io.StringIO()
    shared = Share(_process=SimpleNamespace(stdin=written))
    shared.tell("AAAA")
    shared.tell("AAAA")
    shared.tell("BBBB")
    assert written.getvalue() == '{"code": "AAAA"}\n{"code": "BBBB"}\n'
    Share().tell("AAAA")


def test_a_seat_said_twice_is_known_until_one_of_both_goes():
    here = {"a", "b", "c"}
    seats = Seats(lambda visit: visit in here)
    seats.say("a", 7)
    seats.say("b", 3)
    assert not seats.is_said_elsewhere("a", 7)
    seats.say("b", 7)
    assert seats.is_said_elsewhere("a", 7)
    assert seats.is_said_elsewhere("c", 7)
    assert seats.said_twice() == [7]
    here.remove("b")
    assert seats.said_twice() == []


def test_a_server_that_died_with_words_on_their_way_is_stopped_all_the_same():
    dead = subprocess.Popen([sys.executable, "-c", ""], stdin=subprocess.PIPE, text=True)
    dead.wait()
    shared = Share(_process=dead)
    shared.tell("abcdefgh")
    shared.stop()
    assert not shared.is_started
    assert dead.stdin.closed


def test_seats_said_twice_are_told_when_they_change(monkeypatch, capsys):
    monkeypatch.setattr(role, "_twice", [])
    for twice in ([], [7], [7], []):
        role.tell_seats(twice)
    assert capsys.readouterr().out == '{"twice": [7]}\n{"twice": []}\n'


def status_of(port, path, **headers):
    line = http.client.HTTPConnection(HERE, port, timeout=20)
    try:
        line.putrequest("GET", path, skip_host="Host" in headers)
        for name, value in headers.items():
            line.putheader(name.replace("_", "-"), value)
        line.endheaders()
        return line.getresponse().status
    finally:
        line.close()


def socket_status(port, origin, host=None):
    key = base64.b64encode(os.urandom(16)).decode()
    wanted = {"Connection": "Upgrade", "Upgrade": "websocket", "Sec_WebSocket_Version": "13", "Sec_WebSocket_Key": key}
    wanted |= {"Host": host} if host else {}
    return status_of(port, "/_stcore/stream", Origin=origin, **wanted)


@pytest.mark.slow
def test_sharing_opens_a_server_of_its_own_and_closes_it(monkeypatch):
    monkeypatch.setattr(sharing, "local_addresses", lambda: [HERE])
    shared = Share()
    assert not shared.is_started
    shared.start()
    try:
        until(lambda: shared.is_open, OPEN_SECONDS)
        assert status_of(shared.port, "/_stcore/health") == 200
        assert socket_status(shared.port, f"http://{HERE}:{shared.port}") == 101
        assert socket_status(shared.port, "http://elsewhere.example") == 403
        assert socket_status(shared.port, f"http://{HERE}:{shared.port}", host="elsewhere.example") == 403
        shared.start()  # asked twice, opened once
        assert shared.is_open
    finally:
        shared.stop()
    assert not shared.is_started
    assert not answers(shared.port)


@pytest.mark.slow
def test_the_class_server_ends_when_the_teachers_process_is_killed():
    code = (
        "import threading\n"
        "from dashboard.sharing import share as sharing\n"
        f"sharing.local_addresses = lambda: ['{HERE}']\n"
        "shared = sharing.Share()\n"
        "shared.start()\n"
        "print(shared.port, flush=True)\n"
        "threading.Event().wait()\n"
    )
    with subprocess.Popen([sys.executable, "-c", code], stdout=subprocess.PIPE, text=True) as teacher:
        port = int(teacher.stdout.readline())
        try:
            until(lambda: answers(port), OPEN_SECONDS)
        finally:
            teacher.kill()
    until(lambda: not answers(port), CLOSED_SECONDS)
