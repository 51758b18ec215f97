"""What a build finds and what a later look at its bundle finds, in a form that can be compared."""

import json


def findings(run):
    """Findings of a report as JSON: the place without the folder of the bundle, the same once."""
    out = []
    for f in json.loads(run.stdout)["findings"]:
        file = f["file"] or ""
        for top in ("contents/", "upload/", "listing/"):
            if top in file:
                file = file[file.index(top) :]
        out.append((file, *(f[k] for k in ("check", "severity", "page", "entry", "message"))))
    return sorted(out, key=str)


def differences(built, checked):
    """What only one of two reports says."""
    a, b = findings(built), findings(checked)
    only = lambda these, those, who: [f"{who} says: {f}" for f in these if these.count(f) > those.count(f)]  # noqa: E731
    return only(a, b, "the build") + only(b, a, "a later check")
