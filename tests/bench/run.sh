#!/usr/bin/env bash
# Measures a 1,000-page notebook of about 22 links a page: built with Sheafwright, and scripted with reportlab for the same
# pages; then planners of a year. In one run on one machine. Prints tables. No timing is ever a test.
# Needs what tests/run installs: run that first.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
python="${SHEAFWRIGHT_PYTHON:-$PWD/target/venv/bin/python}"
[ -x "$python" ] || { echo "run tests/run first: it makes the Python that this needs" >&2; exit 1; }
if [ -z "${SHEAFWRIGHT_BIN:-}" ]; then
  cargo build --release --locked --quiet
  export SHEAFWRIGHT_BIN="$PWD/target/release/sheafwright"
fi
"$python" tests/bench/measure.py "$@"
exec "$python" tests/bench/planner.py
