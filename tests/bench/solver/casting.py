#!/usr/bin/env python3
"""What a made-up casting costs at least, by a general-purpose solver: HiGHS, through Debian's python3-scipy.

usage: casting.py PROBLEM.json SECONDS   (written by the program casting_problem, tests/bench)

Prints a line for tests/data/casting/solved.txt: the first twelve digits of the SHA-256 of PROBLEM.json, the bound (no
casting in which nothing stays empty costs less) and the best casting that the solver found itself (0: none). Written
from docs/who.md and src/casting/cast_problem.h as a mixed-integer program, without any code of the program's:

  y[s,o]    scene s is looked at at its moment o
  z[r,p]    person p has part r
  x[s,k,p]  person p is among the heads of place k of scene s
  u[p,i]    person p is in an ith scene, which costs burden * (2 i - 1): squares, as a sum of odd numbers
  f[s,p,q]  p and q, whom p likes, are both in scene s

Who has a part of m scenes is in m scenes: u[p,i] >= z[r,p] for i up to m. That follows for whole numbers, but not for
the fractions which the bound comes from, and makes it far better.
"""
import hashlib
import json
import math
import pathlib
import sys

import numpy
from scipy import optimize, sparse


class Model:
    def __init__(self):
        self.cost, self.whole = [], []
        self.rows, self.columns, self.values = [], [], []
        self.least, self.most = [], []

    def variable(self, cost=0, whole=False):
        self.cost.append(cost)
        self.whole.append(1 if whole else 0)
        return len(self.cost) - 1

    def row(self, terms, least=-math.inf, most=math.inf):
        for variable, factor in terms:
            self.rows.append(len(self.least))
            self.columns.append(variable)
            self.values.append(factor)
        self.least.append(least)
        self.most.append(most)

    def solve(self, seconds):
        shape = (len(self.least), len(self.cost))
        matrix = sparse.csr_matrix((self.values, (self.rows, self.columns)), shape=shape)
        constraints = optimize.LinearConstraint(matrix, self.least, self.most)
        return optimize.milp(numpy.array(self.cost), integrality=numpy.array(self.whole),
                             bounds=optimize.Bounds(0, 1), constraints=constraints,
                             options={"time_limit": seconds, "mip_rel_gap": 0, "disp": True})


def model_of(problem):
    model = Model()
    people, parts, scenes = problem["people"], problem["parts"], problem["scenes"]
    in_group = {}   # group, person: the variables that take them
    in_scene = {}   # scene, person
    scenes_of = {p: [] for p in range(people)}
    part_scenes = {}  # part: scene, place
    for s, scene in enumerate(scenes):
        for k, places in enumerate(scene["places"]):
            if places["part"] >= 0:
                part_scenes.setdefault(places["part"], []).append((s, k))
    z = {}
    for r, in_it in part_scenes.items():
        for p in range(people):
            may = all(any(p in opening[k] for opening in scenes[s]["openings"]) for s, k in in_it)
            fixed = parts[r]["fixed"]
            if may and (p == fixed if fixed >= 0 else p in parts[r]["candidates"]):
                z[r, p] = model.variable(sum(scenes[s]["places"][k]["wish"][p] for s, k in in_it), True)
        model.row([(z[r, p], 1) for p in range(people) if (r, p) in z], 1, 1)
    y = []
    for s, scene in enumerate(scenes):
        y.append([model.variable(0, True) for _ in scene["openings"]])
        model.row([(v, 1) for v in y[s]], 1, 1)
        for k, places in enumerate(scene["places"]):
            here = []
            for p in sorted(set(p for opening in scene["openings"] for p in opening[k])):
                if places["part"] >= 0:
                    if (places["part"], p) not in z:
                        continue
                    x = z[places["part"], p]
                else:
                    x = model.variable(places["wish"][p], any(problem["friends"]))  # else a flow: whole by itself
                    here.append(x)
                may = [y[s][o] for o, opening in enumerate(scene["openings"]) if p in opening[k]]
                if len(may) < len(scene["openings"]):
                    model.row([(x, 1)] + [(v, -1) for v in may], most=0)
                in_group.setdefault((scene["group"], p), []).append(x)
                in_scene.setdefault((s, p), []).append(x)
                scenes_of[p].append(x)
            if places["part"] < 0:
                model.row([(x, 1) for x in here], places["people"], places["people"])
    for who in in_group.values():
        if len(who) > 1:
            model.row([(x, 1) for x in sorted(set(who))], most=1)
    for r, part in enumerate(parts):
        for other in part["apart"]:
            if part["fixed"] >= 0 or other < r:
                continue
            for p in range(people):
                if (r, p) in z and (other, p) in z:
                    model.row([(z[r, p], 1), (z[other, p], 1)], most=1)
    groups = len(set(scene["group"] for scene in scenes))
    for p in range(people):
        u = [model.variable(problem["burden"][p] * (2 * i + 1)) for i in range(min(len(scenes_of[p]), groups))]
        factors = {}
        for x in scenes_of[p]:
            factors[x] = factors.get(x, 0) + 1
        model.row([(x, n) for x, n in factors.items()] + [(v, -1) for v in u], 0, 0)
        for r, in_it in part_scenes.items():
            if (r, p) in z:
                for i in range(min(len(in_it), len(u))):
                    model.row([(u[i], 1), (z[r, p], -1)], least=0)
    for p, friends in enumerate(problem["friends"]):
        for q in friends:
            for s in range(len(scenes)):
                if (s, p) in in_scene and (s, q) in in_scene:
                    f = model.variable(-problem["friend_worth"])
                    model.row([(f, 1)] + [(x, -1) for x in in_scene[s, p]], most=0)
                    model.row([(f, 1)] + [(x, -1) for x in in_scene[s, q]], most=0)
    return model


def main():
    text = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")
    model = model_of(json.loads(text))
    print(len(model.cost), "variables,", len(model.least), "rows", file=sys.stderr)
    run = model.solve(float(sys.argv[2]))
    bound = run.get("mip_dual_bound")
    # every casting costs a whole number; a thousandth for the solver's rounding
    least = math.ceil(bound - 1e-3) if bound is not None else 0
    best = round(run.fun) if run.x is not None else 0
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()[:12]
    print(digest, least, best)
    print(run.message, bound, file=sys.stderr)


main()
