#!/usr/bin/env bash
# Measures what speed is promised for, each row beside its peer in one run on one machine, and prints tables: sheets cut into stickers,
# stickers, variants, pages, differences (speed.py); a notebook of 1,000 pages beside a script (measure.py); planners of a year
# (planner.py). No timing is ever a test. `run.sh [RUNS] [ROW ...]`. Needs what tests/run installs: run that first. A machine that
# does nothing else gives figures that can be compared.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/../.."
python="${SHEAFWRIGHT_PYTHON:-$PWD/target/venv/bin/python}"
[ -x "$python" ] || { echo "run tests/run first: it makes the Python that this needs" >&2; exit 1; }
if [ -z "${SHEAFWRIGHT_BIN:-}" ]; then
  cargo build --release --locked --quiet
  export SHEAFWRIGHT_BIN="$PWD/target/release/sheafwright"
fi
# Peers that are libraries for Rust, and two for Python that no test needs.
cargo build --release --quiet --manifest-path tests/bench/peers/Cargo.toml --target-dir target/peers
export SHEAFWRIGHT_PEERS="$PWD/target/peers/release/peers"
"$python" -m pip install --quiet --upgrade --target target/peers/python --requirement tests/bench/requirements.txt
export PYTHONPATH="$PWD/target/peers/python"
"$python" tests/bench/speed.py "$@"
if [ "$#" -le 1 ]; then
  "$python" tests/bench/measure.py "$@"
  "$python" tests/bench/planner.py
fi
