"""Objects of a PDF held against the Arlington PDF Model: the keys an object may have, their types, which are required.

Only the plain columns of the model are used (key, type, first version, required); its formulas are left to the tools that
were made for them.
"""

import csv
from pathlib import Path

import pikepdf

MODEL = Path(__file__).resolve().parents[1] / "fixtures/arlington"
TYPES = {
    "array": pikepdf.Array,
    "rectangle": pikepdf.Array,
    "matrix": pikepdf.Array,
    "dictionary": pikepdf.Dictionary,
    "number-tree": pikepdf.Dictionary,
    "name-tree": pikepdf.Dictionary,
    "stream": pikepdf.Stream,
    "name": pikepdf.Name,
    "string": pikepdf.String,
    "string-text": pikepdf.String,
    "string-byte": pikepdf.String,
    "string-ascii": pikepdf.String,
    "date": pikepdf.String,
    "boolean": bool,
    "integer": int,
    "bitmask": int,
}


def rows(kind):
    """The rows of an object's table, by key."""
    with open(MODEL / f"{kind}.tsv", newline="") as file:
        return {row["Key"]: row for row in csv.DictReader(file, delimiter="\t")}


def fits(value, types):
    """Whether a value has one of the types of a cell."""
    for name in types.split(";"):
        name = name.split("(")[-1].split(",")[-1].rstrip(")")
        if name == "number":
            try:
                float(value)
                return True
            except (TypeError, ValueError):
                continue
        if name not in TYPES or isinstance(value, TYPES[name]):
            return True
    return False


def faults(kind, thing, version):
    """What is wrong with a dictionary or stream of this kind."""
    model = rows(kind)
    wrong = []
    for key, value in thing.items():
        row = model.get(key[1:]) or model.get("*")
        if row is None:
            wrong.append(f"{kind} has no key {key}")
            continue
        since = row["SinceVersion"]
        if since.replace(".", "").isdigit() and float(since) > version:
            wrong.append(f"{kind}{key} came with PDF {since}")
        if value is not None and not fits(value, row["Type"]):
            wrong.append(f"{kind}{key} is a {type(value).__name__}, not {row['Type']}")
    for key, row in model.items():
        if row["Required"] == "TRUE" and f"/{key}" not in thing and row["Inheritable"] != "TRUE":
            wrong.append(f"{kind} lacks /{key}")
    return wrong


def whole(path):
    """What is wrong with the objects of a file that the model's tables here cover."""
    with pikepdf.open(path) as pdf:
        version = float(pdf.pdf_version)
        wrong = faults("Catalog", pdf.Root, version)
        if "/Info" in pdf.trailer:
            wrong += faults("DocInfo", pdf.trailer.Info, version)
        open_nodes = [pdf.Root.Pages]
        while open_nodes:
            node = open_nodes.pop()
            for kid in node.Kids:
                open_nodes += [kid] if kid.Type == "/Pages" else []
        for page in pdf.pages:
            wrong += faults("PageObject", page.obj, version)
            for note in page.obj.get("/Annots", []):
                if note.Subtype == "/Link":
                    wrong += faults("AnnotLink", note, version)
                    if ("/Dest" in note) == ("/A" in note):
                        wrong.append("AnnotLink has both or neither of /Dest and /A")
                    if "/A" in note:
                        kind = {"/URI": "ActionURI", "/GoTo": "ActionGoTo"}.get(str(note.A.S))
                        wrong += faults(kind, note.A, version) if kind else [f"action {note.A.S}"]
            for picture in page.obj.get("/Resources", {}).get("/XObject", {}).values():
                if picture.Subtype == "/Image":
                    wrong += faults("XObjectImage", picture, version)
        if "/Outlines" in pdf.Root:
            wrong += faults("Outline", pdf.Root.Outlines, version)
            item, seen = pdf.Root.Outlines.get("/First"), 0
            while item is not None and seen < 10000:
                wrong += faults("OutlineItem", item, version)
                item, seen = item.get("/Next"), seen + 1
    return sorted(set(wrong))
