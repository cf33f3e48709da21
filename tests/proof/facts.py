"""What a proof says of its brief, and what a spec measures: a second physics, in fractions."""
from fractions import Fraction as F
from math import comb

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

    def read_but(self, rest): pass  # Of another brief than the one that stands here: the program measures it.
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
