# Shared by ./start, ./check and .ci/run: find a Python, make .venv, see whether there is a browser to test with.

find_python() {
  for candidate in "${PYTHON:-}" python3 python3.14 python3.13 python3.12 python3.11; do
    if [ -n "$candidate" ] && command -v "$candidate" >/dev/null 2>&1 &&
      "$candidate" -c 'import sys, venv, ensurepip; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
      echo "$candidate"
      return
    fi
  done
  echo "Leaf to Nest needs Python 3.11 or newer with its modules venv and ensurepip (on Debian and Ubuntu: the package" >&2
  echo "python3-venv); none was found. Set PYTHON to one." >&2
  exit 2
}

# Install what pyproject.toml asks for, from this folder, unless that has been done: a classroom may have no network.
prepare_environment() {
  if [ ! -x .venv/bin/python ]; then
    python=$(find_python)
    echo "Setting up .venv, once…"
    if ! "$python" -m venv .venv; then
      rm -rf .venv # half of one would be taken for a whole one
      return 1
    fi
  fi
  wanted="$(cksum <pyproject.toml) $(pwd -P)"
  if grep -qxF "$wanted $1" .venv/installed 2>/dev/null; then
    return
  fi
  if said=$(.venv/bin/python -m pip install --quiet --disable-pip-version-check --editable "$1" 2>&1); then
    printf '%s\n' "$wanted ." "$wanted $1" >.venv/installed # more holds less
  elif .venv/bin/leafnest --version >/dev/null 2>&1; then
    echo "The packages could not be brought up to date (no network?); going on with those that are there." >&2
  else
    echo "$said" >&2
    return 1
  fi
}

has_browser() {
  { command -v chromium || command -v chromium-browser; } >/dev/null 2>&1 && command -v chromedriver >/dev/null 2>&1
}
