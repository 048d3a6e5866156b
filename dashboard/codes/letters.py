"""Letters of a code: an alphabet without look-alikes, groups of four, and a check letter.

The alphabet is Crockford's base 32 (Douglas Crockford, "Base 32", crockford.com): digits and letters without I, L, O
and U; a reader may write I or L for 1, O for 0, and small letters. The check letter is that of H. Michael Damm ("Total
anti-symmetrische Quasigruppen", Marburg 2004) in his construction for prime powers, here over the field of 32 elements
with x⁵ + x² + 1; both known second hand. Within a block each place has another weight, so that one wrong letter or any
two that changed places are always found; a long code has a check letter for each block, which keeps that true.
"""

from __future__ import annotations

from collections.abc import Sequence

from sim.errors import LeafnestError, tell, tell_many

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
GROUP_LETTERS = 4
BLOCK_LETTERS = 30
"""Letters before a check letter. The weights, powers of 2 in the field, come round again after 31 places."""
MOST_LETTERS = 600
_SIZE = 32
_REDUCED_BY = 0b100101
_LOOK_ALIKES = str.maketrans("ILO", "110")
_BETWEEN = " -\u2013\u2014\u00b7.\t\n\u00a0"


class CodeError(LeafnestError):
    """A code that cannot be understood."""


def spell(digits: Sequence[int]) -> str:
    """Return digits from 0 to 31 as letters with their check letters, in groups of four."""
    checked: list[int] = []
    for start in range(0, max(1, len(digits)), BLOCK_LETTERS):
        block = list(digits[start : start + BLOCK_LETTERS])
        checked += [*block, check_digit(block)]
    letters = "".join(ALPHABET[digit] for digit in checked)
    return "-".join(letters[start : start + GROUP_LETTERS] for start in range(0, len(letters), GROUP_LETTERS))


def read_letters(code: str) -> list[int]:
    """Return the digits of a code as typed: small letters, blanks and look-alikes do no harm.

    Raises
    ------
    CodeError
        If it holds a sign that no code has, is too short or too long, or a check letter does not fit.
    """
    plain = "".join(sign for sign in code.upper() if sign not in _BETWEEN).translate(_LOOK_ALIKES)
    for sign in plain:
        if sign not in ALPHABET:
            raise CodeError(
                tell("The code holds '{sign}'; a code has digits, and letters without I, L, O and U.", sign=sign)
            )
    if not 1 < len(plain) <= MOST_LETTERS:
        raise CodeError(
            tell_many(
                "The code has one letter; a code has 8 at least and {most} at most.",
                "The code has {count} letters; a code has 8 at least and {most} at most.",
                count=len(plain),
                most=MOST_LETTERS,
            )
        )
    digits: list[int] = []
    for start in range(0, len(plain), BLOCK_LETTERS + 1):
        *block, check = (ALPHABET.index(sign) for sign in plain[start : start + BLOCK_LETTERS + 1])
        if check_digit(block) != check:
            raise CodeError(
                tell(
                    "The code '{code}' has a slip: a letter is wrong, missing or in another's place.",
                    code=code.strip()[:40],
                )
            )
        digits += block
    return digits


def check_digit(digits: Sequence[int]) -> int:
    """Return the digit that Damm's scheme puts after these."""
    interim = 0
    for digit in digits:
        interim = (interim ^ digit) << 1
        if interim >= _SIZE:
            interim ^= _REDUCED_BY
    return interim
