#!/usr/bin/env python3
"""What the documentation says is so.

usage: check_docs.py PROGRAM

- Every option of every command stands in its section of docs/commands.md, and no other does.
- The exit codes of docs/commands.md are those of the man page.
- Every code block marked `json production` is a production without faults.
- Every code block marked `console` prints what stands there: each line that begins with `$ ` is run in a
  folder that holds the page's blocks marked `json production NAME` and `json faulty NAME`; a line `…`
  stands for any number of lines.
- Every link to a file of the project leads somewhere.
Exit status: 0 all true, 1 something is not.
"""
import os
import pathlib
import re
import subprocess
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent


def output_of(program, *arguments, text=None):
    return subprocess.run([program, *arguments], input=text, capture_output=True, text=True,
                          check=False)


def sections(text):
    """Heading -> what stands below it, for headings of the second level."""
    found = {}
    for part in re.split(r"^## ", text, flags=re.M)[1:]:
        heading, _, body = part.partition("\n")
        found[heading.strip().strip("`")] = body
    return found


def options_wrong(program, text):
    real = {}
    for line in output_of(program, "option-names").stdout.splitlines():
        command, option = line.split()
        real.setdefault(command, set()).add(option)
    told = sections(text)
    for command, options in sorted(real.items()):
        body = told.get(f"greasepaint {command}")
        if body is None:
            yield f"docs/commands.md has no section `greasepaint {command}`"
            continue
        named = set(re.findall(r"^\| `(--[a-z-]+)", body, flags=re.M))
        for option in sorted((options - {"--help"}) - named):
            yield f"docs/commands.md does not tell {option} of {command}"
        for option in sorted(named - options):
            yield f"docs/commands.md tells {option} of {command}, which there is not"


def exits_wrong(program, text):
    page = output_of(program, "man-page").stdout.partition('.SH "EXIT STATUS"')[2]
    real = re.findall(r"^\\fB(\d+)\\fR$", page.partition(".SH ENVIRONMENT")[0], flags=re.M)
    told = re.findall(r"^\| (\d+) \|", sections(text).get("Exit codes", ""), flags=re.M)
    if real != told:
        yield f"docs/commands.md has the exit codes {told}, the program {real}"


def examples_wrong(program, path, text):
    for block in re.finditer(r"^```json production[^\n]*\n(.*?)^```", text, flags=re.M | re.S):
        done = output_of(program, "check", "-", text=block.group(1))
        if done.returncode != 0:
            line = text[:block.start()].count("\n") + 1
            yield f"{path}:{line}: this production has faults:\n{done.stderr}"


def console_wrong(program, path, text):
    blocks = list(re.finditer(r"^```console\n(.*?)^```", text, flags=re.M | re.S))
    if not blocks:
        return
    with tempfile.TemporaryDirectory() as folder:
        for named in re.finditer(r"^```json (?:production|faulty) (\S+)\n(.*?)^```", text,
                                 flags=re.M | re.S):
            pathlib.Path(folder, named.group(1)).write_text(named.group(2), encoding="utf-8")
        environment = dict(os.environ, TZ="UTC", LC_ALL="C.UTF-8")
        environment["PATH"] = f"{pathlib.Path(program).resolve().parent}:{environment['PATH']}"
        for block in blocks:
            line = text[:block.start()].count("\n") + 1
            for part in re.split(r"^\$ ", block.group(1), flags=re.M)[1:]:
                command, _, wanted = part.partition("\n")
                done = subprocess.run(["bash", "-c", command + " 2>&1"], cwd=folder,
                                      env=environment, capture_output=True, text=True,
                                      stdin=subprocess.DEVNULL, check=False)
                pattern = "\n".join(".*" if row == "…" else re.escape(row)
                                    for row in wanted.rstrip("\n").split("\n"))
                if not re.fullmatch(pattern, done.stdout.rstrip("\n"), flags=re.S):
                    yield f"{path}:{line}: `{command}` prints something else:\n{done.stdout}"


def links_wrong(path, text):
    outside_code = re.sub(r"^```.*?^```", "", text, flags=re.M | re.S)
    for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", outside_code):
        if "://" in target or target.startswith("mailto:"):
            continue
        if not (ROOT / path).parent.joinpath(target).exists():
            yield f"{path}: the link to {target} leads nowhere"


def main(arguments):
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    program = arguments[0]
    wrong = []
    pages = sorted(p for p in ROOT.glob("*.md")) + sorted(ROOT.glob("docs/**/*.md")) + sorted(
        ROOT.glob("demo/*/*.md"))
    examples = 0
    for page in pages:
        path = page.relative_to(ROOT).as_posix()
        text = page.read_text(encoding="utf-8")
        examples += text.count("```json production")
        wrong += examples_wrong(program, path, text)
        wrong += console_wrong(program, path, text)
        wrong += links_wrong(path, text)
    commands = (ROOT / "docs" / "commands.md").read_text(encoding="utf-8")
    wrong += options_wrong(program, commands)
    wrong += exits_wrong(program, commands)
    if examples == 0:
        wrong.append("no page has an example that runs")
    for line in wrong:
        print(line)
    print(f"{len(pages)} pages, {examples} examples, {len(wrong)} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
