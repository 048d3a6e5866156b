"""The addresses that this machine has in its local networks, read from its own cards, and which ports are free there.

Nobody outside is asked.
"""

from __future__ import annotations

import ipaddress
import socket


def local_addresses() -> list[str]:
    """Return the IPv4 addresses under which devices near by may reach this machine, home and school networks first."""
    import psutil

    found = [
        ipaddress.IPv4Address(entry.address)
        for card, entries in sorted(psutil.net_if_addrs().items())
        for entry in entries
        if entry.family == socket.AF_INET and _is_up(card)
    ]
    usable = [one for one in found if not (one.is_loopback or one.is_link_local or one.is_unspecified)]
    return [str(one) for one in sorted(usable, key=lambda one: not one.is_private)]


def is_free(address: str, port: int) -> bool:
    """Return whether no other program has this port of an address of this machine."""
    try:
        socket.create_server((address, port)).close()  # it knows on which systems a port can be had twice
    except OSError:
        return False
    return True


def _is_up(card: str) -> bool:
    import psutil

    stats = psutil.net_if_stats().get(card)
    return stats is not None and stats.isup
