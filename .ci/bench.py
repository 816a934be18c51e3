#!/usr/bin/env python3
"""Seconds and peak memory to plan and to print each demo.

usage: bench.py PROGRAM [--runs N]

Each demo is planned alone and planned and printed, N times each (5), alternating; the medians of the
wall-clock seconds, of the processor's seconds (which a busy machine changes less) and the largest
peak of memory are shown, with the targets. Memory and processor time are what the kernel counted
for the process (wait4). Run it on a quiet machine: the numbers are of this machine, the ratios
travel. Exit status: 0 every target is reached, 1 one is not.
"""
import json
import os
import pathlib
import statistics
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
# demo -> seconds it may take to plan and print together
TARGETS = {"first-day": 1.0, "herring-wedding": 1.0, "snail-derby": 5.0}
MOST_MEGABYTES = 200


def measure(command):
    """Wall-clock seconds, processor seconds, peak megabytes and exit status of one run."""
    begin = time.monotonic()
    with open(os.devnull, "rb+") as nothing:
        actions = [(os.POSIX_SPAWN_DUP2, nothing.fileno(), 0),
                   (os.POSIX_SPAWN_DUP2, nothing.fileno(), 1)]
        process = os.posix_spawn(command[0], command, os.environ, file_actions=actions)
    _, status, usage = os.wait4(process, 0)
    return (time.monotonic() - begin, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024,
            os.waitstatus_to_exitcode(status))


def main(arguments):
    program = str(pathlib.Path(arguments[0]).resolve())
    runs = int(arguments[arguments.index("--runs") + 1]) if "--runs" in arguments else 5
    missed = 0
    print(f"{'demo':<18}{'people':>7}{'scenes':>7}{'plan s':>9}{'both s':>9}{'print s':>9}"
          f"{'cpu s':>9}{'peak MB':>9}  target")
    with tempfile.TemporaryDirectory(prefix="greasepaint-bench-") as folder:
        for demo, most_seconds in TARGETS.items():
            path = ROOT / "demo" / demo / "production.json"
            production = json.loads(path.read_text(encoding="utf-8"))
            plan = [program, "plan", str(path), "--show", "nothing", "--quiet"]
            both = plan + ["--json", f"{folder}/plan.json", "--out", f"{folder}/{demo}"]
            planning, together, processor, peak = [], [], [], 0.0
            for _ in range(runs):
                for command, times in ((plan, planning), (both, together)):
                    seconds, cpu, megabytes, status = measure(command)
                    if status not in (0, 3):
                        print(f"{demo}: ended with {status}")
                        return 1
                    times.append(seconds)
                    if times is together:
                        processor.append(cpu)
                    peak = max(peak, megabytes)
            plan_s, both_s = statistics.median(planning), statistics.median(together)
            reached = both_s < most_seconds and peak < MOST_MEGABYTES
            missed += not reached
            print(f"{demo:<18}{len(production.get('people', [])):>7}"
                  f"{len(production.get('scenes', [])):>7}{plan_s:>9.3f}{both_s:>9.3f}"
                  f"{both_s - plan_s:>9.3f}{statistics.median(processor):>9.3f}{peak:>9.1f}"
                  f"  {'reached' if reached else 'MISSED'}: < {most_seconds:g} s, "
                  f"< {MOST_MEGABYTES} MB")
    return 1 if missed else 0


if __name__ == "__main__":
    if len(sys.argv) < 2:
        print(__doc__, file=sys.stderr)
        sys.exit(64)
    sys.exit(main(sys.argv[1:]))
