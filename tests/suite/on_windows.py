"""A part of pytest for runs against the program for Windows (`tests/windows`): leaves out by name what cannot be asked there.

Each test has its reason, and all are told at the end. A name that no test of a suite has any more is a fault.
"""

import pytest

# Seen with a program of twenty lines in C as well. What is saved in the folder itself is told, and those tests run.
SUBFOLDERS = "wine 8 does not tell what is saved in folders below the one that is watched"

# Tests by their file and name (a part of a test with what it is given, in brackets), with the reason.
LEFT_OUT = {
    ("test_commands.py", 'test_new_takes_any_name[Tide "and" time]'): "no file of Windows has a double quote in its name",
    ("test_watch.py", "test_saves_of_every_kind"): SUBFOLDERS,
    ("test_watch.py", "test_a_drawing_that_nobody_can_draw_ends_no_watch"): SUBFOLDERS,
}


def names(item):
    """What a test may be called by here."""
    return {(item.path.name, item.name), (item.path.name, getattr(item, "originalname", item.name))}


def pytest_collection_modifyitems(config, items):
    known = set().union(*map(names, items)) if items else set()
    # A run of chosen tests has not all of them.
    whole = set() if any("::" in a for a in config.args) else {item.path.name for item in items}
    stale = [f"{file}::{name}" for file, name in LEFT_OUT if file in whole and (file, name) not in known]
    if stale:
        raise pytest.UsageError(f"left out on Windows, but not there: {', '.join(stale)}")
    out = [item for item in items if names(item) & LEFT_OUT.keys()]
    config.hook.pytest_deselected(items=out)
    items[:] = [item for item in items if not names(item) & LEFT_OUT.keys()]


def pytest_terminal_summary(terminalreporter):
    terminalreporter.section("left out on Windows")
    for (file, name), reason in LEFT_OUT.items():
        terminalreporter.write_line(f"{file}::{name}: {reason}")
