"""A square code is printed for a public address that a teacher entered, never for this machine or a private one."""

from __future__ import annotations

import io
import ipaddress
from urllib.parse import urlsplit

from sim.errors import OutputError, Sentence, tell

PRIVATE_ENDINGS = ("localhost", "local", "lan", "home", "internal", "intranet", "private", "corp", "test", "invalid")
"""Ends of names that lead nowhere outside a house."""
MOST_LETTERS = 300
EXAMPLE = "https://garden.example.org"
_SCHEMES = ("http", "https")
_ALLOWED_PARTS = 2


def public_address(typed: str) -> str:
    """Return the address that was typed, checked.

    Raises
    ------
    OutputError
        If it is none that people elsewhere can open: this machine, a private network, a name without a dot.
    """
    address = typed.strip()
    try:
        parts = urlsplit(address)
        host = (parts.hostname or "").rstrip(".").lower()
        _port = parts.port  # raises where it is no number
    except ValueError:
        raise OutputError(_refusal(address)) from None
    is_sound = (
        parts.scheme in _SCHEMES
        and bool(host)
        and not parts.username
        and not parts.password
        and len(address) <= MOST_LETTERS
        and address.isprintable()
        and not any(letter.isspace() for letter in address)
    )
    if not is_sound or not _is_public(host):
        raise OutputError(_refusal(address))
    return address.rstrip("/")


def _is_public(host: str) -> bool:
    try:
        return ipaddress.ip_address(host).is_global
    except ValueError:
        labels = host.split(".")
        # A name of figures only, or 0x…, is an address in another spelling.
        is_name = labels[-1].isalpha() and all(label and label.replace("-", "").isalnum() for label in labels)
        return is_name and len(labels) >= _ALLOWED_PARTS and labels[-1] not in PRIVATE_ENDINGS


def _refusal(address: str) -> Sentence:
    return tell(
        "'{address}' was found; a square code needs a public address, such as {example}, not this machine or a "
        "private network.",
        address=address[:MOST_LETTERS],
        example=EXAMPLE,
    )


def qr_svg(address: str) -> bytes:
    """Return the square code of an address as a drawing."""
    import segno

    file = io.BytesIO()
    segno.make(address, error="m", micro=False).save(file, kind="svg", scale=4, border=4, xmldecl=False, nl=False)
    return file.getvalue()
