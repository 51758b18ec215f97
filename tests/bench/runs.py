"""Runs of a program, each a process of its own, and what they took. No timing is ever a test."""

import os
import statistics
import subprocess
import sys
import time
from typing import NamedTuple


class Took(NamedTuple):
    """Wall time and processor time in seconds, peak memory in bytes, and what the program said on standard error."""

    seconds: float
    processor: float
    memory: int
    said: str = ""


def once(command, env=None):
    """One run; ends everything if it fails."""
    command = [str(word) for word in command]
    begun = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, env={**os.environ, **(env or {})})
    said = process.stderr.read().decode()
    _, status, usage = os.wait4(process.pid, 0)
    took = time.perf_counter() - begun
    if status:
        sys.exit(f"{command} failed:\n{said}")
    return Took(took, usage.ru_utime + usage.ru_stime, usage.ru_maxrss * 1024, said)


def repeated(runs, command, before=lambda: None, env=None):
    """The median of the times, the largest memory, what the last run said."""
    results = []
    for _ in range(runs):
        before()
        results.append(once(command, env))
    seconds, processor = (statistics.median(r[n] for r in results) for n in (0, 1))
    return Took(seconds, processor, max(r.memory for r in results), results[-1].said)
