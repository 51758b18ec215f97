"""What a person would script to see which pages of two files differ: `compared.py OLD NEW`, with pymupdf, by small pictures."""

import sys

import pymupdf


def main(old, new):
    small = pymupdf.Matrix(0.5, 0.5)
    with pymupdf.open(old) as a, pymupdf.open(new) as b:
        drawn = ([page.get_pixmap(matrix=small).samples for page in (one, two)] for one, two in zip(a, b))
        print(sum(one != two for one, two in drawn), "pages differ", file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:])
