"""Seeded briefs against HiGHS: the exported model, and the same with room for what is not straight."""

import tomllib

import highspy

import shelves
from solvers import FORMS, highs, model, read, same, washline

# By this share of its value every limit is widened.
ROOM = 1e-3
# A score that is better by less than this share is no better one (`BETTER` in `src/solve/outer`).
BETTER = 1e-7
# What a row may be off at the spec around which it is laid: rounding.
EXACT = 1e-8
# So many near misses of one brief are looked at; with more, it stays open.
MOST = 30


def poured(values):
    """What a solution pours, in steps, by the place of the candidate: on a shelf a name ends with it."""
    return {int(name.rsplit("_", 1)[1]): value for name, value in values.items()
            if name.startswith("pour_") and value != 0}


def card(pours):
    """Pours as `washline check` takes them."""
    return ", ".join(f"{pour['amount']!r} {pour['unit']} {pour['ingredient']}" for pour in pours)


def limits(lp, best, further=False):
    """The rows of targets: place, target, limit, and what they are measured by: the limit times the volume
    where the row stands times the volume. A limit may be laid around further points as well: those rows are
    asked for where all have to give way, and left out where a row has to be exact at our best spec."""
    known = {(margin["target"], margin["side"]): margin["limit"] for margin in best["margins"]}
    for at, name in enumerate(lp.row_names_):
        if name.startswith("limit_"):
            name, point, _ = name.removeprefix("limit_").partition("_point_")
            if point and not further:
                continue
            target, side = name.rsplit("_", 1)
            limit = known[target, side]
            yield at, target, limit, limit * (1 if target == "volume" else best["served"]["volume"])


def off(lp, best, spec):
    """By how much the rows are off at a spec, at most, as a share of what they are measured by."""
    # On a shelf a name ends with the place of the candidate, and so does its variable's.
    steps = {pour["ingredient"].rsplit(" ", 1)[1]: pour["amount"] / 2.5 for pour in spec["pours"]}
    amounts = [steps.get(name.rsplit("_", 1)[1], 0) if name.startswith("pour_") else 0 for name in lp.col_names_]
    rows, matrix = [0.0] * lp.num_row_, lp.a_matrix_
    for column, amount in enumerate(amounts):
        for at in range(matrix.start_[column], matrix.start_[column + 1]):
            rows[matrix.index_[at]] += matrix.value_[at] * amount
    served = spec["served"]
    shares = [0.0]
    for at, target, limit, size in limits(lp, best):
        exact = served["volume"] if target == "volume" else (served[target] - limit) * served["volume"]
        shares.append(abs(rows[at] - exact) / size)
    return max(shares)


class Wider:
    """The model of a brief with every limit wider, asked for what is better than our best spec."""

    def __init__(self, exported, best):
        self.solver = read(exported)
        self.lp = self.solver.getLp()
        for at, _, _, size in limits(self.lp, best, further=True):
            self.solver.changeRowBounds(at, self.lp.row_lower_[at] - ROOM * size, self.lp.row_upper_[at] + ROOM * size)
        columns, costs = zip(*((column, cost) for column, cost in enumerate(self.lp.col_cost_) if cost != 0))
        self.solver.addRow(-highspy.kHighsInf, best["score"] * (1 - BETTER), len(columns), columns, costs)
        self.rows = self.solver.getNumRow()
        self.used = {name.removeprefix("use_"): at for at, name in enumerate(self.lp.col_names_)
                     if name.startswith("use_")}
        self.pours = {at: name.removeprefix("pour_") for at, name in enumerate(self.lp.col_names_)
                      if name.startswith("pour_")}

    def solutions(self):
        """All of them, one after another: after each, everything that differs from it somewhere."""
        free = {at: (self.lp.col_lower_[at], self.lp.col_upper_[at]) for at in self.pours}
        stack = [(free, [])]
        while stack:
            bounds, others = stack.pop()
            found = self.solved(bounds, others)
            if found is not None:
                yield dict(zip(self.lp.col_names_, found))
                stack += self.beside(found, bounds, others)

    def solved(self, bounds, others):
        """The best within bounds that uses something of each of the others; nothing where HiGHS proves that
        there is nothing."""
        for at, (least, most) in bounds.items():
            self.solver.changeColBounds(at, least, most)
        added = self.solver.getNumRow() - self.rows
        if added:
            self.solver.deleteRows(added, list(range(self.rows, self.rows + added)))
        for columns in others:
            self.solver.addRow(1, highspy.kHighsInf, len(columns), columns, [1.0] * len(columns))
        self.solver.run()
        status = self.solver.getModelStatus()
        if status == highspy.HighsModelStatus.kInfeasible:
            return None
        if status != highspy.HighsModelStatus.kOptimal:
            raise RuntimeError(f"HiGHS ended with {status}")
        return [round(x) for x in self.solver.getSolution().col_value]

    def beside(self, found, bounds, others):
        """What is left of a part without one solution: less or more of something in it, or something else."""
        parts, bounds = [], dict(bounds)
        for at in (at for at in self.pours if found[at] > 0):
            least, most = bounds[at]
            parts += [({**bounds, at: (least, found[at] - 1)}, others)] if found[at] > least else []
            parts += [({**bounds, at: (found[at] + 1, most)}, others)] if found[at] < most else []
            bounds[at] = (found[at], found[at])
        rest = [self.used[name] for at, name in self.pours.items() if found[at] == 0]
        return [*parts, (bounds, [*others, rest])]


def better(program, path, exported, best):
    """What is better than our best spec; how many near misses were looked at; and whether those were all."""
    names = [candidate["name"] for candidate in tomllib.loads(path.read_text())["candidate"]]
    looked_at = 0
    for found in Wider(exported, best).solutions():
        pours = [{"ingredient": names[at], "amount": 2.5 * steps, "unit": "ml"} for at, steps in poured(found).items()]
        if washline(program, "check", path, card(pours))["meets"]:
            return [f"{path.stem}: {card(pours)} meets the brief and is better"], looked_at, True
        looked_at += 1
        if looked_at == MOST:
            return [], looked_at, False
    return [], looked_at, True


def on_shelf(job):
    """What is wrong with one seeded brief, whether HiGHS pours the same, how many near misses there are, whether
    those are all, and by how much rows are off."""
    program, candidates, seed, wider, folder = job
    path = shelves.written(folder, [candidates], 1, seed)[candidates][0]
    answer = washline(program, "spec", path)
    best = answer["best"]
    if answer["outcome"] != "found" or not answer["complete"]:
        return [f"{path.stem}: {answer['outcome']}, not proved"], False, 0, True, 0.0
    wrong = []
    again = washline(program, "check", path, card(best["pours"]))
    if not again["meets"] or not same(again["spec"]["score"], best["score"]):
        wrong.append(f"{path.stem}: {card(best['pours'])} is not what it was shown as")
    exported = model(program, path, FORMS[seed % 2], False, folder)
    optimum, values = highs(exported)
    if not same(optimum, best["score"]):
        wrong.append(f"{path.stem}: HiGHS has {optimum}, washline {best['score']}; {poured(values)}")
    beaten, misses, all_told = better(program, path, exported, best) if wider else ([], 0, True)
    lp = read(exported).getLp()
    if off(lp, best, best) > EXACT:
        wrong.append(f"{path.stem}: a row is off at the best spec itself")
    bent = max(off(lp, best, spec) for spec in [best, *answer["alternatives"]])
    alike = sorted(poured(values).values()) == sorted(round(pour["amount"] / 2.5) for pour in best["pours"])
    return wrong + beaten, alike, misses, all_told, bent


def unnoticed(program, folder):
    """Whether a spec that is not the best, passed off as the best, goes unnoticed: it must not."""
    path = shelves.written(folder, [15], 1)[15][0]
    answer = washline(program, "spec", path)
    exported = model(program, path, "mps", False, folder)
    if same(highs(exported)[0], answer["alternatives"][0]["score"]):
        return ["an alternative passes as the optimum"]
    worse = answer["best"] | {"score": answer["alternatives"][0]["score"]}
    return [] if better(program, path, exported, worse)[0] else ["nobody finds what is better than an alternative"]
