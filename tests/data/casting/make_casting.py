#!/usr/bin/env python3
"""Made-up casting problems and their least points, by MiniZinc with Gecode (minizinc 2.6.4, Debian 12).

usage: make_casting.py FOLDER

Writes case-N.json (a production) and optimum.txt (a line "case-N POINTS" each, proven by the solver).
Everybody is free all the time and nothing need stay empty, so the points are 4 * weight * scenes squared
over all people, less 3 a scene for whoever names the job among what they can. The model is written from
docs/who.md and shares nothing with the program.
"""
import json
import pathlib
import random
import subprocess
import sys
import tempfile


def made_up(seed):
    r = random.Random(seed)
    n, parts, scenes = 6, 2, 3
    people = [{"id": f"p{i}", "weight": r.choice([1, 1, 2]),
               "can": [s for s in ("dance", "light") if r.random() < .6],
               "no": [t for t in ("wet",) if r.random() < .3]} for i in range(n)]
    roles = [{"id": f"r{i}", "needs": ["dance"] if r.random() < .3 else [],
              "tags": ["wet"] if r.random() < .4 else []} for i in range(parts)]
    roles.append({"id": "mob", "crowd": True, "tags": ["wet"] if r.random() < .4 else []})
    films = []
    for i in range(scenes):
        in_it = [f"r{k}" for k in range(parts) if r.random() < .5]
        films.append({"id": f"s{i}", "shoot_minutes": 10,
                      "cast": [{"role": x} for x in in_it] + [{"role": "mob", "people": r.choice([1, 2])}],
                      "crew": [{"job": "light"}]})
    return {"greasepaint": 1, "title": f"Casting {seed}", "days": [{"date": "2027-05-01"}],
            "people": people, "roles": roles, "scenes": films}


def model(film):
    people, roles = film["people"], {role["id"]: role for role in film["roles"]}
    def may(p, role):
        return all(x in p["can"] for x in role.get("needs", [])) and not set(p["no"]) & set(role.get("tags", []))
    lines, cost = [], []
    n = len(people)
    parts = [r for r in film["roles"] if not r.get("crowd")]
    for role in parts:
        can = [i for i, p in enumerate(people) if may(p, role)]
        lines.append(f"var {{{','.join(map(str, can))}}}: part_{role['id']};")
    used = {i: [] for i in range(n)}
    for scene in film["scenes"]:
        s = scene["id"]
        lines.append(f"array[0..{n-1}] of var 0..1: mob_{s}; array[0..{n-1}] of var 0..1: crew_{s};")
        heads = [c["people"] for c in scene["cast"] if c["role"] == "mob"][0]
        lines.append(f"constraint sum(mob_{s}) = {heads}; constraint sum(crew_{s}) = 1;")
        for i, p in enumerate(people):
            if not may(p, roles["mob"]):
                lines.append(f"constraint mob_{s}[{i}] = 0;")
            terms = [f"mob_{s}[{i}]", f"crew_{s}[{i}]"]
            terms += [f"bool2int(part_{c['role']} = {i})" for c in scene["cast"] if c["role"] != "mob"]
            lines.append(f"constraint {' + '.join(terms)} <= 1;")
            used[i] += terms
            if "light" in p["can"]:
                cost.append(f"-3*crew_{s}[{i}]")
    for i, p in enumerate(people):
        lines.append(f"var 0..{len(film['scenes'])}: n{i} = {' + '.join(used[i])};")
        cost.append(f"{4 * p['weight']}*n{i}*n{i}")
    lines.append(f"var -1000..10000: cost = {' + '.join(cost)};")
    lines.append('solve minimize cost; output [show(cost)];')
    return "\n".join(lines)


def main():
    folder = pathlib.Path(sys.argv[1])
    optimum = []
    for seed in range(1, 41):
        if len(optimum) == 6:
            break
        film = made_up(seed)
        with tempfile.NamedTemporaryFile("w", suffix=".mzn") as text:
            text.write(model(film))
            text.flush()
            try:
                run = subprocess.run(["minizinc", "--solver", "gecode", text.name], capture_output=True,
                                     text=True, check=False, timeout=6)
            except subprocess.TimeoutExpired:
                continue
        if "==========" not in run.stdout:
            continue  # not solved, or somebody would be missing
        optimum.append(f"case-{seed} {run.stdout.split()[-3]}")
        (folder / f"case-{seed}.json").write_text(json.dumps(film, indent=1) + "\n")
    (folder / "optimum.txt").write_text("\n".join(optimum) + "\n")


main()
