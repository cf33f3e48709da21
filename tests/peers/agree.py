"""Others read our models and come to our answers.

    .ci/peers                                  # with everything that this needs
    python tests/peers/agree.py WASHLINE       # highspy installed, glpsol on the path
                                 [--briefs 200] [--room 60] [--candidates 30] [--first 0]

Demos: every brief in problems-demo, as pourable and as free pours, as CPLEX-LP and as free MPS, is solved by
HiGHS and by GLPK. Their optimum has to be the score that `washline spec` shows (1e-6, relative), which was
measured from the pours; where washline says that nothing can be poured, they have to find nothing either.
Every model is then damaged (one coefficient that matters is changed), and a wrong score is expected of it;
both have to be noticed, or the comparison proves nothing.

Shelves (`room.py`): so many seeded briefs (`benches/peers/shelves.py`). For each, `washline spec`'s best spec,
measured once more by `washline check`, has to meet the brief; HiGHS solves the exported model with gap 0 and
tolerances of 1e-9, and its optimum, worked out from its own whole amounts, has to be that score.

The model is straight: exact at our best spec, and elsewhere off by what bends. So that no row hides what is
better, HiGHS then looks for everything that is better with every limit wider by a thousandth (in the first 60
briefs: it takes long). Whatever it finds has to miss a limit when it is measured, and in the end it has to prove
that there is nothing more (a brief with over 30 near misses is left open, and told as such). That room has to be more than the rows are off: at the six alternatives of every
brief, whose measures are known, it is. An alternative is passed off as the best besides, and HiGHS has to find
what beats it.

What this proves: the exported model is right, and over these briefs no spec beats ours unless the rows are off
at it by several times more than at any alternative. Without such an unless it is proved by enumeration, where
everything can be tried (`tests/answers`).
"""

import argparse
import concurrent.futures
import math
import os
import pathlib
import re
import sys
import tempfile

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.append(str(ROOT / "benches" / "peers"))

import room
from solvers import FORMS, NOTHING, SAME, glpk, highs, model, read, same, washline

PEERS = {"HiGHS": lambda path: highs(path)[0], "GLPK": glpk}


def expected(answer, free):
    """The score that the model's optimum has to be: what is highest is made least with its sign turned."""
    spec = answer.get("unrounded" if free else "best")
    if answer["outcome"] == "conflict" or spec is None:
        return NOTHING
    return -spec["score"] if answer["aim"]["direction"] == "highest" else spec["score"]


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
        # With any amounts the middle of all ranges may be met exactly, and then of many another row as well.
        if not (path.stem.endswith("-free") and abs(score) < SAME):
            tried.append(("a wrong coefficient", damaged(path, *damage(lp, values)), score))
        tried.append(("a model without solution", path, NOTHING))
    for what, model_path, expected_score in tried:
        if len(faults(model_path, expected_score)) != len(PEERS):
            missed.append(f"{path.name}: not everybody notices {what}")
    return missed


def demos(program, folder):
    """What is wrong with the models of all demos."""
    wrong, count = [], 0
    # A house is no brief.
    briefs = [path for path in (ROOT / "problems-demo").glob("*.toml") if path.name != "house.toml"]
    for brief in sorted(briefs):
        answer = washline(program, "spec", brief)
        for free in (False, True):
            score = expected(answer, free)
            for form in FORMS:
                path = model(program, brief, form, free, folder)
                wrong += faults(path, score) + unnoticed(path, score)
                count += 1
    print(f"{count} models of the demos, each read by {' and '.join(PEERS)}, and each damaged")
    return wrong if count >= 20 else [*wrong, "too few demos were found"]


def on_shelves(program, given, folder):
    """What is wrong with the seeded briefs."""
    jobs = [(program, given.candidates, given.first + at, at < given.room, folder) for at in range(given.briefs)]
    with concurrent.futures.ProcessPoolExecutor(len(os.sched_getaffinity(0))) as workers:
        found = list(workers.map(room.on_shelf, jobs))
    faults_of, alike, misses, all_told, bent = zip(*found)
    looked_at, left_open = min(given.room, given.briefs), all_told.count(False)
    print(f"{len(jobs)} briefs of {given.candidates} candidates against HiGHS: it pours the same in {sum(alike)}; "
          f"rows are off by {max(bent):.1e} at most")
    print(f"{looked_at} of them with wider limits: {sum(misses)} near misses, each measured; {left_open} left open")
    wrong = [fault for faults_of_one in faults_of for fault in faults_of_one]
    if left_open * 10 > looked_at:
        wrong.append(f"{left_open} of {looked_at} briefs have too many near misses: little is proved")
    if max(bent) * 2 > room.ROOM:
        wrong.append(f"rows are off by {max(bent)}: the room is too small")
    return wrong + room.unnoticed(program, folder)


def main():
    parser = argparse.ArgumentParser(description="Others come to our answers.")
    parser.add_argument("washline")
    parser.add_argument("--briefs", type=int, default=200)
    parser.add_argument("--room", type=int, default=60, help="of so many briefs, also with wider limits")
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
