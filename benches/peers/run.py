"""washline beside general solvers on the same models: HiGHS, and SciPy's milp.

    .ci/peers                               # once: makes the virtual environment
    target/peers/bin/python benches/peers/run.py [--sizes 15,30] [--count 20] [--first 0] [--seconds 10]
        [--peer-seconds 20] [--shelves larder|tuned] [--without SciPy] [--json FILE] [--programs MODEL BENCH]

Every seeded brief is solved by each in turn, all of them on one core to which the run is tied:

  best + 6   washline: the best spec and the six best further sets of ingredients, proved
  best       washline: the best spec alone, proved
  HiGHS      one optimum of the exported model (`washline model BRIEF --as mps`), gap 0, one thread
  SciPy      the same by scipy.optimize.milp

What is measured is processor time of the solving alone, without start-up, reading and writing: washline's
around `solve` (`main.rs`), which gets the brief with its exact physics; HiGHS's around `run`, SciPy's around
`milp`, which get the straight model around the answer. All else is left as each comes. What takes under
0.2 s is done three times, and the least counts. How long washline takes as a whole process, from its start
to its end, is told under the table.

A solve that is cut off after its seconds of processor time counts with the time it had, which is less than
it would have needed. The table says how many were; a ratio with one is a bound and marked: > where washline
was cut off, < where the peer was. Where both were there is no ratio, and the table says how many those are.

`--shelves larder` draws the briefs from the larder (`shelves.py`); `tuned` takes those on which the search
was tuned (`tests/answers/shelf.rs`), which are harder.

The optima are compared as well: where they differ, the run ends with exit status 1 and says so. (Left out are
models that say of themselves that their optimum may lie elsewhere; the table says how many.)
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
# The search before the model is written is nobody's time: it may take long (of wall time).
MODEL_SECONDS = 300
# Two optima are the same within this share: the peers' own tolerances (1e-6) let no more be said.
SAME = 1e-6
RATIOS = [("best + 6", "HiGHS"), ("best", "HiGHS"), ("best + 6", "SciPy")]


def built():
    """Builds washline and the bench program as a user would have them; gives both paths."""
    subprocess.run(["cargo", "build", "--release", "--locked"], cwd=ROOT, check=True)
    made = subprocess.run(
        ["cargo", "bench", "--bench", "peers", "--no-run", "--locked", "--message-format=json"],
        cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True,
    )
    messages = [json.loads(line) for line in made.stdout.splitlines()]
    bench = next(m["executable"] for m in messages if m.get("executable") and m["target"]["name"] == "peers")
    return ROOT / "target" / "release" / "washline", bench


def briefs(folder, bench, given):
    """The briefs' files by size."""
    if given.shelves == "larder":
        return shelves.written(folder, given.sizes, given.count, given.first)
    seeds = range(given.first, given.first + given.count)
    paths = {size: [pathlib.Path(folder) / f"{size}-{seed}.toml" for seed in seeds] for size in given.sizes}
    for size, files in paths.items():
        for seed, path in zip(seeds, files):
            with open(path, "w") as out:
                subprocess.run([bench, "shelf", str(size), str(seed)], stdout=out, check=True)
    return paths


def exported(program, path, folder):
    """The model of a brief as a file for the others, and whether it is said to have its optimum at our best spec:
    not where the search before it was stopped, or the one for points that straight rows let through."""
    model = pathlib.Path(folder) / (path.stem + ".mps")
    with open(model, "w") as out:
        subprocess.run([program, "model", path, "--as", "mps", "--time-limit", str(MODEL_SECONDS)], stdout=out)
    return model, "\n* Optimum: " in model.read_text()


def washline(bench, path, alternatives, seconds):
    """How long washline takes."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    words = [bench, str(path), str(alternatives), str(seconds)]
    told = json.loads(subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True).stdout)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    process = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return {"cpu": told["cpu"], "process": process, "ended": told["complete"], "score": told["score"]}


def highs(model):
    """How long HiGHS takes."""
    solver = highspy.Highs()
    for option, value in [("output_flag", False), ("threads", 1), ("parallel", "off"),
                          ("mip_rel_gap", 0.0), ("mip_abs_gap", 0.0)]:
        solver.setOptionValue(option, value)
    solver.readModel(str(model))
    start = time.process_time()
    solver.run()
    cpu = time.process_time() - start
    ended = solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return {"cpu": cpu, "ended": ended, "score": solver.getInfo().objective_function_value}


def milp(model):
    """How long SciPy takes."""
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
    return {"cpu": cpu, "ended": found.status == 0, "score": found.fun}


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
        return {"cpu": used.ru_utime + used.ru_stime, "ended": False, "score": None}
    sys.exit(f"{solve.__name__} failed on {model}")


def least(step):
    """What a step gives, in the run of it that took least."""
    found = [step()]
    while found[-1]["cpu"] < REPEATED_UNDER and len(found) < 3:
        found.append(step())
    return min(found, key=lambda one: one["cpu"])


def one(path, bench, program, given, folder):
    """All of them on one brief, one after another."""
    model, exact = exported(program, path, folder)
    steps = {
        "best + 6": lambda: washline(bench, path, 6, given.seconds),
        "best": lambda: washline(bench, path, 0, given.seconds),
        "HiGHS": lambda: cut_off(highs, model, given.peer_seconds),
        "SciPy": lambda: cut_off(milp, model, given.peer_seconds),
    }
    row = {name: least(step) for name, step in steps.items() if name not in given.without}
    return row | {"exact": exact}


def apart(results):
    """Briefs on which not everybody who ended has the same optimum, although the model is exact there."""
    found = []
    for size, rows in results.items():
        for at, row in enumerate(rows):
            told = {name: row[name] for name in names(results) if row["exact"]}
            scores = {name: one["score"] for name, one in told.items() if one["ended"]}
            if scores and max(scores.values()) - min(scores.values()) > SAME * abs(min(scores.values())):
                found.append(f"{size} candidates, brief {at}: {scores}")
    return found


def ratio(row, ours, peer):
    """Ours over theirs, and what a cut-off makes of it; nothing where both were cut off."""
    top, bottom = row[ours], row[peer]
    if not top["ended"] and not bottom["ended"]:
        return None
    mark = "" if top["ended"] and bottom["ended"] else ">" if bottom["ended"] else "<"
    return top["cpu"] / bottom["cpu"], mark


def spread(rows, ours, peer):
    """Median and worst ratio over all briefs, as text."""
    ratios = sorted(filter(None, (ratio(row, ours, peer) for row in rows)))
    if not ratios:
        return "-"
    none = f", none for {len(rows) - len(ratios)}" if len(ratios) < len(rows) else ""
    middle, (worst, mark) = statistics.median(value for value, _ in ratios), ratios[-1]
    return f"{middle:.2g}, {mark}{worst:.2g}{none}"


def times(rows, name):
    """Median and worst time in ms, and how many were cut off, as text."""
    all_times = [row[name]["cpu"] * 1e3 for row in rows]
    cut = sum(not row[name]["ended"] for row in rows)
    return f"{figure(statistics.median(all_times))}, {figure(max(all_times))}" + (f" ({cut} cut off)" if cut else "")


def figure(value):
    """Two digits, without an exponent."""
    digits = max(0, 1 - math.floor(math.log10(value)))
    return f"{round(value, 1 - math.floor(math.log10(value))):.{digits}f}"


def names(results):
    """Who was measured."""
    return [name for name in next(iter(results.values()))[0] if name != "exact"]


def table(results):
    """The table, in Markdown."""
    ratios = [(ours, peer) for ours, peer in RATIOS if peer in names(results)]
    heads = ["candidates", "briefs", *(f"{name}, ms" for name in names(results)), *(f"{o} / {p}" for o, p in ratios)]
    lines = ["Each cell: median, worst.\n", f"| {' | '.join(heads)} |", "| ---: " * len(heads) + "|"]
    for size, rows in results.items():
        cells = [str(size), str(len(rows)), *(times(rows, name) for name in names(results))]
        cells += [spread(rows, ours, peer) for ours, peer in ratios]
        lines.append(f"| {' | '.join(cells)} |")
    whole = [f"{figure(1e3 * statistics.median(row['best + 6']['process'] for row in rows))} ms at {size}"
             for size, rows in results.items()]
    inexact = sum(not row["exact"] for rows in results.values() for row in rows)
    return "\n".join([*lines, f"\nbest + 6 as a whole process, median: {', '.join(whole)}",
                      f"\nmodels that are not proved to have their optimum at our best spec: {inexact}"])


def growth(results):
    """How the median time grows with the number of candidates: least squares in logarithms."""
    lines = []
    for name in names(results) if len(results) > 1 else []:
        points = [(math.log(size), math.log(statistics.median(row[name]["cpu"] for row in rows)))
                  for size, rows in results.items()]
        power, constant = numpy.polyfit(*zip(*points), 1)
        off = math.exp(max(abs(y - (power * x + constant)) for x, y in points))
        cut = [str(size) for size, rows in results.items() if 2 * sum(row[name]["ended"] for row in rows) <= len(rows)]
        more = f"; at {', '.join(cut)} the median is cut off: it grows faster" if cut else ""
        lines.append(f"{name}: {figure(math.exp(constant) * 1e6)} µs x n^{power:.2f}, "
                     f"the farthest size off by a factor of {off:.1f}{more}")
    return "\n".join(lines)


def machine():
    """The kind of machine, as far as it tells."""
    told = pathlib.Path("/proc/cpuinfo").read_text().splitlines()
    kinds = [line.split(":")[1].strip() for line in told if line.startswith("model name")]
    return f"{kinds[0] if kinds else 'unknown processor'}, {os.cpu_count()} cores, load {os.getloadavg()[0]:.1f}"


def arguments():
    parser = argparse.ArgumentParser(description="washline beside general solvers.")
    parser.add_argument("--sizes", type=shelves.sizes, default=[15, 30, 60, 120, 250, 500, 1000])
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--seconds", type=float, default=10)
    parser.add_argument("--peer-seconds", type=float, default=20)
    parser.add_argument("--shelves", choices=["larder", "tuned"], default="larder")
    parser.add_argument("--without", nargs="*", default=[], choices=["HiGHS", "SciPy"])
    parser.add_argument("--json", help="where every single time goes")
    parser.add_argument("--programs", nargs=2, help="washline and the bench program, built before")
    return parser.parse_args()


def main():
    given = arguments()
    program, bench = given.programs or built()
    # One core for everybody: what would use two has none to spread to.
    os.sched_setaffinity(0, {max(os.sched_getaffinity(0))})
    print(f"{time.strftime('%Y-%m-%d')}, {machine()}; HiGHS {version('highspy')}, SciPy {version('scipy')}; "
          f"cut off after {given.seconds:g} s (washline) and {given.peer_seconds:g} s (the others)")
    results = {}
    with tempfile.TemporaryDirectory() as folder:
        for size, paths in briefs(folder, bench, given).items():
            results[size] = []
            for path in paths:
                results[size].append(one(path, bench, program, given, folder))
                if given.json:
                    pathlib.Path(given.json).write_text(json.dumps(results))
            print(table({size: results[size]}).splitlines()[4], file=sys.stderr, flush=True)
    print(table(results), growth(results), sep="\n\n")
    if wrong := apart(results):
        sys.exit("not the same optimum:\n" + "\n".join(wrong))


if __name__ == "__main__":
    main()
