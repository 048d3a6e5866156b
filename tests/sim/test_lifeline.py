"""A process tied by a pipe ends when the other end is gone, and reads no standard input beside what it loads."""

import subprocess
import sys

import pytest

STARTS_WATCH = {
    "the rules' compiler": "from sim.first_start import _end_with_the_pipe as start; start()",
    "the class's server": "from dashboard.server.class_server import end_with_the_pipe as start; start(hear)",
}
TIED = """
import os, sys, threading
heard = threading.Event()
hear = lambda line: line == "größer\\n" and heard.set()
{starts_watch}
print(os.path.samestat(os.fstat(0), os.stat(os.devnull)), flush=True)
print({says}, flush=True)
threading.Event().wait()
"""
END_SECONDS = 30


def tied(starts_watch, says="''"):
    code = TIED.format(starts_watch=starts_watch, says=says)
    return subprocess.Popen(
        [sys.executable, "-c", code], stdin=subprocess.PIPE, stdout=subprocess.PIPE, encoding="utf-8"
    )


@pytest.mark.parametrize("starts_watch", STARTS_WATCH.values(), ids=STARTS_WATCH)
def test_standard_input_is_not_what_the_watch_reads(starts_watch):
    """On Windows, loading numpy or scipy beside a read of standard input would stop both for ever."""
    with tied(starts_watch) as process:
        try:
            process.stdin.write("größer\n")
            process.stdin.flush()
            assert process.stdout.readline() == "True\n"
            assert process.poll() is None
            process.stdin.close()
            process.wait(END_SECONDS)
        finally:
            process.kill()


def test_what_is_told_through_the_pipe_is_heard():
    with tied(STARTS_WATCH["the class's server"], says=f"heard.wait({END_SECONDS})") as process:
        try:
            process.stdin.write("größer\n")
            process.stdin.flush()
            assert process.stdout.readline() == "True\n"
            assert process.stdout.readline() == "True\n"
        finally:
            process.kill()
