"""Frames a second of the garden map, in a browser slowed fourfold: python -m tests.benchmarks.frames

Both maps of the teaching garden in June, at five days a second, counted in the page. Drawn without a graphics card. The
rate is the machine's as much as the map's, so that tests hold a ratio instead (``tests/browser/test_player.py``).
"""

import argparse
import statistics
import tempfile
from pathlib import Path

from tests.browser.map_player import open_map, run_and_wait
from tests.browser.starting import started_browser, started_program

SLOWED = 4
COUNT = """
map.querySelector(".stop").checked = false;
map.querySelector(".speed").value = "5";
player.goTo(95);
player.play();
const first = player.frames, begun = performance.now();
setTimeout(() => {
  const seconds = (performance.now() - begun) / 1000, drawn = player.frames - first;
  player.pause();
  done(drawn / seconds);
}, 2500);
"""


def frames_a_second(tries: int) -> list[float]:
    """Return the rate of each try."""
    with (
        tempfile.TemporaryDirectory() as profile,
        started_program() as address,
        started_browser(Path(profile)) as browser,
    ):
        open_map(browser, address, "")
        browser.execute_cdp_cmd("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
        return [run_and_wait(browser, COUNT) for _ in range(tries)]


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--tries", type=int, default=9, help="of two and a half seconds each")
    rates = frames_a_second(parser.parse_args().tries)
    print("frames a second, slowed fourfold:", ", ".join(f"{rate:.1f}" for rate in rates))
    print(f"median {statistics.median(rates):.1f}, wanted 30")


if __name__ == "__main__":
    main()
