"""Files that are odd or hostile, each made here in a few lines, and runs of the tool that may neither hang nor eat the memory.

Nobody needs such a file; but a designer gets files from everywhere, and what the tool cannot draw it must say in words.
"""

import os
import pathlib
import signal
import subprocess
import tempfile
import threading

import memory
from tool import BINARY

# What nothing may exceed that is read or drawn: a hang and a full memory, not a measure of speed.
SECONDS = 240
MEGABYTES = 1024

HEAD = """\
name = "Probe"
slug = "probe"
version = "1.0.0"
released = 2027-01-15
language = "en-GB"
shop = { name = "Fernlea", contact = "hello@fernlea.example" }
[assets]
own = ["*"]
"""


def run(*arguments, cwd=None, seconds=SECONDS, megabytes=MEGABYTES):
    """Runs the tool within its bounds; gives exit code, output and messages. A panic is a failure whatever the code."""
    with tempfile.TemporaryDirectory() as folder:
        peak = pathlib.Path(folder) / "peak"
        command = memory.measured([BINARY, *arguments], peak)
        # A group of its own: what hangs is ended with the process that measures it.
        child = subprocess.Popen(command, cwd=cwd, stdout=subprocess.PIPE, stderr=subprocess.PIPE, start_new_session=True)
        late = threading.Timer(seconds, os.killpg, (child.pid, signal.SIGKILL))
        late.start()
        said = [text.decode() for text in child.communicate()]
        late.cancel()
        assert child.returncode >= 0, f"ended by signal {-child.returncode} (killed after {seconds} s?): {said[1][-2000:]}"
        taken = memory.megabytes(peak)
    assert "panicked at" not in said[1] and "RUST_BACKTRACE" not in said[1], said[1]
    assert taken < megabytes, f"{taken:.0f} MB"
    return child.returncode, said[0], said[1]


def pdf(path, objects):
    """Writes a PDF of these objects, by number; the first is the catalog. A pair is a stream's dictionary and its data."""
    out = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
    places = {}
    for number, body in sorted(objects.items()):
        places[number] = len(out)
        if isinstance(body, tuple):
            said, data = body
            body = b"<<%s/Length %d>>stream\n%s\nendstream" % (said, len(data), data)
        out += b"%d 0 obj\n%s\nendobj\n" % (number, body)
    table = len(out)
    size = max(objects) + 1
    out += b"xref\n0 %d\n0000000000 65535 f \n" % size
    for number in range(1, size):
        out += b"%010d 00000 n \n" % places[number] if number in places else b"0000000000 00001 f \n"
    out += b"trailer<</Size %d/Root 1 0 R>>\nstartxref\n%d\n%%%%EOF\n" % (size, table)
    path.write_bytes(bytes(out))
    return path


def page(contents=20, size=(600, 450), resources=b"<<>>", more=b""):
    """The body of a page object."""
    return b"<</Type/Page/Parent 2 0 R/MediaBox[0 0 %d %d]/Contents %d 0 R/Resources%s%s>>" % (*size, contents, resources, more)


def pages(*kids):
    """The catalog and the page tree, as objects 1 and 2."""
    refs = b" ".join(b"%d 0 R" % kid for kid in kids)
    return {1: b"<</Type/Catalog/Pages 2 0 R/Lang(en)>>", 2: b"<</Type/Pages/Count %d/Kids[%s]>>" % (len(kids), refs)}


def nested_forms(path, fan=60, levels=8, inner=b"0 0 100 100 re f"):
    """One page of a form that uses a form, `fan` times each, `levels` deep."""
    objects = pages(3) | {3: page(size=(400, 400), resources=b"<</XObject<</A 30 0 R>>>>"), 20: (b"", b"/A Do")}
    for n in range(levels):
        last = n == levels - 1
        said = b"/Type/XObject/Subtype/Form/BBox[0 0 400 400]"
        said += b"" if last else b"/Resources<</XObject<</A %d 0 R>>>>" % (31 + n)
        objects[30 + n] = (said, inner if last else b"/A Do\n" * fan)
    return pdf(path, objects)
