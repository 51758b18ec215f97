"""The memory that a run of the tool takes at most.

On Linux the peak of a process begins with what its parent held when it was started (`ru_maxrss` outlives `execve`), so a
run out of a test suite that has grown is charged with the suite. A small process stands between the two.
"""

import sys

# Runs argv[2:], writes its peak in kilobytes (getrusage, Linux) to the file argv[1], and ends as it ended.
BETWEEN = """
import os, sys
child = os.fork()
if child == 0:
    os.execvp(sys.argv[2], sys.argv[2:])
_, status, usage = os.wait4(child, 0)
with open(sys.argv[1], "w") as out:
    out.write(str(usage.ru_maxrss))
code = os.waitstatus_to_exitcode(status)
os._exit(code) if code >= 0 else os.kill(os.getpid(), -code)
"""


def measured(command, peak):
    """The command that runs `command` and leaves its peak in the file `peak`."""
    return [sys.executable, "-S", "-E", "-c", BETWEEN, str(peak), *map(str, command)]


def megabytes(peak):
    """What lies in the file `peak`, in megabytes."""
    return int(peak.read_text()) / 1024
