#!/usr/bin/env python3
"""Refuse an include against the layers.

usage: check_layers.py [ROOT]

Reads .ci/layers.txt (a folder of src/, then the folders it may include besides itself) and
.ci/headers.txt (which files may include a header that is neither ours nor the standard's). Every
wrong include is answered with file, line and the two folders. Exit status: 0 none, 1 some, 2 the
lists themselves cannot be read.
"""
import fnmatch
import pathlib
import re
import sys

INCLUDE = re.compile(r'^\s*#\s*include\s*([<"])([^>"]+)[>"]')
SOURCES = {".h", ".cpp"}


def rows(path):
    """The lines of a list without comments and blank lines, as (line number, text)."""
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        text = line.split("#", 1)[0].strip()
        if text:
            yield number, text


def read_layers(path):
    """Folder -> folders it may include. A layer may name only layers that stand above it in the
    list, so that the list itself cannot hold a circle."""
    layers = {}
    for number, text in rows(path):
        folder, colon, below = text.partition(":")
        if not colon:
            raise ValueError(f"{path}:{number}: expected `folder: the folders it may include`")
        for name in below.split():
            if name not in layers:
                raise ValueError(
                    f"{path}:{number}: {folder} names {name}, which does not stand before it")
        layers[folder.strip()] = set(below.split())
    return layers


def read_headers(path):
    """Patterns of headers with the patterns of files that may include them."""
    return [(text.split()[0], text.split()[1:]) for _, text in rows(path)]


def wrong_includes(root, layers, headers):
    """Every include against the lists, as lines to print, in order of file and line."""
    source = root / "src"
    for path in sorted(p for p in source.rglob("*") if p.suffix in SOURCES):
        name = path.relative_to(root).as_posix()
        inside = path.relative_to(source).parts
        folder = inside[0] if len(inside) > 1 else "(src itself)"
        if folder not in layers:
            yield f"{name}: folder {folder} is not in .ci/layers.txt"
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
            found = INCLUDE.match(line)
            if not found:
                continue
            mark, header = found.groups()
            at = f"{name}:{number}"
            if mark == '"':
                other = header.split("/")[0]
                if "/" not in header or other == "..":
                    yield f'{at}: "{header}" is not written from src/ ("{folder}/…")'
                elif not (source / header).is_file():
                    yield f'{at}: "{header}" is not a file of src/'
                elif other != folder and other not in layers[folder]:
                    may = ", ".join(sorted(layers[folder])) or "nothing but itself"
                    yield f"{at}: {folder} may not include {other} (it may include {may})"
            elif "." in header or "/" in header:
                allowed = [files for pattern, files in headers if fnmatch.fnmatch(header, pattern)]
                if not allowed:
                    yield f"{at}: <{header}> is not in .ci/headers.txt"
                elif not any(fnmatch.fnmatch(name, one) for files in allowed for one in files):
                    may = " ".join(one for files in allowed for one in files)
                    yield f"{at}: <{header}> may be included by {may} only"


def main(arguments):
    root = pathlib.Path(arguments[0] if arguments else pathlib.Path(__file__).parent.parent)
    try:
        layers = read_layers(root / ".ci" / "layers.txt")
        headers = read_headers(root / ".ci" / "headers.txt")
    except (OSError, ValueError) as error:
        print(error, file=sys.stderr)
        return 2
    wrong = list(wrong_includes(root, layers, headers))
    for line in wrong:
        print(line)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
