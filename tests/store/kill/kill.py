#!/usr/bin/env python3
"""Kills a writer of a book at random moments and counts what is lost.

usage: kill.py WRITER GREASEPAINT [KILLS] [SEED]

After each kill (SIGKILL) the book is opened as the next reader would, with Python's own sqlite3: every
acknowledged sign-up and change must be there, the two halves of a change must agree, every revision
must be there once, and the file must be whole (PRAGMA integrity_check). Every tenth kill also stands
for a power cut: the write-ahead log of a copy is cut short at a random place, and the copy must open
as a whole earlier revision. Exit status: 0 nothing lost, 1 something.
"""
import json
import pathlib
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time

FILM = {"greasepaint": 1, "title": "start", "days": [{"date": "2027-04-17"}]}


def look(path, acknowledged):
    """What is wrong with the book, and its newest revision."""
    wrong = []
    with sqlite3.connect(path) as book:
        if book.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
            wrong.append("integrity_check")
        documents = dict(book.execute("SELECT name, value FROM documents"))
        rows = book.execute("SELECT revision, why, documents FROM history ORDER BY revision").fetchall()
        keys = book.execute("SELECT count(*) FROM form_keys").fetchone()[0]
        links = book.execute("SELECT count(*) FROM links").fetchone()[0]
    book.close()
    if [row[0] for row in rows] != list(range(1, len(rows) + 1)):
        wrong.append("a revision is missing")
    names = {json.loads(value)["name"] for name, value in documents.items()
             if name.startswith("sign-up/")}
    entered = sum(1 for row in rows if row[2].startswith("sign-up/"))
    if not len(names) == entered == keys == links:
        wrong.append(f"half a sign-up: {len(names)} documents, {entered} rows, {keys} keys, {links} links")
    title = json.loads(documents["production"])["title"]
    about = json.loads(documents.get("settings", '{"about": "start"}')).get("about")
    if title != about:
        wrong.append(f"half a change: {title} and {about}")
    changes = {row[1] for row in rows}
    for kind, what in acknowledged:
        if kind == "entered" and f"Friend {what}" not in names:
            wrong.append(f"lost: sign-up {what}")
        if kind == "changed" and what not in changes:
            wrong.append(f"lost: change {what}")
    return wrong, len(rows)


def frames(log):
    """How many frames of a write-ahead log are valid: those with the salts of its header (SQLite's
    "WAL-mode File Format": header of 32 bytes, frames of 24 bytes and a page)."""
    if len(log) < 32:
        return 0
    page, salts = int.from_bytes(log[8:12], "big"), log[16:24]
    count, at = 0, 32
    while at + 24 + page <= len(log) and log[at + 8:at + 16] == salts:
        count, at = count + 1, at + 24 + page
    return count


def cut_power(path, folder, newest, chance):
    """A copy whose log is cut short opens as a whole earlier revision."""
    log = pathlib.Path(f"{path}-wal")
    # From 1,000 frames on SQLite copies them into the book, having synced the log first: no power
    # cut takes those away again, so cutting them here would prove nothing.
    if not log.exists() or frames(log.read_bytes()) >= 950:
        return []
    copy = folder / "cut.book"
    shutil.copy(path, copy)
    data = log.read_bytes()
    pathlib.Path(f"{copy}-wal").write_bytes(data[:chance.randrange(len(data) + 1)])
    wrong, revision = look(copy, [])
    for end in ("", "-wal", "-shm"):
        pathlib.Path(f"{copy}{end}").unlink(missing_ok=True)
    return wrong + ([] if revision <= newest else ["a revision that never was"])


def main(writer, program, kills=500, seed=20270417):
    chance = random.Random(int(seed))
    print(f"seed {seed}")
    folder = pathlib.Path(tempfile.mkdtemp(prefix="greasepaint-kill-"))
    film = folder / "film.json"
    film.write_text(json.dumps(FILM), encoding="utf-8")
    wrong, total, acknowledged_here, cuts, book, number = [], 0, [], 0, None, 0
    for kill in range(int(kills)):
        if kill % 25 == 0:  # a new book now and then, so that looking stays quick
            number += 1
            book = folder / f"film-{number}.book"
            acknowledged_here = []
            subprocess.run([program, "open", str(film), str(book)], check=True, capture_output=True)
        process = subprocess.Popen([writer, str(book), f"r{kill}"], stdout=subprocess.PIPE)
        time.sleep(chance.uniform(0.005, 0.12))
        process.kill()
        lines = process.stdout.read().decode().splitlines()
        if process.wait() != -9:
            wrong.append(f"kill {kill}: the writer ended by itself, {process.returncode}")
        acknowledged_here += [tuple(line.split(" ", 1)) for line in lines]
        total += len(lines)
        if kill % 10 == 9:
            cuts += 1
            copy = folder / "whole.book"
            for end in ("", "-wal"):
                if pathlib.Path(f"{book}{end}").exists():
                    shutil.copy(f"{book}{end}", f"{copy}{end}")
            found, newest = look(copy, acknowledged_here)
            wrong += [f"kill {kill}: {one}" for one in found]
            for end in ("", "-wal", "-shm"):
                pathlib.Path(f"{copy}{end}").unlink(missing_ok=True)
            wrong += [f"cut after kill {kill}: {one}"
                      for one in cut_power(book, folder, newest, chance)]
        if kill % 2 == 0:  # every other time the next writer opens what the kill left behind
            found, _ = look(book, acknowledged_here)
            wrong += [f"kill {kill}: {one}" for one in found]
    done = subprocess.run([program, "check", str(book)], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        wrong.append(f"the program does not open the last book: {done.stderr}")
    shutil.rmtree(folder)
    for one in wrong[:20]:
        print(one)
    print(f"{kills} kills, {cuts} logs cut short, {total} changes acknowledged, {len(wrong)} wrong")
    return 1 if wrong or total == 0 else 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
