#!/usr/bin/env python3
"""Runs the command as people do and compares what it prints, to the letter.

usage: run_cases.py PROGRAM [CASE ...] [--regenerate]

Each file of tests/cli/cases/ is one case: a first line that says what must hold, then parts that
begin with a line `=== name`:

    === file NAME       a file of the folder the command runs in (any number)
    === input           standard input (none: empty); `\\xNN` stands for a byte
    === command         lines for bash; `greasepaint` is the program under test
    === output          what standard output must be
    === errors          what standard error must be
    === exit N          how it must end

The folder is new and empty but for the files; $SOURCE is the root of the project. Time zone, locale
and home are pinned, standard output is no terminal. --regenerate writes what came out into the cases:
read the difference before committing it.
"""
import concurrent.futures
import difflib
import os
import pathlib
import re
import subprocess
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
SOURCE = HERE.parent.parent
SECONDS = 120  # a case that takes longer hangs


def read_case(path):
    """The title and the parts as (name, text), in order."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    title = lines[0].strip()
    parts = []
    for line in lines[1:]:
        if line.startswith("=== "):
            parts.append([line[4:].strip(), ""])
        elif parts:
            parts[-1][1] += line
        elif line.strip():
            raise ValueError(f"{path}: text before the first part: {line.strip()}")
    return title, parts


def write_case(path, title, parts):
    text = title + "\n"
    for name, body in parts:
        text += f"=== {name}\n{body}"
        if body and not body.endswith("\n"):
            text += "\n"
    path.write_text(text, encoding="utf-8")


def with_bytes(text):
    return re.sub(rb"\\x([0-9a-f]{2})", lambda m: bytes([int(m.group(1), 16)]),
                  text.encode("utf-8"))


def run(program, parts):
    """Output, errors and exit status of the case's command."""
    with tempfile.TemporaryDirectory(prefix="greasepaint-case-") as folder:
        command, stdin = "", b""
        for name, text in parts:
            if name.startswith("file "):
                target = pathlib.Path(folder, name[5:])
                target.parent.mkdir(parents=True, exist_ok=True)
                target.write_bytes(with_bytes(text))
            elif name == "command":
                command = text
            elif name == "input":
                stdin = with_bytes(text)
        environment = {"PATH": f"{pathlib.Path(program).parent}:/usr/sbin:/usr/bin:/sbin:/bin",
                       "TZ": "UTC", "LC_ALL": "C.UTF-8", "HOME": folder, "TERM": "xterm",
                       "SOURCE": str(SOURCE)}
        for name in ("ASAN_OPTIONS", "UBSAN_OPTIONS", "TSAN_OPTIONS"):
            if name in os.environ:
                environment[name] = os.environ[name]
        done = subprocess.run(["bash", "-c", command], cwd=folder, env=environment, input=stdin,
                              capture_output=True, timeout=SECONDS, check=False)
        return (done.stdout.decode("utf-8", "backslashreplace"),
                done.stderr.decode("utf-8", "backslashreplace"), done.returncode)


def judge(program, path, regenerate):
    """None when the case holds, else what differs."""
    title, parts = read_case(path)
    if not any(name == "command" for name, _ in parts):
        return f"{path.name}: no command"
    output, errors, status = run(program, parts)
    kept = [part for part in parts
            if part[0] not in ("output", "errors") and not part[0].startswith("exit")]
    now = kept + [["output", output], ["errors", errors], [f"exit {status}", ""]]
    if regenerate:
        write_case(path, title, now)
        return None
    expected = {name: text for name, text in parts}
    differences = []
    for name, text in (("output", output), ("errors", errors)):
        # the last line end of a part belongs to the file of cases where the text has none itself
        wanted = expected.get(name, "")
        if wanted.rstrip("\n") != text.rstrip("\n"):
            differences += difflib.unified_diff(wanted.splitlines(), text.splitlines(),
                                                f"expected {name}", f"{name} now", lineterm="")
    if f"exit {status}" not in expected:
        wanted = [name for name in expected if name.startswith("exit")]
        differences.append(f"ended with {status}, expected {' '.join(wanted) or 'an exit part'}")
    if differences:
        return f"{path.name}: {title}\n  " + "\n  ".join(differences)
    return None


def main(arguments):
    regenerate = "--regenerate" in arguments
    arguments = [a for a in arguments if a != "--regenerate"]
    if not arguments:
        print(__doc__, file=sys.stderr)
        return 64
    program = str(pathlib.Path(arguments[0]).resolve())
    names = arguments[1:]
    paths = sorted(HERE.glob("cases/*.case"))
    if names:
        paths = [p for p in paths if p.stem in names or p.name in names]
    if not paths:
        print("no such case", file=sys.stderr)
        return 1
    failed = 0
    with concurrent.futures.ThreadPoolExecutor(max_workers=2) as pool:
        for wrong in pool.map(lambda p: judge(program, p, regenerate), paths):
            if wrong:
                failed += 1
                print(wrong)
    print(f"{len(paths) - failed} cases passed, {failed} failed")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
