"""Memory is measured for the run alone, whatever the suite itself holds by then."""

import subprocess
import sys

import memory


def test_what_the_suite_holds_is_not_charged_to_a_run(tmp_path):
    held = bytearray(b"x" * (300 << 20))
    subprocess.run(memory.measured([sys.executable, "-S", "-c", "pass"], tmp_path / "peak"), check=True)
    assert 1 < memory.megabytes(tmp_path / "peak") < 100 and len(held) == 300 << 20


def test_what_a_run_takes_is_charged_and_its_end_is_kept(tmp_path):
    run = [sys.executable, "-S", "-c", "import sys; held = b'x' * (200 << 20); sys.exit(3)"]
    assert subprocess.run(memory.measured(run, tmp_path / "peak")).returncode == 3
    assert memory.megabytes(tmp_path / "peak") > 200
