"""Refuses sockets to anywhere but this machine's own addresses, in this process, and writes each try down."""

import ipaddress
import os
import socket
import sys
from pathlib import Path

_FILE = Path(os.environ["SOCKET_GUARD_FILE"])
_OWN_NAMES = {"", "localhost", socket.gethostname()}
_REFUSED = "sockets to the outside are refused"


def _note(line):
    with _FILE.open("a", encoding="utf-8") as file:
        file.write(f"{line}\n")


def _is_near(host):
    if host in _OWN_NAMES or host is None:
        return True
    try:
        return ipaddress.ip_address(host).is_loopback or host in os.environ.get("SOCKET_GUARD_OWN", "").split()
    except ValueError:
        return False


def _look(event, details):
    if event == "socket.getaddrinfo":
        host = details[0].decode() if isinstance(details[0], bytes) else details[0]
        is_far = not _is_near(host)
    elif event in ("socket.connect", "socket.sendto"):
        address = details[1]
        is_far = isinstance(address, tuple) and not _is_near(address[0])
        host = address[0] if is_far else ""
    elif event == "socket.gethostbyname":
        host = details[0]
        is_far = not _is_near(host)
    else:
        return
    if is_far:
        _note(f"{os.getpid()} {event} {host} {sys.argv[:1]}")
        raise OSError(f"{_REFUSED}: {host}")


if not _FILE.exists():
    _note("guard is on")
sys.addaudithook(_look)
