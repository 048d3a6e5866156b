"""``python -m dashboard.words``: bring every catalogue up to date with what is said, and list what has no words yet."""

from __future__ import annotations

import sys

from dashboard.words.catalogues import catalogue_text, faults, file_of, languages, renewed


def main() -> int:
    """Renew the catalogues; return 1 if a text still has no words in one of them."""
    amiss = 0
    for language in languages():
        file = file_of(language)
        file.write_text(catalogue_text(renewed(language)), encoding="utf-8")
        for text, fault in faults(language):
            amiss += 1
            print(f"{file}: {text!r} {fault}")
    print(f"{amiss} texts to be worded." if amiss else "Every text has its words.", file=sys.stderr)
    return int(amiss > 0)


if __name__ == "__main__":
    sys.exit(main())
