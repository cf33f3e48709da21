"""A second checker of proofs, in fractions: its own reader of proofs, its own physics and rows.

The form of a proof: README.md. `plain.py` holds what a proof says of its brief against the brief.
"""
import re
from bisect import bisect_right
from collections import Counter, defaultdict
from fractions import Fraction as F
from types import SimpleNamespace

from physics import PURE, Drinks, Form

LOOSE = F(4, 10**9)
PORTION = "ethanol water sweet acid excess worked strength sugars sweetness kcal heat made poured".split()
# Measures and ranges are so much of a thing, over another.
MEASURES = {thing: (thing, 1, None) for thing in ("ethanol", "cost", "volume", "melt", "level")} | {
    "strength": ("ethanol", 100 / PURE, "volume"), "sugar": ("sugars", 1000, "volume"),
    "sweetness": ("sweetness", 1000, "volume"), "acid": ("acid", 1000, "volume"),
    "sugar_acid": ("sugars", 1, "acid"), "energy": ("kcal", 1, None)}
RANGES = {"w": ("alcohol", 1, "worked"), "p": ("ethanol", 1, "spirit"), "s": ("sweet", 1, "syrup")}
LINES = re.compile(r"a \d+ -?\d+|[wps] \d+ [-\d.]+|h \d+|l \d+( [-\d.]+){10}(( [-\d.]+){3})?|"
                   r"f( \d+(e\d+)? (l\d+(\.\d+)?|[crnhd]\d+|[gwps]\d+[-+]))*|x (c|\d+( \d+)?)")


def need(holds, why):
    if not holds:
        raise ValueError(why)


def read(line):
    """The words of a line, numbers as such."""
    return [F(float(w)) if re.fullmatch(r"-?\d+(\.\d+)?(e\d+)?", w) else w for w in line.split(" ")]


def loosened(side, at):
    return side, at + LOOSE * abs(at) * (-1 if side == "min" else 1)


def kept(bounds, thing, many, over, side, at):
    """A measure from a side of a figure, nowhere under nothing; of what it is over, the end that loosens."""
    least, turn = side == "min", 1 if side == "min" else -1
    return (bounds[thing][least] * many + bounds[over][least != (at >= 0)] * -at) * turn


class Part:
    """A part of a proof: what it says of its brief, its specs, its tree.

    Things are forms, sums of figures by what they are of: a step of a column, its use, a note, one. Rows keep
    measures of things from a side: they are nowhere under nothing for a spec that scores under the cutoff.
    """

    def __init__(self, lines):
        self.claim, self.said, self.count = next(lines).split(" "), [], Counter()
        self.measures, self.things, self.rows = dict(MEASURES), {None: Form(one=1), "amount -": Form()}, {}
        self.columns, self.notes, self.specs, self.parts = [], [], [], None
        need(self.claim[0] == "claim", "a part begins with its claim")
        for line in iter(lines.__next__, "tree"):
            word, *rest = read(line)
            self.said.append([word, *rest])
            self.fact(self.count[word], line, word, *rest)
            self.count[word] += 1
        need(self.count["portion"] == len(self.parts) * len(self.columns), "a portion a view")
        self.cutoffs(*self.answer)

    def fact(self, n, line, *words):
        """Takes in the nth line of its kind."""
        match words:
            case ["view" | "but", *_]: pass
            case ["melt", *rule]: self.drinks = Drinks(rule)
            case ["ice", method, form]: self.drinks = Drinks(self.drinks.rule, method, form)
            case ["net", net]: self.measures["pour_cost"] = "cost", 100 / net, None
            case ["property", "serve"]: self.measures[f"property{n}"] = f"property{n}", 1, None
            case ["property", "litre"]: self.measures[f"property{n}"] = f"property{n}", 1000, "volume"
            case ["column", unit, least, most, must, *_]:
                self.parts = self.parts or [defaultdict(Form) for _ in range(self.count["view"] + 1)]
                self.things[f"amount {n}"] = Form({("step", n): unit})
                column = SimpleNamespace(unit=unit, must=must == "must", name=line.split(" ", 5)[5], wanted=0)
                column.steps = range(int(least), int(most) + 1)
                self.columns.append(column)
            case ["costs", cost, *carried]:
                self.costs = {"cost": cost} | {f"property{at}": figure for at, figure in enumerate(carried)}
            case ["measures", *steps]: self.columns[-1].steps = sorted(steps)
            case ["portion", *figures]:
                p = dict(zip(PORTION, figures, strict=True)) | self.costs
                p |= {"alcohol": p["worked"] * p["strength"], "brought": self.drinks.brought(p)}
                c, view = divmod(n, len(self.parts))
                for thing, figure in p.items():
                    self.parts[view][thing]["step", c] = self.columns[c].unit * figure
            case ["limit", of, side, at]:
                self.rows[f"l{n}"] = *self.measures[of], *loosened(side, at)
                if self.measures[of][2] == "acid":
                    # Nothing over nothing keeps no limit, and of something over nothing there is no most.
                    there = self.parts[0]["acid"] + self.parts[0]["sugars"] * (side == "min")
                    self.things[f"there {n}"] = Form({("used", c): 1 for (_, c), many in there.items() if many})
                    self.rows[f"d{n}"] = f"there {n}", 1, None, "min", 1
            case ["group", least, most, *of]:
                self.things[f"group {n}"] = Form({("used", c): 1 for c in of})
                for name, side, at in ((f"g{n}-", "min", least), (f"g{n}+", "max", most)):
                    self.rows[name] = f"group {n}", 1, None, side, at
            case ["ratio", side, at, of, to]:
                self.rows[f"r{n}"] = f"amount {of}", 1, f"amount {to}", *loosened(side, at)
            case ["aim", *aim]: self.sides = self.aimed(*aim)
            case ["answer", *answer]: self.answer = answer
            case ["spec", *pairs]: self.specs.append(dict(map(int, pair.split(":")) for pair in pairs))
            case _: need(False, "nobody says such a thing")

    def aimed(self, kind, *rest):
        """Of what a score is the distance to one side of a middle, in halves: the greatest of these."""
        if kind == "middle":
            ranges = zip(*[iter(rest)] * 3)
            return [(*self.measures[of], side, *middle) for of, *middle in ranges for side in ("min", "max")]
        if kind == "change":
            self.things[kind] = Form(bent=-1, one=rest[0])
            for column, column.wanted in zip(self.columns, rest[1:], strict=True): pass
        if kind == "notes":
            self.notes = [[int(c) for c in str(carriers).split(",")] for carriers in rest]
            self.things[kind] = Form({("note", n): 1 for n in range(len(rest))})
        for n, carriers in enumerate(self.notes):
            self.things[f"note {n}"] = Form({("used", c): 1 for c in carriers})
            self.things[f"noted {n}"] = Form({("note", n): 1})
            self.rows[f"n{n}"] = f"note {n}", 1, f"noted {n}", "min", 1
        thing = f"amount {rest[0]}" if kind == "amount" else kind
        of = self.measures[rest[0]] if kind in ("low", "high") else (thing, 1, None)
        turned = kind in ("high", "notes") or kind == "amount" and rest[1] < 0
        return [(*of, "min" if turned else "max", 0, 1)]

    def greatest(self, domains, form):
        """The most that a form can be, as every column may be out or not and has these steps."""
        most = form.get("one", 0) + sum(max(form.get(("note", n), 0), 0) for n in range(len(self.notes)))
        for c, (column, (out, steps)) in enumerate(zip(self.columns, domains)):
            # The ends, and either side of where the change from the reference bends.
            bend, ends = column.wanted // column.unit, [*steps[:1], *steps[-1:]]
            at = [0] * out + ends + [n for n in (bend, bend + 1) if ends and ends[0] <= n <= ends[-1]]
            most += max(form.get(("step", c), 0) * n + form.get(("used", c), 0) * (n > 0)
                        - form.get("bent", 0) * abs(column.unit * n - column.wanted) for n in at)
        return most

    # ---- specs

    def glasses(self, steps, view):
        """What one spec measures: on ice with a little less melt than there is, and with a little more."""
        domains = [(n == 0, [n] * (n > 0)) for n in steps]
        p = {thing: self.greatest(domains, form) for thing, form in (self.parts[view] | self.things).items()}
        return self.drinks.glasses(p | {"notes": sum(any(steps[c] for c in note) for note in self.notes)})

    def breaks(self, steps, name, view=0):
        return all(kept(glass, *self.rows[name]) < 0 for glass in self.glasses(steps, int(view)))

    def score(self, steps):
        """What is made least."""
        offs = ([(many * glass[thing][0] / glass[over][0] - middle) / half * (1 if side == "max" else -1)
                 for thing, many, over, side, middle, half in self.sides] for glass in self.glasses(steps, 0))
        return min(max(sides, default=F(0)) for sides in offs)

    def cutoffs(self, wanted, within, by, to):
        """Measures the specs: nothing may be left that scores under these, of their sets and of others."""
        self.scores, self.others, kind = {}, None, self.claim[1]
        matters = lambda score: to * (1 if by == "by" else abs(score))
        under = lambda score: score - matters(score) - LOOSE * abs(score) - F(1, 10**12)
        rows = [(name, view) for name in self.rows if name[0] != "n" for view in range(len(self.parts))]
        for spec in self.specs:
            steps = [spec.get(c, 0) for c in range(len(self.columns))]
            fits = (n in c.steps if n else not c.must for c, n in zip(self.columns, steps))
            need(all(fits) and not any(self.breaks(steps, *row) for row in rows), "a spec breaks the brief")
            self.scores[frozenset(c for c, n in enumerate(steps) if n)] = self.score(steps)
        scores, listed = self.scores.values(), len(self.specs)
        wants = {"nothing": listed == 0, "best": listed == 1, "sets": listed > 0}
        need(len(scores) == listed and wants[kind], "two specs of one set, or it claims others")
        self.sets = {used: under(score) for used, score in self.scores.items() if kind == "sets"}
        if kind == "best":
            self.others = under(*scores)
        elif listed > wanted:
            self.others = max(self.sets.values())
        elif listed and within != "-":
            best = min(scores) - matters(min(scores))
            self.others = under(best + within / 100 * abs(best))

    # ---- the tree

    def cutoff(self, domains):
        used = frozenset(c for c, (out, _) in enumerate(domains) if not out)
        known = not any(out and steps for out, steps in domains)
        return self.sets.get(used, self.others) if known else self.others

    def row(self, domains, states, name):
        """A row by its name, as it is at a node."""
        name, _, view = name.partition(".")
        if name in self.rows:
            return kept(states[int(view or 0)]["bounds"], *self.rows[name])
        kind, at, up = name[0], int(name[1:].rstrip("-+")), name[-1] == "+"
        state = states[0 if kind == "c" else at]
        need(state["lines"], "no lines are stated yet")
        if kind == "c":
            *of, side, middle, half = self.sides[at]
            value = middle + self.cutoff(domains) * half * (1 if side == "max" else -1)
            # Notes come whole.
            return kept(state["bounds"], *of, side, value // 1 + 1 if self.notes else value)
        # While it is open whether ice melts there is no such row.
        if kind == "h":
            return kept(state["bounds"], "sign", 1, None, {True: "min", False: "max"}[state["heat"]], 0)
        return kept(state["bounds"], *RANGES[kind], "max" if up else "min", state[kind][up])

    def closed(self, domains, states, kind, *rest):
        """Whether nothing is left at a leaf."""
        if kind == "f":
            need(all(many <= 10**12 for many in rest[::2]), "a multiplier is too large")
            rows = (self.row(domains, states, name) * many for many, name in zip(rest[::2], rest[1::2]))
            empty = any(not out and not steps for out, steps in domains)
            return empty or self.greatest(domains, sum(rows, Form())) < 0
        # Of each column one number of steps is left.
        steps, (limit, *view) = [one for one, in ([0] * out + [*steps[:2]] for out, steps in domains)], rest
        return (self.score(steps) >= self.cutoff(domains) if limit == "c"
                else self.breaks(steps, f"l{limit}", *view))

    def child(self, domains, states, word, at, *rest):
        """The next node, of a line of the tree that is no leaf; of branches one side and then the other."""
        at, (k, *_) = int(at), rest or [None]
        if word == "a":
            out, steps = domains[at]
            cut = bisect_right(steps, k)
            sides = (out and k >= 0, steps[:cut]), (out and k < 0, steps[cut:])
            return [([*domains[:at], side, *domains[at + 1:]], states) for side in sides]
        state = states[at]
        if word == "l":
            need(self.drinks.hold(rest, state["w"], state["p"], state["s"]), "lines do not hold")
            more = [{"lines": rest}]
        elif word == "h":
            more = [{"heat": True}, {"heat": False}]
        else:
            need(state[word][0] <= k <= state[word][1], "there is nothing to branch on")
            more = [{word: (state[word][0], k)}, {word: (k, state[word][1])}]
        for new in (more := [state | one for one in more]):
            if word in "lh" and new["lines"]:
                new["bounds"] = self.drinks.bounds(self.parts[at] | self.things, new["lines"], new["heat"])
        return [(domains, [*states[:at], new, *states[at + 1:]]) for new in more]

    def walk(self, lines):
        """Counts the leaves of the tree, all of which are closed."""
        plain = {thing: (form, form) for thing, form in self.things.items()}
        state = dict(w=(0, 1), p=(0, 1), s=(0, 1), heat=None, lines=None, bounds=plain)
        waiting, leaves = [([(not c.must, c.steps) for c in self.columns], [state] * len(self.parts))], 0
        while waiting:
            node, line = waiting.pop(), next(lines)
            need(LINES.fullmatch(line), "this is no line of a tree")
            if line[0] in "fx":
                need(self.closed(*node, *read(line)), "a leaf is not closed")
                leaves += 1
            else:
                waiting += reversed(self.child(*node, *read(line)))
        need(next(lines) == "end", "a part is over, and more follows")
        return leaves


def check(proof):
    """The brief that a proof is of, by its number, its parts, and how many leaves were closed in them."""
    lines = iter(proof.splitlines())
    need(next(lines) == "washline proof 1", "this is no proof of this version")
    of, parts, leaves = next(lines), [], 0
    for _ in range(int(next(lines).removeprefix("parts "))):
        parts.append(Part(lines))
        leaves += parts[-1].walk(lines)
    need(next(lines, None) is None, "more follows after the last part")
    return of, parts, leaves
