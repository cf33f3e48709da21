"""A second checker of proofs, in fractions: its own reader of proofs and of plain briefs, its own physics and rows.

    python tests/proof/check.py PROOF BRIEF [HOUSE]        the form of a proof: tests/proof/README.md

What a proof says of its brief is held against the brief as far as that is written plainly (`plain.py`); the rest, as what
becomes of a preparation, is taken as it says. Exit status 0: every leaf is closed; 1: not.
"""
import pathlib
import re
import sys
from fractions import Fraction as F
from math import floor

from facts import CITRIC, FUSION, ICE, LOOSE, SPIRIT, SYRUP, WATER, Part, Refused, band_holds, need, num
from plain import compare


NAMES = re.compile(r"l\d+(\.\d+)?|[crnh]\d+|[gwps]\d+[-+]")
LINES = re.compile(r"a \d+ -?\d+|[wps] \d+ [-\d.]+|h \d+|l \d+( [-\d.]+){10}(( [-\d.]+){3})?|"
                   r"f( \d+(e\d+)? \S+)*|x (c|\d+( \d+)?)")


class Tree(Part):
    """A part of a proof with its rows and its tree."""

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
        wet = [(v + u) * WATER - 1 for v, u in ((v0, u0), (v1, u1))]
        return (under and over and ends and min(wet) >= 0 and max(wet) <= WATER / ICE and band_holds(SPIRIT, True, k, v0, v1, state["p"])
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
        need(NAMES.fullmatch(name), "there is no such row")
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
        need(cut is not None and (kind == "middle" or number == 0), "there is no such cutoff")
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
            node, line = waiting.pop(), next(self.lines)
            need(LINES.fullmatch(line), "this is no line of a tree")
            word, *rest = line.split(" ")
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


def check(proof, brief, house=None):
    """How many leaves were closed, and how many figures were held against the brief."""
    lines = iter(proof.splitlines())
    need(next(lines) == "washline proof 1", "this is no proof of this version")
    hashed = 0xCBF29CE484222325
    for byte in b"".join(text.encode() + b"\0" for text in [brief] + [house] * (house is not None)):
        hashed = (hashed ^ byte) * 0x100000001B3 % 2**64
    need(next(lines) == f"brief {hashed:016x}", "it is the proof of another brief")
    parts, leaves, compared = int(next(lines).split(" ")[1]), 0, 0
    for _ in range(parts):
        part = Tree(lines)
        compared += compare(part, brief, house)
        leaves += part.walk()
    need(next(lines, None) is None, "more follows after the last part")
    return leaves, compared


if __name__ == "__main__":
    texts = [pathlib.Path(path).read_text() for path in sys.argv[1:4]]
    try:
        print("%s: holds, %d leaves, %d figures of the brief compared" % (sys.argv[1], *check(*texts)))
    except (Refused, ValueError, KeyError, IndexError, TypeError, AttributeError, StopIteration) as why:
        sys.exit(f"{sys.argv[1]}: refused: {why!r}")
