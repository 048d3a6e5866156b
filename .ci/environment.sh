# Shared by ./start, ./check and .ci/run: find a Python, make .venv, see whether there is a browser to test with.

find_python() {
  for candidate in "${PYTHON:-}" python3 python3.14 python3.13 python3.12 python3.11; do
    if [ -n "$candidate" ] && command -v "$candidate" >/dev/null 2>&1 &&
      "$candidate" -c 'import sys, venv; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
      echo "$candidate"
      return
    fi
  done
  echo "Leaf to Nest needs Python 3.11 or newer with its venv module; none was found. Set PYTHON to one." >&2
  exit 2
}

prepare_environment() {
  if [ ! -x .venv/bin/python ]; then
    python=$(find_python)
    echo "Setting up .venv, once…"
    "$python" -m venv .venv
  fi
  .venv/bin/python -m pip install --quiet --disable-pip-version-check --editable "$1"
}

has_browser() {
  { command -v chromium || command -v chromium-browser; } >/dev/null 2>&1 && command -v chromedriver >/dev/null 2>&1
}
