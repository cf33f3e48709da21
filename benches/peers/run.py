"""washline beside general solvers on the same models: HiGHS, and SciPy's milp.

    .ci/peers                      # makes the virtual environment and checks agreement
    target/peers/bin/python benches/peers/run.py [--sizes 15,30,...] [--count 20] [--first 0]
                                   [--seconds 30] [--peer-seconds 60] [--shelves larder|tuned] [--without scipy]
                                   [--json FILE]

For every seeded brief (`shelves.py`) in turn, on one core to which the whole run is tied:

  best + 6   washline: the best spec and the six best further sets of ingredients, proved
  best       washline: the best spec alone, proved
  HiGHS      one optimum of the exported model (`washline model BRIEF --as mps`), one thread, gap 0
  SciPy      the same by scipy.optimize.milp

Times are processor times of solving alone, in the process, without reading, writing and start-up, on
either side. washline's is that of the process around `solve` (`main.rs`), which takes the brief with its exact physics; for HiGHS it is that of `run`, for SciPy that of `milp`. Everything
else is left as each comes. What takes under 0.2 s is done three times, and the least counts.

A solve that is cut off after its seconds of processor time counts with the time it had, which is less than it
would have needed: it is counted in the column of cut-offs, and its ratio is then a bound, marked > (washline
was cut off) or < (the peer was). A ratio with both cut off says nothing and is left out of median and worst.

`--shelves tuned` takes the briefs on which the search was tuned (`tests/answers/shelf.rs`) instead.

The optima are compared as well: a peer that ends with another one than washline is told on standard error.
"""

import argparse
import json
import math
import os
import pathlib
import resource
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from importlib.metadata import version

import highspy
import numpy
import scipy.optimize
import scipy.sparse

import shelves

ROOT = pathlib.Path(__file__).resolve().parents[2]
REPEATED_UNDER = 0.2
# Two optima are the same within this share: the peers' own tolerances (1e-6) let no more be said.
SAME = 1e-6


def built():
    """Builds washline and the bench program as a user would have them; gives both paths."""
    subprocess.run(["cargo", "build", "--release", "--locked"], cwd=ROOT, check=True)
    made = subprocess.run(
        ["cargo", "bench", "--bench", "peers", "--no-run", "--locked", "--message-format=json"],
        cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True,
    )
    messages = [json.loads(line) for line in made.stdout.splitlines()]
    bench = next(m["executable"] for m in reversed(messages)
                 if m.get("executable") and m["target"]["name"] == "peers")
    return ROOT / "target" / "release" / "washline", bench


def least(step):
    """What a step gives, in the run of it that took least."""
    found = step()
    while found["cpu"] < REPEATED_UNDER and found["runs"] < 3:
        again = step()
        again["runs"] = found["runs"] + 1
        found = again if again["cpu"] < found["cpu"] else found | {"runs": again["runs"]}
    return found


def washline(bench, path, alternatives, seconds):
    line = subprocess.run([bench, str(path), str(alternatives), str(seconds)],
                          check=True, stdout=subprocess.PIPE, text=True).stdout
    told = json.loads(line)
    return {"cpu": told["cpu"], "ended": told["complete"], "score": told["score"], "runs": 1}


def exported(program, path, seconds, folder):
    """The model of a brief as a file for the others."""
    model = pathlib.Path(folder) / (path.stem + ".mps")
    with open(model, "w") as out:
        subprocess.run([program, "model", path, "--as", "mps", "--time-limit", str(seconds)], stdout=out)
    return model


def cut_off(solve, model, seconds):
    """What a peer comes to in a process of its own, which the system ends after so many seconds of processor
    time: the peers themselves know only wall time, which other work uses up."""
    receiver, sender = os.pipe()
    child = os.fork()
    if child == 0:
        # HiGHS says its name each time.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(seconds), math.ceil(seconds)))
        os.write(sender, json.dumps(solve(model)).encode())
        os._exit(0)
    os.close(sender)
    with os.fdopen(receiver) as told:
        line = told.read()
    _, status, used = os.wait4(child, 0)
    if line:
        return json.loads(line)
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGKILL):
        return {"cpu": used.ru_utime + used.ru_stime, "ended": False, "score": None, "runs": 1}
    sys.exit(f"{solve.__name__} failed on {model}")


def highs(model):
    solver = highspy.Highs()
    for option, value in [("output_flag", False), ("threads", 1), ("parallel", "off"),
                          ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0)]:
        solver.setOptionValue(option, value)
    solver.readModel(str(model))
    start = time.process_time()
    solver.run()
    cpu = time.process_time() - start
    ended = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return {"cpu": cpu, "ended": ended, "score": solver.getInfo().objective_function_value, "runs": 1}


def milp(model):
    reader = highspy.Highs()
    reader.setOptionValue("output_flag", False)
    reader.readModel(str(model))
    lp = reader.getLp()
    matrix = scipy.sparse.csc_array(
        (lp.a_matrix_.value_, lp.a_matrix_.index_, lp.a_matrix_.start_), (lp.num_row_, lp.num_col_))
    whole = numpy.array([int(kind == highspy.HighsVarType.kInteger) for kind in lp.integrality_])
    start = time.process_time()
    found = scipy.optimize.milp(
        numpy.array(lp.col_cost_), integrality=whole,
        bounds=scipy.optimize.Bounds(lp.col_lower_, lp.col_upper_),
        constraints=scipy.optimize.LinearConstraint(matrix, lp.row_lower_, lp.row_upper_),
        options={"mip_rel_gap": 0})
    cpu = time.process_time() - start
    return {"cpu": cpu, "ended": found.status == 0, "score": found.fun, "runs": 1}


def one(path, bench, program, given, folder):
    """All of them on one brief, one after another."""
    model = exported(program, path, given.seconds, folder)
    row = {
        "best + 6": least(lambda: washline(bench, path, 6, given.seconds)),
        "best": least(lambda: washline(bench, path, 0, given.seconds)),
        "HiGHS": least(lambda: cut_off(highs, model, given.peer_seconds)),
    }
    if "scipy" not in given.without:
        row["SciPy"] = least(lambda: cut_off(milp, model, given.peer_seconds))
    ours = row["best"]
    for name in ("best + 6", "HiGHS", "SciPy"):
        peer = row.get(name)
        if peer and peer["ended"] and ours["ended"]:
            apart = abs(peer["score"] - ours["score"]) / max(abs(ours["score"]), 1e-9)
            if apart > SAME:
                print(f"{path.stem}: {name} has {peer['score']}, washline {ours['score']}", file=sys.stderr)
    return row


def ratio(row, ours, peer):
    """Ours over theirs, and what a cut-off makes of it."""
    top, bottom = row[ours], row[peer]
    if not top["ended"] and not bottom["ended"]:
        return None
    mark = "" if top["ended"] and bottom["ended"] else ">" if bottom["ended"] else "<"
    return top["cpu"] / bottom["cpu"], mark


def spread(rows, ours, peer):
    """Median and worst ratio over all briefs, as text."""
    ratios = sorted(filter(None, (ratio(row, ours, peer) for row in rows)))
    if not ratios:
        return "-", "-"
    middle = statistics.median(value for value, _ in ratios)
    marks = "".join(sorted({mark for _, mark in ratios}))
    return f"{middle:.2g}", f"{ratios[-1][1]}{ratios[-1][0]:.2g}" + (f" ({marks})" if len(marks) > 1 else "")


def times(rows, name):
    """Median and worst time in ms, and how many were cut off, as text."""
    all_times = sorted(row[name]["cpu"] * 1e3 for row in rows)
    cut = sum(not row[name]["ended"] for row in rows)
    return f"{statistics.median(all_times):.3g}", f"{all_times[-1]:.3g}", str(cut)


def table(results):
    """The table, in Markdown."""
    names = list(next(iter(results.values()))[0])
    lines = ["| candidates | briefs | " + " | ".join(f"{n}: median, worst ms (cut off)" for n in names) + " |"
             + " best + 6 / HiGHS | best / HiGHS | best + 6 / SciPy |"]
    lines.append("| ---: " * (len(names) + 5) + "|")
    for size, rows in results.items():
        cells = ["{}, {} ({})".format(*times(rows, name)) for name in names]
        for ours, peer in (("best + 6", "HiGHS"), ("best", "HiGHS"), ("best + 6", "SciPy")):
            cells.append(" , worst ".join(spread(rows, ours, peer)) if peer in names else "-")
        lines.append(f"| {size} | {len(rows)} | " + " | ".join(cells) + " |")
    return "\n".join(lines)


def growth(results):
    """The exponent of the median time over the number of candidates, least squares in logarithms."""
    lines = []
    for name in next(iter(results.values()))[0]:
        points = [(math.log(size), math.log(statistics.median(row[name]["cpu"] for row in rows)))
                  for size, rows in results.items()]
        if len(points) < 2:
            continue
        power, constant = numpy.polyfit(*zip(*points), 1)
        left = [y - (power * x + constant) for x, y in points]
        cut = [size for size, rows in results.items() if sum(row[name]["ended"] for row in rows) * 2 <= len(rows)]
        short = f"; at {cut} the median itself is cut off, so it grows faster" if cut else ""
        lines.append(f"{name}: {math.exp(constant) * 1e3:.2g} ms x n^{power:.2f} "
                     f"(farthest size off by a factor of {math.exp(max(map(abs, left))):.1f}){short}")
    return "\n".join(lines)


def briefs(folder, bench, given):
    """The briefs' files by size."""
    if given.shelves == "larder":
        return shelves.written(folder, given.sizes, given.count, given.first)
    paths = {}
    for size in given.sizes:
        paths[size] = [pathlib.Path(folder) / f"{size}-{seed}.toml" for seed in range(given.first, given.first + given.count)]
        for seed, path in enumerate(paths[size], given.first):
            with open(path, "w") as out:
                subprocess.run([bench, "shelf", str(size), str(seed)], stdout=out, check=True)
    return paths


def machine():
    """The kind of machine, as far as it tells."""
    info = pathlib.Path("/proc/cpuinfo")
    models = [line.split(":")[1].strip() for line in info.read_text().splitlines() if line.startswith("model name")]
    return f"{models[0] if models else 'unknown processor'}, {len(models)} cores, load {os.getloadavg()[0]:.1f}"


def main():
    parser = argparse.ArgumentParser(description="washline beside general solvers.")
    parser.add_argument("--sizes", type=shelves.sizes, default=[15, 30, 60, 120, 250, 500, 1000])
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--peer-seconds", type=float, default=60)
    parser.add_argument("--shelves", choices=["larder", "tuned"], default="larder")
    parser.add_argument("--without", nargs="*", default=[])
    parser.add_argument("--json", help="where every single time goes")
    parser.add_argument("--programs", nargs=2, help="washline and the bench program, built before")
    given = parser.parse_args()
    program, bench = given.programs or built()
    # One core for everybody: what would use two threads has none to spread to.
    os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    print(f"{time.strftime('%Y-%m-%d')}, {machine()}; HiGHS {version('highspy')}, SciPy {version('scipy')}; "
          f"at most {given.seconds:g} s a solve for washline, {given.peer_seconds:g} s for the others")
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        paths = briefs(folder, bench, given)
        for size in given.sizes:
            results[size] = []
            for path in paths[size]:
                results[size].append(one(path, bench, program, given, folder))
                if given.json:
                    pathlib.Path(given.json).write_text(json.dumps(results))
            print(table({size: results[size]}).splitlines()[-1], file=sys.stderr, flush=True)
    print(table(results), growth(results), sep="\n\n")


if __name__ == "__main__":
    main()
