"""A second bar serves our specs: NumPy's random numbers, and the physics written from the published formulas alone.

    .ci/peers                                   # with everything that this needs
    python tests/peers/serves.py WASHLINE       # numpy installed
                                  [--briefs 40] [--first 0]

So many seeded briefs, each with a spec that `washline check` serves. Ingredients differ from serve to serve or from lot
to lot; pours are off by so many ml, by a share of what is poured, by both, by hand and eye, by the dash; the ice melts
more or less. Every share (of all limits, of each target, of typical lots, of good lots) is counted here once more, with
ten times as many serves. Two counts of the same probability differ by less than 4.5 standard deviations of their
difference in all but 7 of a million cases; numbers are seeded on both sides, so what passes once always passes.

A wrong bar is noticed, or the comparison proves nothing: the same serves with pours half as far off have to differ.
"""

import argparse
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

SERVES = 200_000
LOTS, EACH = 2_000, 200
DEVIATIONS = 4.5

# OIML R 22 (1975), general formula at 20 degrees C, kg/m3, powers 0 to 11 of the mass fraction.
ETHANOL = [998.2012300, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042,
           -613838.1234, 747017.2998, -547846.1354, 223446.0334, -39032.85426]
# Bubnik and others, Sugar Technologists Manual (1995) p. 164, at 20 degrees C, kg/m3, powers 1 to 6.
SUCROSE = [385.1761, 135.3705, 40.9299, -3.9643, 13.4853, -17.2890]
# Specific volume of dissolved citric acid, ml/g (CRC Handbook).
ACID = 0.597
WATER = ETHANOL[0] / 1000.0
PURE = sum(ETHANOL) / 1000.0
# Common practice, no source: what the words of `pour_error` stand for, as (ml, share).
WAYS = {"free hand": (0.0, 0.1), "dash": (0.0, 0.3)}


def volume(ethanol, water, sugar, acid):
    """ml of a mixture of so many grams."""
    p, b = ethanol / (ethanol + water), sugar / (sugar + water)
    spirit = (ethanol + water) / (np.polynomial.polynomial.polyval(p, ETHANOL) / 1000.0)
    syrup = (sugar + water) / (WATER + np.polynomial.polynomial.polyval(b, [0.0, *SUCROSE]) / 1000.0)
    return spirit + syrup - water / WATER + ACID * acid


def contents(strength, sugar, acid):
    """Grams of ethanol, water, sugar and acid in each ml of such liquids: water fills them up."""
    ethanol, sugar, acid = strength / 100.0 * PURE, sugar / 1000.0, acid / 1000.0
    water = np.full_like(ethanol, 0.7)
    for _ in range(20):
        # A gram of water fills a little over a ml, give or take what it draws together.
        water = water - (volume(ethanol, water, sugar, acid) - 1.0) * WATER
    if np.abs(volume(ethanol, water, sugar, acid) - 1.0).max() > 1e-12:
        sys.exit("no water fills a liquid up")
    return ethanol, water, sugar, acid


def melt(method, a):
    """Arnold, Liquid Intelligence (2014), pp. 123, 125 and 126: ml per ml poured by the strength before the ice."""
    if method == "none":
        return np.zeros_like(a)
    if method == "build":
        return np.full_like(a, 0.24)
    square, straight, fixed = {"shake": (-1.567, 1.742, 0.203), "stir": (-1.21, 1.246, 0.145)}[method]
    a = np.minimum(a, -straight / (2.0 * square))
    return (square * a + straight) * a + fixed


def drawn_brief(seed):
    """A brief and a spec, seeded."""
    rng = np.random.default_rng(seed)
    liquids = []
    kinds = [("spirit", 40.0, 1.0, 0.0), ("wine", 16.0, 20.0, 4.0), ("juice", 0.0, 20.0, 55.0), ("syrup", 0.0, 600.0, 0.0)]
    for name, strength, sugar, acid in kinds:
        figures = {}
        for key, typical, unsure in [("strength", strength, 0.04), ("sugar", sugar, 0.1), ("acid", acid, 0.2)]:
            spread = unsure * rng.uniform(0.3, 1.0) * typical if rng.random() < 0.6 else 0.0
            figures[key] = (round(typical, 3), round(typical - spread, 3), round(typical + 0.8 * spread, 3))
        way = rng.choice(["", "1 ml", "4 %", "0.8 ml + 3 %", "free hand"])
        amount = {"spirit": 40.0, "wine": 25.0, "juice": 20.0, "syrup": 15.0}[name]
        liquids.append({"name": name, "figures": figures, "way": str(way), "amount": amount,
                        "varies": str(rng.choice(["lot", "lot", "serve"]))})
    # Bitters by the dash.
    liquids.append({"name": "bitters", "figures": {"strength": (44.0, 44.0, 44.0), "sugar": (40.0, 40.0, 40.0),
                    "acid": (0.0, 0.0, 0.0)}, "way": "dash", "amount": 1.6, "varies": "lot"})
    return {"method": str(rng.choice(["shake", "stir", "build", "none"])), "liquids": liquids,
            "widths": rng.uniform(0.8, 2.5, 4)}


def served(brief, serves, per_lot, hand=1.0, typical=False, within=0.0, seed=0):
    """Volume, strength, sugar and acid of so many serves, `per_lot` of them from the same lots."""
    rng = np.random.default_rng(seed)
    sums, poured, alcohol = np.zeros((4, serves)), np.zeros(serves), np.zeros(serves)
    for liquid in brief["liquids"]:
        own = liquid["varies"] == "serve"
        still = (typical and not own) or all(low == high for _, low, high in liquid["figures"].values())
        count = 1 if still else serves if own else serves // per_lot
        figure = [np.full(1, now) if still else rng.uniform(low, high, count)
                  for now, low, high in liquid["figures"].values()]
        each = np.repeat(np.array([*contents(*figure), figure[0] / 100.0]), serves // count, axis=1)
        fixed, share = error(liquid["way"])
        off = hand * np.hypot(fixed, share * liquid["amount"]) * rng.standard_normal(serves)
        amount = np.maximum(liquid["amount"] + off, 0.0)
        sums += amount * each[:4]
        poured += amount
        alcohol += amount * each[4]
    ice = melt(brief["method"], alcohol / poured) + rng.uniform(-within, within, serves)
    sums[1] += np.maximum(ice, 0.0) * poured * WATER
    filled = volume(*sums)
    return np.array([filled, 100.0 * sums[0] / PURE / filled, 1000.0 * sums[2] / filled, 1000.0 * sums[3] / filled])


def error(way):
    """The standard deviation of a pour: its fixed part, ml, and its share of what is poured."""
    if way in WAYS:
        return WAYS[way]
    fixed, share = 1.0 if way == "" else 0.0, 0.0
    for part in way.split("+") if way else []:
        number, unit = part.split()
        if unit == "%":
            share = float(number) / 100.0
        else:
            fixed = float(number)
    return fixed, share


TARGETS = ["volume", "strength", "sugar", "acid"]


def limits(brief):
    """Ranges around what typically comes out, so wide that serves fall on both sides."""
    values = served(brief, 4_000, 1, within=0.05 if brief["method"] != "none" else 0.0, seed=1)
    middle, spread = values.mean(axis=1), values.std(axis=1)
    return [(round(m - w * s, 6), round(m + 1.3 * w * s, 6)) for m, s, w in zip(middle, spread, brief["widths"])]


def written(brief, ranges):
    """The brief as a file."""
    lines = ["[serve]", f'method = "{brief["method"]}"', 'pour = "free"', "[aim]", 'lowest = "volume"', "[targets]"]
    lines += [f"{key} = {{ min = {low}, max = {high} }}" for key, (low, high) in zip(TARGETS, ranges)]
    for liquid in brief["liquids"]:
        lines += ["[[candidate]]", f'name = "{liquid["name"]}"', f'varies = "{liquid["varies"]}"']
        lines += [f"{key} = {{ typical = {now}, min = {low}, max = {high} }}"
                  for key, (now, low, high) in liquid["figures"].items()]
        lines += [f'pour_error = "{liquid["way"]}"'] if liquid["way"] else []
    return "\n".join(lines) + "\n"


def asked(program, brief, ranges, folder):
    """How the spec does in service, as washline says."""
    path = pathlib.Path(folder) / "served.toml"
    path.write_text(written(brief, ranges))
    spec = ", ".join(f"{liquid['amount']} ml {liquid['name']}" for liquid in brief["liquids"])
    done = subprocess.run([program, "check", str(path), spec, "--format", "json"], stdout=subprocess.PIPE, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"washline check: exit status {done.returncode}\n{path.read_text()}")
    return json.loads(done.stdout)["service"]


def differ(a, of_a, b, of_b):
    """Whether two shares are too far apart for counts of one probability."""
    p = (a * of_a + b * of_b) / (of_a + of_b)
    return abs(a - b) > DEVIATIONS * np.sqrt(max(p * (1.0 - p), 1e-6) * (1.0 / of_a + 1.0 / of_b))


def shares(values, ranges):
    """Which serves meet each range, and which all."""
    met = np.array([(low <= row) & (row <= high) for row, (low, high) in zip(values, ranges)])
    return met, met.all(axis=0)


def faults(program, seed, folder):
    """What is counted otherwise here, and whether a steadier hand was noticed."""
    brief = drawn_brief(seed)
    ranges = limits(brief)
    service = asked(program, brief, ranges, folder)
    draws, within = service["draws"], service["melt_within"]
    wrong = []

    def compare(what, told, of_told, found, of_found):
        if differ(told, of_told, found, of_found):
            wrong.append(f"brief {seed}: {what}: washline {told}, here {found}")

    met, every = shares(served(brief, SERVES, 1, within=within, seed=seed), ranges)
    compare("within all", service["within_all"], draws, every.mean(), SERVES)
    for target, row in zip(service["targets"], met):
        compare(target["target"], target["within"], draws, row.mean(), SERVES)
    lots = service["lots"]
    if lots is not None:
        typical = shares(served(brief, SERVES, 1, typical=True, within=within, seed=seed), ranges)[1]
        compare("typical lots", lots["typical"], draws, typical.mean(), SERVES)
        each = shares(served(brief, LOTS * EACH, EACH, within=within, seed=seed), ranges)[1].reshape(LOTS, EACH)
        if lots["serves"] != EACH:
            wrong.append(f"lots of {lots['serves']} serves, here {EACH}: good lots cannot be compared")
        for good in lots["good"]:
            found = (each.mean(axis=1) >= good["level"] / 100.0).mean()
            compare(f"good lots at {good['level']}", good["share"], lots["lots"], found, LOTS)
    steadier = shares(served(brief, SERVES, 1, hand=0.5, within=within, seed=seed), ranges)[1]
    return wrong, differ(service["within_all"], draws, steadier.mean(), SERVES)


def main():
    parser = argparse.ArgumentParser(description="A second bar serves our specs.")
    parser.add_argument("washline")
    parser.add_argument("--briefs", type=int, default=40)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args()
    program = str(pathlib.Path(given.washline).resolve())
    with tempfile.TemporaryDirectory() as folder:
        found = [faults(program, given.first + at, folder) for at in range(given.briefs)]
    wrong = [fault for one, _ in found for fault in one]
    noticed = sum(noticed for _, noticed in found)
    print(f"{given.briefs} specs served by a second bar; with half its errors it is noticed in {noticed}")
    if noticed * 10 < given.briefs * 9:
        wrong.append(f"a hand half as far off was noticed in {noticed} of {given.briefs} only: little is proved")
    for fault in wrong:
        print(fault, file=sys.stderr)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
