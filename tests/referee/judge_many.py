#!/usr/bin/env python3
"""Ask the referee about many plans in one process.

usage: judge_many.py REFEREE CASES

REFEREE is the judge's script (Python, beside this repository or anywhere else). CASES has one JSON
object a line: {"production": {...}, "plans": [{...}, ...], "with": ["maybe", ...]}. Prints for each
line a JSON list with a verdict for each plan, in order:
{"rules": [2, 11], "texts": ["rule 2: ...", ...], "cost": {...}}, or {"unreadable": "why"}.
"""
import importlib.machinery
import importlib.util
import json
import sys


def load(path):
    loader = importlib.machinery.SourceFileLoader("referee", path)
    spec = importlib.util.spec_from_loader("referee", loader)
    module = importlib.util.module_from_spec(spec)
    sys.dont_write_bytecode = True
    loader.exec_module(module)
    return module


def judge(referee, production, plan, answers):
    try:
        one = referee.Judge(production, plan, {"yes"} | set(answers))
        cost = one.run()
    except (ValueError, KeyError, TypeError, IndexError) as error:
        return {"unreadable": f"{type(error).__name__}: {error}"}
    return {
        "rules": sorted({rule for rule, _, _ in one.faults}),
        "texts": [f"rule {rule}: {where}: {what}" for rule, where, what in one.faults],
        "cost": cost,
    }


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    referee = load(sys.argv[1])
    with open(sys.argv[2], encoding="utf-8") as cases:
        for line in cases:
            case = json.loads(line)
            verdicts = [judge(referee, case["production"], plan, case.get("with", []))
                        for plan in case["plans"]]
            print(json.dumps(verdicts))


if __name__ == "__main__":
    main()
