#!/usr/bin/env python3
"""Kills the pages' server at random moments under load and counts what is lost.

usage: serve_kill.py GREASEPAINT [--rounds N] [--seed N]

In each round `greasepaint serve` starts on the book, phones (threads) fetch the sign-up form and send
it filled in whole, and 20 to 120 ms later the server is killed (SIGKILL). A form counts as acknowledged
when its answer, 303 to the welcome page, has arrived. Some acknowledged forms are sent twice, and half of
those that got no answer are sent again after a later start, as people do. Every second book lets
people in at once, which changes two documents, the sign-up and the production, in one change.

What is looked at, with Python's own sqlite3 on a copy of the book and its log every tenth kill, so
that the server itself recovers the file, and on the book itself at its end:
  - PRAGMA integrity_check, and every revision is there once;
  - every acknowledged sign-up is there exactly once, under the address it was told, and nothing is
    there that was not sent; each document is whole: every answer as it was typed;
  - each has one form key, one link and one entry in the history;
  - who was let in stands in the production with whom they bring, and nobody else does; where people
    are let in at once, whoever was answered at the first sending is in.
Every start must go well, no request may fail before the kill, and at the end the program must find
the book right and export it equal. Exit status: 0 all held, 1 something did not.
"""
import argparse
import collections
import html
import http.client
import json
import pathlib
import random
import re
import select
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse

PHONES = 6
ROUNDS_OF_A_BOOK = 20  # a new book now and then, so that looking and letting in stay quick
START_SECONDS = 60     # a start that takes longer hangs; builds with sanitizers are slow
ANSWER_SECONDS = 30
TYPE = "application/x-www-form-urlencoded"
# Paint is planned, so skin is asked; two people stand in it before anybody signs up.
FILM = {
    "greasepaint": 1, "title": "The Lamp That Whistled", "language": "en-GB", "zone": "Europe/Dublin",
    "contact": {"name": "Ada", "phone": "01632 960002"},
    "days": [{"date": "2027-04-17", "nobody_before": "09:00", "wrap_by": "15:00"}],
    "people": [{"id": "ada", "name": "Ada Quirke", "can": ["paint"]}, {"id": "bo", "name": "Bo Ferris"}],
    "roles": [{"id": "lamp", "name": "The lamp", "look": "lamp"},
              {"id": "moths", "name": "Moths", "crowd": True}],
    "looks": [{"id": "lamp", "name": "Lamp", "tags": ["face-paint"],
               "steps": [{"at": "paint", "minutes": 20, "by": "paint"}]}],
    "stations": [{"id": "paint", "name": "Paint"}],
    "scenes": [{"id": "one", "name": "It whistles", "shoot_minutes": 20, "day": "2027-04-17",
                "cast": [{"role": "lamp"}]}]}


class Form:
    """One phone's sign-up: what is typed, and what became of it."""

    def __init__(self, name, chance):
        self.name = name
        self.key = None        # the form's own, given with the page
        self.address = None    # where the answer led: acknowledged
        self.sends = 0
        self.brings = [{"name": f"Child {i} of {name}", "age": chance.randrange(3, 15)}
                       for i in range(chance.randrange(3))]
        self.words = "w" * chance.randrange(1, 900) + "."
        self.skin = f"nettles, {chance.randrange(10**9)}"

    def fields(self):
        answers = [("name", self.name), ("phone", "01632 960123"), ("adult", "yes"),
                   ("day_2027-04-17", "part"), ("from_2027-04-17", "10:00"),
                   ("until_2027-04-17", "14:30"), ("like", "lamp"), ("can", "paint"),
                   ("skin", self.skin), ("need_name", "Ivo"), ("need_phone", "01632 960001"),
                   ("film", "yes"), ("words", self.words)]
        for i, one in enumerate(self.brings):
            answers += [(f"c{i}_name", one["name"]), (f"c{i}_child", "yes"), (f"c{i}_age", str(one["age"]))]
        return answers

    def differs(self, document):
        """The first key under which the document is not what was typed; none: it is whole."""
        typed = {"name": self.name, "phone": "01632 960123", "likes": ["lamp"], "can": ["paint"],
                 "skin": self.skin, "need_name": "Ivo", "need_phone": "01632 960001", "words": self.words,
                 "may_be_filmed": True}
        for key, value in typed.items():
            if document.get(key) != value:
                return key
        if "10:00" not in json.dumps(document.get("free")) or "14:30" not in json.dumps(document["free"]):
            return "free"
        brought = [{"name": one.get("name"), "age": one.get("age")} for one in document.get("brings", [])]
        return None if brought == self.brings else "brings"


class Load:
    """The phones of one round."""

    def __init__(self, port, seed, number, again):
        self.port, self.seed, self.number = port, seed, number
        self.lock = threading.Lock()
        self.again = again   # forms to send again
        self.forms, self.wrong = [], []
        self.killed = False  # set just before the kill: what fails from then on is no fault
        self.threads = [threading.Thread(target=self.phone, args=(i,)) for i in range(PHONES)]

    def ask(self, source, method, body=None, cookie=None):
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=ANSWER_SECONDS,
                                                source_address=(source, 0))
        try:
            headers = {} if body is None else {"Content-Type": TYPE, "Cookie": cookie,
                                               "Origin": f"http://127.0.0.1:{self.port}"}
            connection.request(method, "/sign-up", body, headers)
            answer = connection.getresponse()
            # the head of a redirect is the whole message; a page must have come to its end
            return answer, answer.read().decode() if answer.status == 200 else ""
        finally:
            connection.close()

    def send(self, form, source):
        """Fetches the page for cookie and hidden fields and sends the form; its answer's address."""
        answer, page = self.ask(source, "GET")
        cookie = (answer.getheader("Set-Cookie") or "").split(";")[0]
        hidden = {name: html.unescape(value) for name, value in
                  re.findall(r'<input type="hidden" name="([^"]*)" value="([^"]*)">', page)}
        if answer.status != 200 or not cookie or not {"csrf", "form_key", "index"} <= set(hidden):
            raise http.client.HTTPException(f"GET {answer.status}")
        form.key = form.key or hidden["form_key"]
        hidden.update(form_key=form.key, step="check", go="send")
        form.sends += 1
        answer, _ = self.ask(source, "POST", urllib.parse.urlencode(list(hidden.items()) + form.fields()),
                             cookie)
        led = re.fullmatch(r"/me/([^/]+)/welcome", answer.getheader("Location") or "")
        if answer.status != 303 or not led:
            raise http.client.HTTPException(f"POST {answer.status}")
        return led.group(1)

    def phone(self, thread):
        chance = random.Random(f"{self.seed} {self.number} {thread}")
        count = 0
        while not self.killed:
            with self.lock:
                form = self.again.pop() if self.again else None
                if form is None:
                    form = Form(f"Friend {self.number}-{thread}-{count}", chance)
                    self.forms.append(form)
            count += 1
            # every phone has an address of its own: sign-ups of one address are limited
            source = f"127.{self.number % 250 + 1}.{thread + 1}.{count % 250 + 1}"
            for _ in range(2 if chance.random() < 0.1 else 1):
                try:
                    led = self.send(form, source)
                except (OSError, http.client.HTTPException) as error:
                    if not self.killed:
                        self.wrong.append(f"round {self.number}: {form.name}: {error!r} before the kill")
                    return
                if form.address not in (None, led):
                    self.wrong.append(f"round {self.number}: {form.name} led to two pages")
                form.address = led


def start(program, book):
    """The server and its port; the port is None where the start failed."""
    server = subprocess.Popen([program, "serve", str(book), "--port", "0", "--quiet"],
                              stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    ready, _, _ = select.select([server.stdout], [], [], START_SECONDS)
    line = server.stdout.readline().decode() if ready else ""
    found = re.search(r"http://[^/]*:(\d+)/", line)
    return server, int(found.group(1)) if found else None


def look(path, forms):
    """What is wrong with the book, where these forms were sent to it; how many sign-ups it holds, and
    how many of them were let in."""
    wrong = []
    book = sqlite3.connect(path)
    if book.execute("PRAGMA integrity_check").fetchall() != [("ok",)]:
        wrong.append("integrity_check")
    documents = {name: json.loads(value) for name, value in book.execute("SELECT name, value FROM documents")}
    rows = book.execute("SELECT revision, documents, edits FROM history ORDER BY revision").fetchall()
    keys = collections.Counter(one for one, in book.execute("SELECT sign_up FROM form_keys"))
    links = collections.Counter(one for one, in book.execute("SELECT sign_up FROM links"))
    book.close()
    if [row[0] for row in rows] != list(range(1, len(rows) + 1)):
        wrong.append("a revision is missing")
    entries, let_in = collections.Counter(), collections.Counter()
    for _, names, edits in rows:
        changed = names.split("\n")[:-1]
        if sorted(changed) != sorted(edit["document"] for edit in json.loads(edits)):
            wrong.append(f"a revision's names and edits differ: {changed}")
        for name in changed:
            (let_in if "production" in changed else entries)[name] += 1
    sign_ups = {name.split("/", 1)[1]: one for name, one in documents.items() if name.startswith("sign-up/")}
    sent = {form.name: form for form in forms}
    kept = collections.Counter(one.get("name") for one in sign_ups.values())
    people = collections.Counter(one.get("name") for one in documents["production"]["people"])
    expected = collections.Counter(one["name"] for one in FILM["people"])
    for number, one in sign_ups.items():
        form = sent.get(one.get("name"))
        if form is None or form.sends == 0:
            wrong.append(f"sign-up {number} was never sent")
            continue
        if form.differs(one):
            wrong.append(f"half a sign-up: {number}: {form.differs(one)}")
        counts = (entries[f"sign-up/{number}"], keys[number], links[number])
        if counts != (1, 1, 1):
            wrong.append(f"half a sign-up: {number}: entries, keys, links: {counts}")
        accepted = one.get("state") == "accepted"
        if let_in[f"sign-up/{number}"] != int(accepted):
            wrong.append(f"half a change: {number} is {one.get('state')}")
        if accepted:
            expected.update([one["name"]] + [child["name"] for child in form.brings])
    if people != expected:
        wrong.append(f"half a change: people {dict(people - expected)}, not {dict(expected - people)}")
    if sum(keys.values()) != len(sign_ups) or sum(links.values()) != len(sign_ups):
        wrong.append("keys or links of nobody")
    at_once = documents.get("settings", {}).get("accept_at_once", False)
    for form in forms:
        # one sent again may have been kept before a kill and its letting in not: the organiser decides
        if at_once and form.address and form.sends == 1 and (
                sign_ups.get(form.address, {}).get("state") != "accepted"):
            wrong.append(f"lost: {form.name} was told to be in and is not")
        if form.address and kept[form.name] != 1:
            wrong.append(f"lost: {form.name} is there {kept[form.name]} times")
        elif form.address and sign_ups.get(form.address, {}).get("name") != form.name:
            wrong.append(f"lost: {form.name} is not under its address")
        elif kept[form.name] > 1:
            wrong.append(f"{form.name} is there {kept[form.name]} times")
    return wrong, len(sign_ups), sum(1 for one in sign_ups.values() if one.get("state") == "accepted")


def look_at_copy(book, forms, folder):
    copy = folder / "copy.book"
    for end in ("", "-wal"):
        if pathlib.Path(f"{book}{end}").exists():
            shutil.copy(f"{book}{end}", f"{copy}{end}")
    wrong, _, _ = look(copy, forms)
    for end in ("", "-wal", "-shm"):
        pathlib.Path(f"{copy}{end}").unlink(missing_ok=True)
    return wrong


def new_book(program, folder, number):
    film, book = folder / "film.json", folder / f"film-{number}.book"
    film.write_text(json.dumps(FILM), encoding="utf-8")
    subprocess.run([program, "open", str(film), str(book)], check=True, capture_output=True)
    subprocess.run([program, "passphrase", str(book)], input=b"seven quiet herrings\n", check=True,
                   capture_output=True)
    if number % 2 == 0:
        patch = folder / "patch.json"
        patch.write_text('[{"op": "add", "path": "", "value": {"accept_at_once": true}}]', encoding="utf-8")
        subprocess.run([program, "change", str(book), str(patch), "--document", "settings"], check=True,
                       capture_output=True)
    return book


def end_of_book(program, book, forms):
    wrong, kept, let_in = look(book, forms)
    done = subprocess.run([program, "check", str(book)], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        wrong.append(f"the program finds faults in {book.name}: {done.stderr}")
    done = subprocess.run([program, "export", str(book)], capture_output=True, text=True, check=False)
    database = sqlite3.connect(book)
    stored, = database.execute("SELECT value FROM documents WHERE name = 'production'").fetchone()
    database.close()
    if done.returncode != 0 or json.loads(done.stdout)["people"] != json.loads(stored)["people"]:
        wrong.append(f"{book.name} is not exported as it is: {done.stderr}")
    return wrong, kept, let_in


def main():
    reader = argparse.ArgumentParser(description="Kills the pages' server under load.")
    reader.add_argument("program")
    reader.add_argument("--rounds", type=int, default=120)
    reader.add_argument("--seed", type=int, default=random.SystemRandom().randrange(10**9))
    wishes = reader.parse_args()
    program, seed, rounds = str(pathlib.Path(wishes.program).resolve()), wishes.seed, wishes.rounds
    print(f"seed {seed}", flush=True)
    chance = random.Random(seed)
    folder = pathlib.Path(tempfile.mkdtemp(prefix="greasepaint-serve-kill-"))
    wrong, starts, slowest = [], 0, 0.0
    sums = collections.Counter()
    book, forms, unanswered = None, [], []
    for number in range(rounds):
        if number % ROUNDS_OF_A_BOOK == 0:
            book, forms, unanswered = new_book(program, folder, number // ROUNDS_OF_A_BOOK), [], []
        begun = time.monotonic()
        server, port = start(program, book)
        try:
            if port is None:
                server.kill()
                wrong.append(f"round {number}: no start: {server.stderr.read().decode()}")
                continue
            starts, slowest = starts + 1, max(slowest, time.monotonic() - begun)
            again = [form for form in unanswered if chance.random() < 0.5]
            before = {form: form.address for form in again}
            sums["sent again"] += len(again)
            load = Load(port, seed, number, list(again))
            for thread in load.threads:
                thread.start()
            time.sleep(chance.uniform(0.020, 0.120))
            load.killed = True
            if server.poll() is not None:
                wrong.append(f"round {number}: the server ended by itself: {server.stderr.read().decode()}")
            server.kill()
            sums["kills"] += 1
        finally:
            server.wait()
            server.stdout.close()
            server.stderr.close()
        for thread in load.threads:
            thread.join()
        wrong += load.wrong
        forms += load.forms
        answered = sum(1 for form in load.forms if form.address) + sum(
            1 for form in again if form.address and before[form] is None)
        sums["acknowledged"] += answered
        sums["rounds without an answer"] += int(answered == 0)
        unanswered = [form for form in forms if form.sends and not form.address]
        sums["cut off"] += sum(1 for form in load.forms if form.sends and not form.address)
        last = (number + 1) % ROUNDS_OF_A_BOOK == 0 or number + 1 == rounds
        if last:
            found, kept, let_in = end_of_book(program, book, forms)
            sums["kept"] += kept
            sums["let in"] += let_in
            wrong += [f"after round {number}: {one}" for one in found]
        elif number % 10 == 9:
            wrong += [f"after round {number}: {one}" for one in look_at_copy(book, forms, folder)]
    if wrong:
        print(f"the books are left in {folder}")
    else:
        shutil.rmtree(folder)
    for one in wrong[:20]:
        print(one)
    print(f"{rounds} rounds, {starts} starts (slowest {slowest:.2f} s), {sums['kills']} kills, "
          f"{sums['acknowledged']} sign-ups "
          f"acknowledged, {sums['cut off']} cut off while sent, {sums['sent again']} sent again later, "
          f"{sums['kept']} kept, {sums['let in']} let in at once, "
          f"{sums['rounds without an answer']} rounds without an answer; {len(wrong)} wrong")
    # a run that acknowledged little, or never met a form on its way, has tested nothing
    enough = sums["acknowledged"] >= rounds and sums["cut off"] > 0
    if not enough:
        print("too little was under way to tell")
    return 1 if wrong or not enough else 0


if __name__ == "__main__":
    sys.exit(main())
