"""A second physics, in fractions: straight lines around what is not straight, and one drink alone."""
from fractions import Fraction as F
from itertools import zip_longest
from math import comb

# OIML R 22 (1975) at 20 °C by powers of the mass fraction; Bubník et al., Sugar Technologists Manual (1995),
# p. 164, likewise.
SPIRIT = [F(a) / 1000 for a in (
    998.2012300, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234,
    747017.2998, -547846.1354, 223446.0334, -39032.85426)]
WATER, PURE, CITRIC, ICE, FUSION = map(F, (0.99820123, 0.7892391233, 0.597, 0.9167, 333.55))
SYRUP = [WATER] + [F(a) / 1000 for a in (385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890)]
CAPACITY = [F(a) for a in (4.196, 2.34032, -10.03414, 8.60461, -2.77119)]
MIXING = [F(a) * F(-220.5) for a in (0, 1, -0.341515, -2.24876, 1.891489)]


class Form(dict):
    """A sum of figures, by what they are of."""

    def __add__(self, other):
        return Form({key: self.get(key, 0) + other.get(key, 0) for key in self | other})

    def __mul__(self, many):
        return Form({key: figure * many for key, figure in self.items()})


def poly(c, x):
    return sum((a * x**k for k, a in enumerate(c)), F(0))


def plus(*all_of):
    return [sum(same) for same in zip_longest(*all_of, fillvalue=F(0))]


def lined(c, a, b):
    """A polynomial times a + b x."""
    return plus([a * k for k in c], [F(0)] + [b * k for k in c])


def nonnegative(c, a, b, depth=40):
    """Whether a polynomial is nowhere under nothing on [a, b]: by its coefficients in the Bernstein basis."""
    ups = range(len(c))
    d = [(b - a)**i * sum(comb(k, i) * a**(k - i) * c[k] for k in ups[i:]) for i in ups]
    bern = [sum(F(comb(i, k), comb(len(c) - 1, k)) * d[k] for k in ups[:i + 1]) for i in ups]
    if min(bern) >= 0 or depth == 0 or bern[0] < 0 or bern[-1] < 0 or a >= b:
        return min(bern) >= 0
    middle = F(float((a + b) / 2))
    return nonnegative(c, a, middle, depth - 1) and nonnegative(c, middle, b, depth - 1)


def band_holds(top, bottom, slope, low, high, span):
    """Whether top / bottom lies between the lines low + slope x and high + slope x over a span."""
    return (nonnegative(plus(top, lined(bottom, -low, -slope)), *span)
            and nonnegative(plus(lined(bottom, high, slope), [-a for a in top]), *span))


def enthalpy(t):
    """J/g of ethanol and water at t °C as a polynomial: the parts warmed to 25 °C, mixed, brought to t."""
    warm = [25 * CAPACITY[0], 25 * sum(CAPACITY[1:])]
    return plus(warm, lined(MIXING, 1, -1), [(t - 25) * c for c in CAPACITY])


def volume(p, wet, spirit, syrup, k=0, j=0):
    """Ml of ethanol and of sweet solids in the same water, with acid and what is beyond all that."""
    solutions = (p["ethanol"] + wet) * spirit + p["ethanol"] * k + (p["sweet"] + wet) * syrup + p["sweet"] * j
    return solutions + wet * (-1 / WATER) + p["acid"] * CITRIC + p["excess"]


class Drinks:
    """Drinks by a rule of melt, and on ice."""

    def __init__(self, rule, method=None, ice=None):
        self.rule, self.ice, self.strained = rule, ice, None
        # At the first sip all is at 0 °C, on crushed ice at its freezing point.
        self.final = plus(enthalpy(0), lined(CAPACITY, 0, F(-44 * (ice == "crushed"))))
        if ice and method not in ("build", "none"):
            # Where other ice was strained off: a line under the enthalpy there.
            t, p = (F(-2), F(0.22)) if method == "stir" else (F(-4), F(0.13))
            value, slope = poly(enthalpy(t), p), poly([k * c for k, c in enumerate(enthalpy(t))][1:], p)
            self.strained = value + (1 - p) * slope, value - p * slope, F(1.4) * t
        self.cold = self.strained[1] if self.strained else F(0)

    def share(self, x):
        """Ml of melt by the working ice, of one ml on it of strength x."""
        a, b, c = self.rule
        return (a * x + b) * x + c if not a or x <= -b / (2 * a) else c - b * b / (4 * a)

    def brought(self, p):
        """The enthalpy of a portion."""
        parts = p["ethanol"], p["water"], p["sweet"] + p["acid"]
        return sum(f * x for f, x in zip(self.strained, parts)) if self.strained and p["made"] else p["heat"]

    def hold(self, lines, w, p, s):
        """Whether lines hold over ranges of strength and mass fractions."""
        low, lean, high, tilt, k, v0, v1, j, u0, u1, *end = lines
        a, b, _ = self.rule
        turn = [(tilt - b) / (2 * a)] if a and tilt >= 0 else []
        wet = [(v + u) * WATER - 1 for v, u in ((v0, u0), (v1, u1))]
        return (a <= 0 and all(self.share(x) >= low + lean * x for x in w)
                and all(self.share(x) <= high + tilt * x for x in [*w, *turn] if w[0] <= x <= w[1])
                and min(wet) >= 0 and max(wet) <= WATER / ICE and bool(end) == bool(self.ice)
                and band_holds([F(1)], SPIRIT, k, v0, v1, p) and band_holds([F(1)], SYRUP, j, u0, u1, s)
                and (not end or FUSION + min(end[1:]) > 1 and band_holds(self.final, [F(1)], *end, p)))

    def bounds(self, p, lines, heat):
        """What lines make of the parts of a drink (figures, or forms of what it may be): least and most."""
        low, lean, high, tilt, k, v0, v1, j, u0, u1, *end = lines
        e, w, sign, iced = p["ethanol"], p["water"], [p["water"] * 0] * 2, [p["water"] * 0] * 2
        first = [p["worked"] * low + p["alcohol"] * lean, p["worked"] * high + p["alcohol"] * tilt]
        for at, f in enumerate(end[:0:-1]):
            # Of the melt by the working ice, what moves the line outwards.
            melt = first[at != (self.cold < f)] * WATER
            spare = p["brought"] + melt * self.cold + (e + w + melt) * -f + e * -end[0]
            sign[at] = spare * (1 / (FUSION + f) / WATER)
        if end and heat is not False:
            iced = sign if heat else [iced[0], Form({key: max(figure, 0) for key, figure in sign[1].items()})]
        melt = [m + i for m, i in zip(first, iced)]
        wet = [w + m * WATER for m in melt]
        # Melt takes up less than its ice did: the most of it is the lowest level.
        level = [volume(p, w + (m + i) * WATER, v, u, k, j) + i * (-WATER / ICE)
                 for m, i, v, u in ((first[0], iced[1], v0, u0), (first[1], iced[0], v1, u1))]
        return {thing: (x, x) for thing, x in p.items()} | dict(
            volume=[volume(p, wet[0], v0, u0, k, j), volume(p, wet[1], v1, u1, k, j)], level=level, melt=melt,
            sign=sign, spirit=[e + x for x in wet], syrup=[p["sweet"] + x for x in wet])

    def glasses(self, p):
        """One drink, under lines that meet there: with a little less of its ice melted, and a little more."""
        e, share = p["ethanol"], self.share(p["worked"] and p["alcohol"] / p["worked"])
        melt = share * p["worked"] * WATER
        mass, brought = e + p["water"] + melt, p["brought"] + self.cold * melt
        left = lambda m: FUSION * m + (mass + m) * poly(self.final, e and e / (mass + m)) - brought
        melts = bool(self.ice) and left(F(0)) < 0
        roots = [F(0), 2 * mass + 1] if melts else [F(0)]
        for _ in range(45 * melts):
            middle = F(float(sum(roots) / 2))
            roots[left(middle) >= 0] = middle
        for m in roots:
            wet = mass - e + m
            spirit, syrup = [1 / poly(c, x and x / (x + wet)) for c, x in ((SPIRIT, e), (SYRUP, p["sweet"]))]
            end = [0] + [(brought - FUSION * m) / (mass + m) if mass else F(0)] * 2
            lines = [share, 0, share, 0, 0, spirit, spirit, 0, syrup, syrup] + end * bool(self.ice)
            yield self.bounds(p, lines, melts)
