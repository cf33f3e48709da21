"""Seeded briefs of any number of candidates, drawn from the larder.

What stands on a shelf is drawn from the larder's liquid entries, each as likely as any other; its
strength, sugar and acid from the triangle over the entry's natural range whose peak is its typical
figure. The first five are what a sour needs (spirit, citrus, syrup, liqueur, infusion): that sour, its
amounts drawn as well, is the brief's reference, and volume, strength, sugar and acid are held to what it
measures, so that every brief can be met. Eight limits, 2.5 ml steps, nothing used under 5 ml, at most six
ingredients, as cheap as possible, six alternatives.

Prices are invented (a range a group). The same size and seed give the same bytes with any Python from
3.11 on: nothing but `random.Random.random` is asked, whose sequence is kept.

    python3 benches/peers/shelves.py FOLDER [--sizes 15,30] [--count 20] [--first 0]
"""

import argparse
import pathlib
import random
import tomllib

LARDER = pathlib.Path(__file__).resolve().parents[2] / "src" / "larder" / "larder.toml"

# Invented: what 700 ml of each group may cost, in hundredths. Groups that are not named here (powders,
# water and the like) do not stand on the shelf.
CENTS = {
    "spirit": (1200, 4200),
    "wine": (800, 2200),
    "liqueur": (1400, 3600),
    "bitters": (4000, 9000),
    "beer": (200, 600),
    "citrus": (300, 900),
    "juice": (150, 700),
    "vinegar": (250, 1500),
    "syrup": (150, 1100),
    "dairy": (150, 900),
    "infusion": (40, 300),
    "soda": (100, 400),
}
# What a sour is made of: group, fewest and most steps of 2.5 ml.
SOUR = [("spirit", 14, 24), ("citrus", 6, 12), ("syrup", 3, 6), ("liqueur", 2, 5), ("infusion", 2, 12)]
# The drawn drink's base is no neutral alcohol, as far as typical figures say.
STRONGEST = 60
# Left out by name: the briefs are of drinks without coffee.
WITHOUT = ("coffee", "espresso", "cold brew")
HELD = "volume = 8\nstrength = 0.6\nsugar = 6\nacid = 0.5\n"


def entries():
    """The larder's liquids by group."""
    shelf = {}
    for entry in tomllib.loads(LARDER.read_text())["entry"]:
        poured = entry["group"] in CENTS and entry.get("form", "liquid") == "liquid"
        if poured and not any(word in entry["name"] for word in WITHOUT):
            shelf.setdefault(entry["group"], []).append(entry)
    return shelf


def between(draw, low, high):
    """A whole number from low to high, both included."""
    return low + int(draw() * (high - low + 1))


def triangle(draw, figure):
    """A composition: the typical figure is the likeliest, the ends of the range are not passed."""
    typical = figure["typical"]
    low, high = figure.get("min", typical), figure.get("max", typical)
    if high <= low:
        return typical
    part, peak = draw(), (typical - low) / (high - low)
    if part < peak:
        return low + (part * (high - low) * (typical - low)) ** 0.5
    return high - ((1 - part) * (high - low) * (high - typical)) ** 0.5


def candidate(draw, entry, at):
    """An ingredient of a shelf, as a brief writes it."""
    low, high = CENTS[entry["group"]]
    cents = between(draw, low, high)
    lines = ["[[candidate]]", f'name = "{entry["name"]} {at}"', f'role = "{entry["role"]}"']
    for key in ("strength", "sugar", "acid"):
        if key in entry:
            lines.append(f"{key} = {triangle(draw, entry[key]):.1f}")
    lines.append(f'price = "{cents // 100}.{cents % 100:02} per 700 ml"')
    if entry["group"] == "bitters":
        lines.append('max = "5 ml"')
    return "\n".join(lines) + "\n"


def brief(count, seed):
    """The text of the brief of so many candidates."""
    draw = random.Random(f"{count} candidates, {seed}").random
    shelf = entries()
    everything = [entry for group in shelf.values() for entry in group]
    sour = []
    for group, _, _ in SOUR:
        fit = [entry for entry in shelf[group] if entry.get("strength", {"typical": 0})["typical"] <= STRONGEST]
        sour.append(fit[between(draw, 0, len(fit) - 1)])
    rest = [everything[between(draw, 0, len(everything) - 1)] for _ in range(count - len(sour))]
    candidates = [candidate(draw, entry, at) for at, entry in enumerate(sour + rest)]
    pours = [
        f'"{entry["name"]} {at}" = "{2.5 * between(draw, low, high)} ml"\n'
        for at, (entry, (_, low, high)) in enumerate(zip(sour, SOUR))
    ]
    return (
        f'title = "A shelf of {count}, seed {seed}"\ncurrency = "GBP"\n'
        '[serve]\nmethod = "shake"\npour = "2.5 ml"\nsmallest = "5 ml"\nmost = 6\n'
        '[aim]\nlowest = "cost"\n[answer]\nalternatives = 6\n'
        + "".join(candidates) + "[reference]\n" + "".join(pours) + "[hold]\n" + HELD
    )


def written(folder, sizes, count, first=0):
    """Writes `count` briefs of every size; gives their paths by size."""
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    paths = {}
    for size in sizes:
        paths[size] = [folder / f"{size}-{seed}.toml" for seed in range(first, first + count)]
        for seed, path in enumerate(paths[size], first):
            path.write_text(brief(size, seed))
    return paths


def sizes(text):
    """A list of numbers as the command line gives it."""
    return [int(word) for word in text.split(",")]


def main():
    parser = argparse.ArgumentParser(description="Writes seeded briefs.")
    parser.add_argument("folder")
    parser.add_argument("--sizes", type=sizes, default=[30])
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--first", type=int, default=0)
    given = parser.parse_args()
    written(given.folder, given.sizes, given.count, given.first)


if __name__ == "__main__":
    main()
