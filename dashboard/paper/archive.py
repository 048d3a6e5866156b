"""Archives whose bytes depend on what they hold and on nothing else."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

FIXED_MOMENT = (1980, 1, 1, 0, 0, 0)
"""The first that the format knows."""


def zipped(files: Mapping[str, bytes]) -> bytes:
    """Return files in one archive; the same files always give the same bytes."""
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, content in files.items():
            opened.writestr(zipfile.ZipInfo(name, date_time=FIXED_MOMENT), content, zipfile.ZIP_DEFLATED)
    return archive.getvalue()


def zip_again(content: bytes) -> bytes:
    """Return an archive with the same files in the same order, without the moment at which it was made."""
    with zipfile.ZipFile(io.BytesIO(content)) as opened:
        return zipped({name: opened.read(name) for name in opened.namelist()})
