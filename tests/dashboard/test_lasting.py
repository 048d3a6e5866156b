"""A file made on request outlives the runs of others, and the store of files stays small all the same."""

import pytest
from streamlit.runtime.media_file_manager import MediaFileManager
from streamlit.runtime.media_file_storage import MediaFileKind, MediaFileStorageError
from streamlit.runtime.memory_media_file_storage import MemoryMediaFileStorage

from dashboard.server.lasting import FILES_KEPT, let_files_last


@pytest.fixture
def store():
    return MemoryMediaFileStorage("/media")


def taken(manager, words):
    """Ask for a file as a button does, and return its name in the store."""
    asked = manager.add_deferred(lambda: words, "text/plain", "here", file_name="paper.txt")
    return manager.execute_deferred(asked).rpartition("/")[2]


def others_end_their_runs(manager, times=3):
    manager.clear_session_refs()
    for _ in range(times):
        manager.remove_orphaned_files()


def test_without_help_others_throw_a_file_away_before_it_is_fetched(store):
    manager = MediaFileManager(store)
    name = taken(manager, b"a paper")
    others_end_their_runs(manager)
    with pytest.raises(MediaFileStorageError):
        store.get_file(name)


def test_a_file_is_there_after_others_have_ended_their_runs(store):
    let_files_last(store)
    let_files_last(store)
    manager = MediaFileManager(store)
    name = taken(manager, b"a paper")
    others_end_their_runs(manager)
    assert store.get_file(name).content == b"a paper"


def test_the_oldest_go_when_many_have_come(store):
    let_files_last(store)
    manager = MediaFileManager(store)
    names = []
    for number in range(FILES_KEPT + 2):
        names.append(taken(manager, f"paper {number}".encode()))
        others_end_their_runs(manager)
    for gone in names[:2]:
        with pytest.raises(MediaFileStorageError):
            store.get_file(gone)
    assert all(store.get_file(name) for name in names[2:])


def test_a_paper_that_is_offered_once_more_stays_however_many_come_and_go(store):
    let_files_last(store)

    def offered(words):
        return store.load_and_get_id(words, "text/plain", MediaFileKind.DOWNLOADABLE, filename="paper.txt")

    first = offered(b"a paper")
    store.delete_file(first)
    assert offered(b"a paper") == first  # by another student, whose browser has yet to come for it
    for number in range(FILES_KEPT + 1):
        store.delete_file(offered(f"paper {number}".encode()))
    assert store.get_file(first).content == b"a paper"


def test_a_paper_taken_again_begins_anew(store):
    let_files_last(store)
    manager = MediaFileManager(store)
    first = taken(manager, b"a paper")
    others_end_their_runs(manager)
    for number in range(FILES_KEPT - 1):
        taken(manager, f"paper {number}".encode())
        others_end_their_runs(manager)
    assert taken(manager, b"a paper") == first
    others_end_their_runs(manager)
    taken(manager, b"one more")
    others_end_their_runs(manager)
    assert store.get_file(first).content == b"a paper"
