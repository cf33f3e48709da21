"""Others read our models and come to our answers.

    .ci/peers                                  # with everything that this needs
    python tests/peers/agree.py WASHLINE       # highspy installed, glpsol on the path
                                 [--briefs 200] [--candidates 30] [--first 0]

Demos: every brief in problems-demo, as pourable and as free pours, as CPLEX-LP and as free MPS, is solved by
HiGHS and by GLPK. Their optimum has to be the score that `washline spec` shows (1e-6, relative), which was
measured from the pours; where washline says that nothing can be poured, they have to find nothing either.
Before that every model is damaged (one coefficient that matters is changed), and a wrong score is expected
of it; both have to be noticed, or the comparison proves nothing.

Shelves: so many seeded briefs (`benches/peers/shelves.py`). For each, `washline spec`'s best spec, measured
once more by `washline check`, has to meet the brief; HiGHS solves the exported model with gap 0 and
tolerances of 1e-9, and its optimum, worked out from its own whole amounts, has to be that score. What HiGHS
would pour goes through `washline check`, too.

What this proves: that the exported model is right as text and as mathematics, and that no spec that keeps
its rows beats ours. The model is straight: exact at our best spec, and at others off by what bends. A better
spec that a row wrongly cuts off would be missed here; that there is none is proved by the search's own
bounds and, where everything can be tried, by enumeration (`tests/answers`).
"""

import argparse
import concurrent.futures
import json
import math
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import highspy

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT / "benches" / "peers"))
import shelves  # noqa: E402

# How far two optima may lie apart, relative to them; where they are nothing, as many units.
SAME = 1e-6
# The tightest that HiGHS takes is 1e-10.
TIGHT = 1e-9
FORMS = ("lp", "mps")
NOTHING = "no solution"


def same(a, b):
    """Whether two optima are the same. What is no number is a solver's word for why it has none."""
    if isinstance(a, str) or isinstance(b, str):
        return a == b == NOTHING
    return abs(a - b) <= SAME * max(abs(b), 1.0 if b == 0 else abs(b))


def washline(program, *words):
    """What washline answers as JSON."""
    done = subprocess.run([program, *map(str, words), "--format", "json"], stdout=subprocess.PIPE, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"washline {' '.join(map(str, words))}: exit status {done.returncode}")
    return json.loads(done.stdout)


def model(program, brief, form, free, folder):
    """The exported model as a file."""
    path = pathlib.Path(folder) / f"{pathlib.Path(brief).stem}{'-free' if free else ''}.{form}"
    words = [program, "model", str(brief), "--as", form] + (["--free"] if free else [])
    with open(path, "w") as out:
        subprocess.run(words, stdout=out, check=True)
    return path


def expected(answer, free):
    """The score that the model's optimum has to be: what is highest is made least with its sign turned."""
    spec = answer.get("unrounded" if free else "best")
    if answer["outcome"] == "conflict" or spec is None:
        return NOTHING
    return -spec["score"] if answer["aim"]["direction"] == "highest" else spec["score"]


def read(path):
    """HiGHS with a model."""
    solver = highspy.Highs()
    for option, value in [("output_flag", False), ("threads", 1), ("parallel", "off"), ("mip_rel_gap", 0.0),
                          ("mip_abs_gap", 0.0), ("primal_feasibility_tolerance", TIGHT),
                          ("dual_feasibility_tolerance", TIGHT), ("mip_feasibility_tolerance", TIGHT)]:
        if solver.setOptionValue(option, value) != highspy.HighsStatus.kOk:
            sys.exit(f"HiGHS does not take {option} = {value}")
    if solver.readModel(str(path)) != highspy.HighsStatus.kOk:
        sys.exit(f"HiGHS cannot read {path.name}")
    return solver


def highs(path):
    """HiGHS's optimum and its values by name."""
    solver = read(path)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return NOTHING, {}
    if status != highspy.HighsModelStatus.kOptimal:
        return f"HiGHS ended with {status}", {}
    lp = solver.getLp()
    kinds = lp.integrality_ or [highspy.HighsVarType.kContinuous] * lp.num_col_
    # Whole amounts as whole numbers: what is within a tolerance of one is no better for it.
    values = [round(x) if kind == highspy.HighsVarType.kInteger else x
              for x, kind in zip(solver.getSolution().col_value, kinds)]
    optimum = sum(cost * x for cost, x in zip(lp.col_cost_, values)) + lp.offset_
    return optimum, dict(zip(lp.col_names_, values))


def glpk(path):
    """GLPK's optimum."""
    form = "--lp" if path.suffix == ".lp" else "--freemps"
    written = path.with_suffix(path.suffix + ".glpk")
    told = subprocess.run(["glpsol", form, str(path), "--mipgap", "0", "-w", str(written)],
                          stdout=subprocess.PIPE, text=True).stdout
    # "s mip ROWS COLUMNS o OBJECTIVE", or "s bas ROWS COLUMNS PRIMAL DUAL OBJECTIVE" of a linear program.
    solution = re.search(r"^s (mip|bas) (.*)$", written.read_text() if written.exists() else "", re.M)
    if solution is None:
        return f"GLPK says of {path.name}: {told[-300:]}"
    fields = solution.group(2).split()
    good = "o" if solution.group(1) == "mip" else "f"
    return float(fields[-1]) if set(fields[2:-1]) == {good} else NOTHING


PEERS = {"HiGHS": lambda path: highs(path)[0], "GLPK": glpk}


def faults(path, score):
    """Which peers do not come to a score on a model, and to what they come."""
    found = {name: solve(path) for name, solve in PEERS.items()}
    return [f"{path.name}: {name} has {value}, washline {score}"
            for name, value in found.items() if not same(value, score)]


def damage(lp, values):
    """One coefficient whose change moves the optimum: row, variable, new coefficient.

    Where something that is used has a coefficient in the aim, a hundredth less of it makes the optimum at
    least so much less. Else nothing is different from the reference, which alone scores nothing: then the
    change makes it miss a row by a tenth.
    """
    used = [(cost * values[name], name, cost) for name, cost in zip(lp.col_names_, lp.col_cost_)]
    weight, name, cost = max(used, key=lambda term: abs(term[0]))
    if weight != 0:
        return "aim", name, float(cost - 0.01 * abs(cost))
    matrix = lp.a_matrix_
    rows = [0.0] * lp.num_row_
    places = [(column, at) for column in range(lp.num_col_)
              for at in range(matrix.start_[column], matrix.start_[column + 1])]
    for column, at in places:
        rows[matrix.index_[at]] += matrix.value_[at] * values[lp.col_names_[column]]
    for column, at in places:
        row, amount = matrix.index_[at], values[lp.col_names_[column]]
        limit = lp.row_upper_[row]
        if amount > 0 and limit > 0 and math.isfinite(limit) and lp.row_lower_[row] != limit:
            missed = 1.1 * limit - rows[row]
            return lp.row_names_[row], lp.col_names_[column], float(matrix.value_[at] + missed / amount)
    raise SystemExit("no coefficient to damage")


def damaged(path, row, name, figure):
    """The same file with that coefficient, and nothing else, changed."""
    text = path.read_text()
    if path.suffix == ".mps":
        changed, count = re.subn(rf"^ {name} {row} \S+$", f" {name} {row} {figure!r}", text, flags=re.M)
    else:
        start = re.search(rf"^ {row}:", text, re.M).start()
        term = rf"[+-] \S+ {name}(?=\s)"
        new = f"{'-' if figure < 0 else '+'} {abs(figure)!r} {name}"
        changed, count = re.subn(term, new, text[start:], count=1)
        changed = text[:start] + changed
    if count != 1:
        raise SystemExit(f"{path.name}: {name} in {row} does not stand there once")
    damaged_path = path.with_name(f"damaged-{path.name}")
    damaged_path.write_text(changed)
    return damaged_path


def unnoticed(path, score):
    """Damage that nobody notices: there has to be none."""
    missed = []
    wrong = 1.0 if score == NOTHING else score + 1e-5 * max(abs(score), 1.0)
    tried = [("a wrong score", path, wrong)]
    optimum, values = highs(path)
    if values:
        lp = read(path).getLp()
        tried.append(("a wrong coefficient", damaged(path, *damage(lp, values)), score))
        tried.append(("a model without solution", path, NOTHING))
    for what, model_path, expected_score in tried:
        if len(faults(model_path, expected_score)) != len(PEERS):
            missed.append(f"{path.name}: not everybody notices {what}")
    return missed


def demos(program, folder):
    """What is wrong with the models of all demos."""
    wrong, count = [], 0
    for brief in sorted((ROOT / "problems-demo").glob("*.toml")):
        answer = washline(program, "spec", brief)
        for free in (False, True):
            score = expected(answer, free)
            for form in FORMS:
                path = model(program, brief, form, free, folder)
                wrong += faults(path, score) + unnoticed(path, score)
                count += 1
    print(f"{count} models of the demos, each read by {' and '.join(PEERS)}, and each damaged")
    return wrong if count >= 20 else [*wrong, "too few demos were found"]


def poured(values):
    """What a solution pours, in steps, by the names of its variables."""
    return {name: value for name, value in values.items() if name.startswith("pour_") and value != 0}


def on_shelf(job):
    """What is wrong with one seeded brief, and whether HiGHS pours the same."""
    program, candidates, seed, folder = job
    path = shelves.written(folder, [candidates], 1, seed)[candidates][0]
    answer = washline(program, "spec", path)
    best = answer["best"]
    if answer["outcome"] != "found" or not answer["complete"]:
        return [f"{path.stem}: {answer['outcome']}, not proved"], False
    wrong = []
    ours = ", ".join(f"{pour['amount']!r} {pour['unit']} {pour['ingredient']}" for pour in best["pours"])
    again = washline(program, "check", path, ours)
    if not again["meets"] or not same(again["spec"]["score"], best["score"]):
        wrong.append(f"{path.stem}: {ours} measures {again['spec']['score']}, shown as {best['score']}")
    exported = model(program, path, FORMS[seed % 2], False, folder)
    optimum, values = highs(exported)
    if isinstance(optimum, str) or not same(optimum, best["score"]):
        wrong.append(f"{path.stem}: HiGHS has {optimum}, washline {best['score']}; {poured(values)}")
    return wrong, sorted(poured(values).values()) == sorted(round(pour["amount"] / 2.5) for pour in best["pours"])


def on_shelves(program, given, folder):
    """What is wrong with the seeded briefs."""
    jobs = [(program, given.candidates, seed, folder) for seed in range(given.first, given.first + given.briefs)]
    with concurrent.futures.ProcessPoolExecutor(len(os.sched_getaffinity(0))) as workers:
        found = list(workers.map(on_shelf, jobs))
    alike = sum(same_pours for _, same_pours in found)
    print(f"{len(jobs)} briefs of {given.candidates} candidates against HiGHS; it pours the same in {alike}")
    return [fault for wrong, _ in found for fault in wrong]


def main():
    parser = argparse.ArgumentParser(description="Others come to our answers.")
    parser.add_argument("washline")
    parser.add_argument("--briefs", type=int, default=200)
    parser.add_argument("--candidates", type=int, default=30)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args()
    program = str(pathlib.Path(given.washline).resolve())
    with tempfile.TemporaryDirectory() as folder:
        wrong = demos(program, folder) + on_shelves(program, given, folder)
    for fault in wrong:
        print(fault, file=sys.stderr)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
