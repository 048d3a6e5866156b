"""Files made on request last until the browser has come for them.

Streamlit makes such a file for no visit in particular, and throws it away when two visits have ended a run since: in a
class of thirty that is sooner than a slow network fetches it, and the student gets an error in place of a paper. So
the last of these files are kept a while longer, in memory only.
"""

from __future__ import annotations

from collections import deque
from threading import Lock
from typing import Any

FILES_KEPT = 64
"""About 20 MB of papers; in a class of thirty, minutes of taking home."""
_KEPT_BY = "files_kept_after_use"


def let_files_last(storage: Any) -> None:
    """Let a store of files forget a downloaded file only when so many others have come after it; once a store."""
    from streamlit.runtime.media_file_storage import MediaFileKind
    from streamlit.runtime.memory_media_file_storage import MemoryMediaFileStorage

    if not isinstance(storage, MemoryMediaFileStorage) or hasattr(storage, _KEPT_BY):
        return
    waiting: deque[str] = deque()
    lock = Lock()
    keep, forget = storage.load_and_get_id, storage.delete_file

    def keep_again(*about: Any, **named: Any) -> str:
        with lock:
            file_id: str = keep(*about, **named)
            if file_id in waiting:  # a whole class's papers are the same bytes: somebody is offered it once more
                waiting.remove(file_id)
        return file_id

    def forget_later(file_id: str) -> None:
        if storage.get_file(file_id).kind != MediaFileKind.DOWNLOADABLE:
            forget(file_id)
            return
        with lock:
            if file_id in waiting:
                waiting.remove(file_id)
            waiting.append(file_id)
            while len(waiting) > FILES_KEPT:
                forget(waiting.popleft())

    storage.load_and_get_id = keep_again  # type: ignore[method-assign]
    storage.delete_file = forget_later  # type: ignore[method-assign]
    setattr(storage, _KEPT_BY, waiting)


def let_papers_last() -> None:
    """Let the files of this server last; without a server, as in tests of single pages, nothing is done."""
    from streamlit import runtime

    if runtime.exists():
        let_files_last(getattr(runtime.get_instance().media_file_mgr, "_storage", None))
