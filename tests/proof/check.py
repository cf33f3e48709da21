"""A second checker of proofs, in fractions: its own reader of proofs and of plain briefs, its own physics and rows.

    python tests/proof/check.py PROOF BRIEF [HOUSE]        the form of a proof: tests/proof/README.md

Figures of ingredients are taken as the proof has them, and those that stand in the brief or the larder as plain numbers are
worked out anew. Exit status 0: every leaf is closed; 1: not.
"""
import pathlib
import re
import sys
import tomllib
from fractions import Fraction as F
from math import comb, floor

# OIML R 22 (1975) at 20 °C, kg/m³ by powers of the mass fraction; Bubník et al., Sugar Technologists Manual (1995), p. 164.
OIML = [998.2012300, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234, 747017.2998,
        -547846.1354, 223446.0334, -39032.85426]
SUGAR = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890]
WATER, PURE, CITRIC, LOOSE = F(0.99820123), F(0.7892391233), F(0.597), F(4, 10**9)
SPIRIT = [F(a) / 1000 for a in OIML]
SYRUP = [WATER] + [F(a) / 1000 for a in SUGAR]
MELTS = {"shake": (-1.567, 1.742, 0.203), "stir": (-1.21, 1.246, 0.145), "none": (0, 0, 0)}
FUSION, ICE = F(333.55), F(0.9167)
CAPACITY = [F(4.196), F(2.34032), F(-10.03414), F(8.60461), F(-2.77119)]
MIXING = [F(1), F(-0.341515), F(-2.24876), F(1.891489)]


def num(word):
    return F(float(word))


def poly(c, x):
    total = F(0)
    for a in reversed(c):
        total = total * x + a
    return total


def times(a, b):
    out = [F(0)] * (len(a) + len(b) - 1)
    for i, x in enumerate(a):
        for j, y in enumerate(b):
            out[i + j] += x * y
    return out


def plus(*all_of):
    return [sum((c[i] for c in all_of if i < len(c)), F(0)) for i in range(max(map(len, all_of)))]


def enthalpy(t):
    """J/g of ethanol and water at t °C as a polynomial: the parts warmed to 25 °C, mixed, brought to t."""
    warm = [25 * CAPACITY[0], 25 * (sum(CAPACITY) - CAPACITY[0])]
    mixed = times([F(0), F(-220.5), F(220.5)], MIXING)
    return plus(warm, mixed, [(t - 25) * c for c in CAPACITY])


def nonnegative(c, a, b, depth=40):
    """Whether a polynomial is nowhere under nothing on [a, b]: by its coefficients in the Bernstein basis."""
    n, d = len(c) - 1, [F(0)] * len(c)
    for k, x in enumerate(c):
        for i in range(k + 1):
            d[i] += x * comb(k, i) * a ** (k - i) * (b - a) ** i
    bern = [sum(F(comb(i, k), comb(n, k)) * d[k] for k in range(i + 1)) for i in range(n + 1)]
    if min(bern) >= 0:
        return True
    if depth == 0 or bern[0] < 0 or bern[-1] < 0 or a >= b:
        return False
    m = F(float((a + b) / 2))
    return nonnegative(c, a, m, depth - 1) and nonnegative(c, m, b, depth - 1)


def band_holds(c, inverse, slope, low, high, span):
    for intercept, sign in ((low, 1), (high, -1)):
        line = times([intercept, slope], c) if inverse else [intercept, slope]
        if not nonnegative([sign * x for x in plus([F(1)] if inverse else c, [-x for x in line])], *span):
            return False
    return True


class Refused(Exception):
    pass


def need(holds, why):
    if not holds:
        raise Refused(why)


class Part:
    """The facts of a part, then its tree."""

    def __init__(self, lines):
        self.lines, self.columns, self.limits, self.groups, self.ratios = lines, [], [], [], []
        self.props, self.specs, self.ice, self.net, self.views = [], [], None, None, 1
        self.claim = next(lines).split()
        need(self.claim[0] == "claim", "a part begins with its claim")
        for line in lines:
            word, *rest = line.split(" ")
            if word == "tree":
                break
            getattr(self, "read_" + word)(rest)
        self.end = [F(0)]
        if self.ice:
            self.end = enthalpy(0)
            if self.ice[1] == "crushed":
                self.end = plus(self.end, times(CAPACITY, [F(0), F(-44)]))
            t, p = {"stir": (F(-2), F(0.22))}.get(self.ice[0], (F(-4), F(0.13)))
            h = enthalpy(t)
            value, slope = poly(h, p), poly([k * c for k, c in enumerate(h)][1:], p)
            built = self.ice[0] in ("build", "none")
            self.strained = None if built else (value + (1 - p) * slope, value - p * slope, F(1.4) * t)
        self.cutoffs()

    def read_view(self, rest): self.views += 1
    def read_melt(self, rest): self.melt = [num(w) for w in rest]
    def read_ice(self, rest): self.ice = rest
    def read_net(self, rest): self.net = num(rest[0])
    def read_property(self, rest): self.props.append(rest[0])
    def read_measures(self, rest): self.columns[-1]["measures"] = [int(w) for w in rest]
    def read_portion(self, rest): self.columns[-1]["portions"].append([num(w) for w in rest])
    def read_limit(self, rest): self.limits.append((rest[0], rest[1], num(rest[2])))
    def read_group(self, rest): self.groups.append((int(rest[0]), int(rest[1]), [int(w) for w in rest[2:]]))
    def read_aim(self, rest): self.aim = rest
    def read_spec(self, rest): self.specs.append({int(w.split(":")[0]): int(w.split(":")[1]) for w in rest})

    def read_column(self, rest):
        self.columns.append(dict(unit=num(rest[0]), least=int(rest[1]), most=int(rest[2]), must=rest[3] == "must",
                                 name=" ".join(rest[4:]), portions=[], measures=None))

    def read_costs(self, rest):
        self.columns[-1]["cost"], *self.columns[-1]["carried"] = [num(w) for w in rest]

    def read_ratio(self, rest):
        self.ratios.append((rest[0], num(rest[1]), *[None if w == "-" else int(w) for w in rest[2:]]))

    def read_answer(self, rest):
        self.wanted, self.within = int(rest[0]) + 1, None if rest[1] == "-" else num(rest[1]) / 100
        self.matters = lambda score: num(rest[3]) if rest[2] == "by" else num(rest[3]) * abs(score)

    def figure(self, measure, c, view):
        """What one ml or g brings to a measure, and over what."""
        e, w, s, a, *_ = p = c["portions"][view]
        plain = {"strength": (100 * e / PURE, "v"), "sugar": (1000 * p[7], "v"), "sweetness": (1000 * p[8], "v"),
                 "acid": (1000 * a, "v"), "sugar_acid": (p[7], "a"), "energy": (p[9], None), "ethanol": (e, None),
                 "cost": (c["cost"], None), "pour_cost": (100 * c["cost"] / self.net if self.net else None, None)}
        if measure in plain:
            return plain[measure]
        at = int(measure[len("property"):])
        return (1000 * c["carried"][at], "v") if self.props[at] == "litre" else (c["carried"][at], None)

    # ---- one spec, measured

    def share(self, x):
        a, b, c = self.melt
        return (a * x + b) * x + c if not a or x <= -b / (2 * a) else c - b * b / (4 * a)

    def brought(self, p):
        if self.strained and p[11]:
            return self.strained[0] * p[0] + self.strained[1] * p[1] + self.strained[2] * (p[2] + p[3])
        return p[10]

    def glasses(self, steps, view):
        """The glass, with a little less and a little more melt where its ice makes that a root."""
        poured = [(c["unit"] * n, c) for c, n in zip(self.columns, steps) if n]
        total = lambda f: sum((x * f(c["portions"][view]) for x, c in poured), F(0))
        e, w, s, a, excess, worked = [total(lambda p, k=k: p[k]) for k in range(6)]
        spirit = total(lambda p: p[5] * p[6])
        melt = self.share(spirit / worked if worked else F(0)) * worked
        w += melt * WATER
        iced = [F(0)]
        if self.ice:
            q = total(self.brought) + (self.strained[1] if self.strained else 0) * melt * WATER
            left = lambda m: FUSION * m + (e + w + m) * poly(self.end, e / (e + w + m) if e + w + m else F(0)) - q
            if left(F(0)) < 0:
                low, high = F(0), 2 * (e + w) + 1
                for _ in range(45):
                    m = F(float((low + high) / 2))
                    low, high = (m, high) if left(m) < 0 else (low, m)
                iced = [low, high]
        out = []
        for m in iced:
            wet, i = w + m, m / WATER
            volume = CITRIC * a - wet / WATER + excess
            volume += (e + wet) / poly(SPIRIT, e / (e + wet)) if e + wet else 0
            volume += (s + wet) / poly(SYRUP, s / (s + wet)) if s + wet else 0
            out.append(dict(volume=volume, melt=melt + i, level=volume - i * WATER / ICE, a=a, v=volume, poured=poured))
        return out

    def value(self, glass, measure, view):
        if measure in glass:
            return glass[measure]
        parts = [(x, *self.figure(measure, c, view)) for x, c in glass["poured"]]
        over = parts[0][2] if parts else None
        total = sum((x * f for x, f, _ in parts), F(0))
        return None if over and glass[over] <= 0 else total / (glass[over] if over else 1)

    def breaks(self, steps, limit, view):
        measure, side, at = limit
        at = at - LOOSE * abs(at) if side == "min" else at + LOOSE * abs(at)
        values = [self.value(g, measure, view) for g in self.glasses(steps, view)]
        return all(v is not None and (v < at if side == "min" else v > at) for v in values)

    def score(self, steps):
        kind, *rest = self.aim
        amount = lambda c: self.columns[c]["unit"] * steps[c]
        glasses = self.glasses(steps, 0)
        if kind in ("low", "high"):
            sign = 1 if kind == "low" else -1
            return min(sign * self.value(g, rest[0], 0) for g in glasses)
        if kind == "amount":
            return num(rest[1]) * amount(int(rest[0])) if rest[0] != "-" else F(0)
        if kind == "change":
            return num(rest[0]) + sum(abs(amount(c) - num(w)) for c, w in enumerate(rest[1:]))
        if kind == "notes":
            return F(-sum(any(steps[int(c)] for c in w.split(",")) for w in rest))
        offs = [abs(self.value(g, m, 0) - num(mid)) / num(half) for g in glasses for m, mid, half in zip(*[iter(rest)] * 3)]
        return max(offs, default=F(0))

    def cutoffs(self):
        self.sets, self.others = {}, None
        under = lambda score: score - self.matters(score) - LOOSE * abs(score) - F(1, 10**12)
        scores = []
        for spec in self.specs:
            steps = [spec.get(c, 0) for c in range(len(self.columns))]
            used = lambda members: sum(steps[c] > 0 for c in members)
            fits = lambda c, n: not c["must"] if n == 0 else c["least"] <= n <= c["most"] and n in (c["measures"] or [n])
            need(all(fits(c, n) for c, n in zip(self.columns, steps)), "a spec cannot be poured")
            need(all(a <= used(m) <= b for a, b, m in self.groups), "a spec breaks a count")
            for side, at, of, to in self.ratios:
                x, y = [self.columns[c]["unit"] * steps[c] if c is not None else F(0) for c in (of, to)]
                need(x >= at * (1 - LOOSE) * y if side == "min" else x <= at * (1 + LOOSE) * y, "a spec breaks a ratio")
            need(not any(self.breaks(steps, l, v) for l in self.limits for v in range(self.views)), "a spec breaks a limit")
            scores.append(self.score(steps))
            key = frozenset(c for c, n in enumerate(steps) if n)
            need(key not in self.sets, "two specs of one set")
            self.sets[key] = under(scores[-1])
        if self.claim[1] == "nothing":
            need(not self.specs, "specs of nothing")
        elif self.claim[1] == "best":
            need(len(self.specs) == 1, "one spec is the best")
            self.others, self.sets = self.sets.popitem()[1], {}
        else:
            need(self.claim[1] == "sets" and self.specs, "an unknown claim")
            if len(self.sets) >= self.wanted:
                self.others = max(self.sets.values())
            elif self.within is not None:
                best = min(scores) - self.matters(min(scores))
                self.others = under(best + self.within * abs(best))

    # ---- the tree

    def bounds(self, state, c, view):
        """Of one ml or g: volume, melt, level, water, sign of the heat; each at least and at most."""
        e, w, s, a, excess, worked, strength, *_ = p = c["portions"][view]
        low, lean, high, tilt, k, v0, v1, j, u0, u1, *end = state["l"]
        first = [worked * (low + lean * strength), worked * (high + tilt * strength)]
        sign = [F(0), F(0)]
        if self.ice:
            water = self.strained[1] if self.strained else F(0)
            for at, (f, near) in enumerate(((end[2], first), (end[1], first[::-1]))):
                rest = self.brought(p) - f * (e + w) - end[0] * e
                sign[at] = (rest + (water - f) * near[0 if water >= f else 1] * WATER) / (FUSION + f) / WATER
        iced = {True: sign, False: [F(0)] * 2, None: [F(0), max(sign[1], F(0))]}[state["h"]]

        def volume(band, melt):
            wet = w + melt * WATER
            return band[0] * (e + wet) + k * e + band[1] * (s + wet) + j * s - wet / WATER + CITRIC * a + excess
        least, most = first[0] + iced[0], first[1] + iced[1]
        level = [volume(b, m + i) - i * WATER / ICE for b, m, i in (((v0, u0), first[0], iced[1]), ((v1, u1), first[1], iced[0]))]
        return dict(volume=[volume((v0, u0), least), volume((v1, u1), most)], melt=[least, most], level=level, sign=sign,
                    water=[w + least * WATER, w + most * WATER])

    def lines_hold(self, state, values):
        """Whether lines hold over the ranges of a state."""
        low, lean, high, tilt, k, v0, v1, j, u0, u1, *end = values
        (x, y), (a, b, c) = state["w"], self.melt
        under = all(self.share(t) - low - lean * t >= 0 for t in (x, y))
        tops = [x, y] + ([t for t in [(tilt - b) / (2 * a)] if x <= t <= y and tilt >= 0] if a else [])
        over = all(self.share(t) - high - tilt * t <= 0 for t in tops)
        ends = not end if not self.ice else FUSION + min(end[1:]) > 1 and band_holds(self.end, False, *end, state["p"])
        return (under and over and ends and min(v0, v1) + min(u0, u1) >= 1 / WATER and band_holds(SPIRIT, True, k, v0, v1, state["p"])
                and band_holds(SYRUP, True, j, u0, u1, state["s"]))

    def limit_row(self, state, measure, side, at, view=0):
        """Figures a step, and a constant: nowhere under nothing where a measure keeps a limit."""
        lean, turn, row = (side == "min") != (at >= 0), 1 if side == "min" else -1, []
        for c, b in zip(self.columns, state["b"]):
            pair, over = (b[measure], None) if measure in b else ([self.figure(measure, c, view)[0]] * 2, self.figure(measure, c, view)[1])
            by = b["volume"][lean] if over == "v" else c["portions"][view][3] if over == "a" else 0
            row.append(turn * (pair[side == "min"] - at * by) * c["unit"])
        return row, {}, F(0) if over else -turn * at

    def row(self, node, name):
        """Figures a step, a used column or a note, and the constant, of a row by its name."""
        kind, rest = name[0], name[1:]
        none = [F(0)] * len(self.columns)
        if kind == "l":
            at, view = (rest + ".0").split(".")[:2]
            measure, side, value = self.limits[int(at)]
            value += LOOSE * abs(value) * (-1 if side == "min" else 1)
            return self.limit_row(node.states[int(view)], measure, side, value, int(view))
        if kind == "c":
            return self.cut_row(node, int(rest), none)
        if kind == "g":
            least, most, members = self.groups[int(rest[:-1])]
            sign, many = (1, least) if rest[-1] == "-" else (-1, most)
            return none, {c: sign for c in members}, F(-sign * many)
        if kind == "r":
            side, at, of, to = self.ratios[int(rest)]
            sign, at = (1, at * (1 - LOOSE)) if side == "min" else (-1, at * (1 + LOOSE))
            return [sign * ((c == of) - (c == to) * at) * x["unit"] for c, x in enumerate(self.columns)], {}, F(0)
        if kind == "n":
            note = int(rest)
            return none, {**{int(c): 1 for c in self.aim[1 + note].split(",")}, ("n", note): -1}, F(0)
        view = int(rest.rstrip("-+"))
        state = node.states[view]
        if kind == "h":
            return [c["unit"] * (b["sign"][1] if state["h"] else -b["sign"][0]) for c, b in zip(self.columns, state["b"])], {}, F(0)
        row, (x, y), up = [], state[kind], rest[-1] == "+"
        for c, b in zip(self.columns, state["b"]):
            p = c["portions"][view]
            part = {"w": p[5] * p[6], "p": p[0], "s": p[2]}[kind]
            whole = p[5] if kind == "w" else part + b["water"][up]
            row.append((y * whole - part if up else part - x * whole) * c["unit"])
        return row, {}, F(0)

    def cut_row(self, node, number, none):
        kind, *rest = self.aim
        cut = self.cutoff(node)
        need(cut is not None, "there is no cutoff here")
        if kind in ("low", "high"):
            return self.limit_row(node.states[0], rest[0], "max" if kind == "low" else "min", cut if kind == "low" else -cut)
        if kind == "amount":
            return [-num(rest[1]) * x["unit"] if str(c) == rest[0] else F(0) for c, x in enumerate(self.columns)], {}, cut
        if kind == "change":
            return none, {"bent": 1}, cut - num(rest[0])
        if kind == "notes":
            return none, {("n", at): 1 for at in range(len(rest))}, F(-(floor(-cut) + 1))
        measure, middle, half = rest[3 * (number // 2):][:3]
        side, sign = [("min", -1), ("max", 1)][number % 2]
        return self.limit_row(node.states[0], measure, side, num(middle) + sign * cut * num(half))

    def cutoff(self, node):
        if any(none and lo <= hi for none, lo, hi in node.domains):
            return self.others
        return self.sets.get(frozenset(c for c, d in enumerate(node.domains) if not d[0]), self.others)

    def greatest(self, node, terms):
        """The most that a sum of rows can be for what is left at a node."""
        step, extra, most = [F(0)] * len(self.columns), {}, F(0)
        for many, name in terms:
            row, more, constant = self.row(node, name)
            step = [a + many * b for a, b in zip(step, row)]
            for key, figure in more.items():
                extra[key] = extra.get(key, 0) + many * figure
            most += many * constant
        most += sum(max(f, 0) for key, f in extra.items() if isinstance(key, tuple))
        for c, (none, lo, hi) in enumerate(node.domains):
            at = [0] * none + ([lo, hi] if lo <= hi else [])
            bent, mid = extra.get("bent", 0), F(0)
            if bent:
                mid = num(self.aim[2 + c])
                at += [n for n in (floor(mid / self.columns[c]["unit"]) + k for k in (0, 1)) if lo <= n <= hi]
            away = lambda n: bent * abs(n * self.columns[c]["unit"] - mid)
            most += max(step[c] * n + (extra.get(c, 0) if n else 0) - away(n) for n in at)
        return most

    def walk(self):
        waiting, leaves = [Node(self)], 0
        while waiting:
            node, (word, *rest) = waiting.pop(), next(self.lines).split(" ")
            if word == "f":
                terms = [(int(n.split("e")[0]) * 10 ** int((n + "e0").split("e")[1]), name) for n, name in zip(rest[::2], rest[1::2])]
                need(all(many >= 0 for many, _ in terms), "a multiplier under nothing")
                need(any(not n and lo > hi for n, lo, hi in node.domains) or self.greatest(node, terms) < 0, "a leaf is not closed")
            elif word == "x":
                steps = [lo if lo <= hi else 0 for _, lo, hi in node.domains]
                need(all(n != (lo <= hi) and (n or lo == hi) for n, lo, hi in node.domains), "more than one spec is left")
                view = int(rest[1]) if len(rest) > 1 else 0
                closed = self.score(steps) >= self.cutoff(node) if rest == ["c"] else self.breaks(steps, self.limits[int(rest[0])], view)
                need(closed, "a spec is left")
            elif word == "l":
                waiting.append(node.stated(self, int(rest[0]), [num(w) for w in rest[1:]]))
            else:
                waiting += [node.child(self, word, rest, True), node.child(self, word, rest, False)]
            leaves += word in "fx"
        need(next(self.lines) == "end", "a part is over, and more follows")
        return leaves


class Node:
    """What is left: of every column whether it may be out and between which steps it is; of every view the ranges."""

    def __init__(self, part=None):
        if part:
            self.domains = [(not c["must"], c["least"], c["most"]) for c in part.columns]
            span = (F(0), F(1))
            self.states = [dict(w=span, p=span, s=span, h=None, l=None, b=None) for _ in range(part.views)]

    def copy(self):
        node = Node()
        node.domains, node.states = self.domains[:], [dict(state) for state in self.states]
        return node

    def child(self, part, word, rest, upper):
        node = self.copy()
        if word == "a":
            c, k = int(rest[0]), int(rest[1])
            none, lo, hi = node.domains[c]
            sums = part.columns[c]["measures"]
            above = k + 1 if sums is None else min([n for n in sums if n > k], default=hi + 1)
            below = k if sums is None else max([n for n in sums if n <= k], default=0)
            node.domains[c] = (none and k < 0, max(lo, above), hi) if upper else (none and k >= 0, lo, min(hi, below))
            return node
        state = node.states[int(rest[0])]
        if word == "h":
            state["h"] = not upper
            return node.stated(part, int(rest[0]), None) if state["l"] else node
        need(word in "wps", "this is no line of a tree")
        (x, y), at = state[word], num(rest[1])
        need(x <= at <= y, "there is nothing to branch on")
        state[word] = (at, y) if upper else (x, at)
        return node

    def stated(self, part, view, values):
        node = self.copy()
        state = node.states[view]
        if values:
            need(part.lines_hold(state, values), "lines do not hold")
            state["l"] = values
        state["b"] = [part.bounds(state, c, view) for c in part.columns]
        return node


def check(proof, brief):
    lines = iter(proof.splitlines())
    need(next(lines) == "washline proof 1", "this is no proof of this version")
    next(lines)
    parts, leaves = int(next(lines).split(" ")[1]), 0
    for _ in range(parts):
        part = Part(lines)
        leaves += part.walk()
    need(next(lines, None) is None, "more follows after the last part")
    return leaves


if __name__ == "__main__":
    proof, brief = (pathlib.Path(path).read_text() for path in sys.argv[1:3])
    try:
        print(f"{sys.argv[1]}: holds, {check(proof, brief)} leaves")
    except (Refused, ValueError, KeyError, IndexError, TypeError, AttributeError, StopIteration) as why:
        sys.exit(f"{sys.argv[1]}: refused: {why!r}")
