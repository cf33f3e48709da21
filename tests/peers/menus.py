"""HiGHS finds no menu's drinks in fewer bottles.

    python tests/peers/menus.py WASHLINE [--menus 40]

Menus of four drinks are drawn by seed, each of some of ten bottles of one house, and laid around a spec, so that most
can be made. `washline menu --shelf fewest` has to prove how many bottles it takes; HiGHS solves the joint program that
`menu --as mps` writes, every drink's own program over the same bottles, and has to come to the same count. The demos'
menu is asked the same way. The program is straight: exact at each drink's spec on the shelf, and elsewhere off by what
bends. Where HiGHS finds fewer bottles, its pours are measured by `washline check`, and one of its drinks has to miss a
limit; that is told, and happens in few menus. To show that a wrong count would be seen, every program is solved once
more with one bottle less allowed than the count, and has to have no solution.
"""

import argparse
import json
import pathlib
import random
import subprocess
import sys
import tempfile

import highspy

from solvers import NOTHING, highs, read

ROOT = pathlib.Path(__file__).resolve().parents[2]
# In more menus than one of so many the program may not be off.
OFF = 10


def house(rng):
    kinds = [("base", (35, 60), (0, 5), (0, 0))] * 3 + [("modifier", (12, 25), (20, 200), (0, 6))] * 2
    kinds += [("sour", (0, 0), (10, 40), (35, 60))] * 2 + [("sweetener", (0, 0), (400, 800), (0, 0))] * 2
    kinds += [("lengthener", (0, 0), (0, 90), (0, 6))]
    bottles = []
    for at, (role, *ranges) in enumerate(kinds):
        strength, sugar, acid = (rng.randint(*one) for one in ranges)
        bottles.append(dict(name=f"bottle {at}", role=role, strength=strength, sugar=sugar, acid=acid,
                            price=f"{rng.randint(200, 3000) / 100} per 700 ml"))
    return bottles


def drink(rng, bottles, number, folder):
    chosen = rng.sample(bottles, rng.randint(5, 7))
    pours = [(one, 5 * rng.randint(1, 6)) for one in chosen[:4]]
    # Without ice, and by volumes that add up: near enough for ranges that are to be met.
    volume = sum(amount for _, amount in pours)
    mixed = {key: sum(amount * one[key] for one, amount in pours) / volume for key in ("strength", "sugar", "acid")}
    share = rng.choice([0.06, 0.12, 0.25])
    lines = [f'title = "Drink {number}"', 'currency = "GBP"', "[serve]", 'method = "none"', 'pour = "5 ml"',
             "[targets]", f"volume = {{ min = {0.9 * volume:.1f}, max = {1.1 * volume:.1f} }}"]
    lines += [f"{key} = {{ min = {(1 - share) * value:.2f}, max = {(1 + share) * value:.2f} }}"
              for key, value in mixed.items() if value > 0.5]
    lines += ["[aim]", rng.choice(['lowest = "cost"', f'highest = "{chosen[0]["name"]}"']), "to = 0"]
    for one in chosen:
        lines += ["[[candidate]]"] + [f"{key} = {json.dumps(value)}" for key, value in one.items()] + ['max = "40 ml"']
    path = folder / f"drink-{number}.toml"
    path.write_text("\n".join(lines) + "\n")
    return path


def run(program, *words):
    done = subprocess.run([program, "menu", *map(str, words)], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"washline menu {' '.join(map(str, words))}: exit status {done.returncode}")
    return done.stdout


def missed(program, briefs, values):
    """Whether one of the drinks that HiGHS pours misses its brief; the program's names are those of its columns."""
    for number, (path, names) in enumerate(briefs, 1):
        pours = [(name, values.get(f"d{number}_pour_{name.replace(' ', '_')}", 0.0)) for name in names]
        line = ", ".join(f"{5 * round(steps)} ml {name}" for name, steps in pours if round(steps))
        words = [program, "check", str(path), line, "--format", "json"]
        done = subprocess.run(words, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        if done.returncode == 1:
            return True
    return False


def asked(program, folder, name, briefs=None):
    """What is wrong with a menu, and whether its program is off."""
    answer = json.loads(run(program, folder, "--shelf", "fewest", "--format", "json"))
    shelf = answer.get("shelf")
    if not shelf or not shelf["drinks"]:
        return [], False, False
    if not shelf["proved"]:
        return [f"{name}: not proved"], False, True
    path = pathlib.Path(folder) / "menu.mps"
    path.write_text(run(program, folder, "--as", "mps"))
    optimum, values = highs(path)
    off = not isinstance(optimum, str) and round(optimum) < shelf["count"]
    faults = []
    if off and not (briefs and missed(program, briefs(answer), values)):
        faults.append(f"{name}: HiGHS has {optimum} bottles, washline {shelf['count']}")
    elif not off and (isinstance(optimum, str) or round(optimum) != shelf["count"]):
        faults.append(f"{name}: HiGHS has {optimum} bottles, washline {shelf['count']}")
    if not off:
        fewer = read(path)
        lp = fewer.getLp()
        opened = [at for at, column in enumerate(lp.col_names_) if column.startswith("open_")]
        fewer.addRow(-highspy.kHighsInf, shelf["count"] - 1, len(opened), opened, [1.0] * len(opened))
        fewer.run()
        if fewer.getModelStatus() != highspy.HighsModelStatus.kInfeasible:
            faults.append(f"{name}: one bottle less is not refused")
    path.unlink()
    return faults, off, True


def main():
    words = argparse.ArgumentParser()
    words.add_argument("program")
    words.add_argument("--menus", type=int, default=40)
    words = words.parse_args()
    program = str(pathlib.Path(words.program).resolve())
    faults, off, tried = [], 0, 0
    with tempfile.TemporaryDirectory() as folder:
        demo = pathlib.Path(folder) / "demo"
        demo.mkdir()
        for file in (ROOT / "problems-demo" / "menu").glob("*.toml"):
            (demo / file.name).write_text(file.read_text())
        (pathlib.Path(folder) / "house.toml").write_text((ROOT / "problems-demo" / "house.toml").read_text())
        faults += asked(program, demo, "the demos' menu")[0]
        for seed in range(words.menus):
            rng = random.Random(seed)
            bottles = house(rng)
            place = pathlib.Path(folder) / f"menu-{seed}"
            place.mkdir()
            paths = {f"Drink {number}": drink(rng, bottles, number, place) for number in range(4)}
            names = [one["name"] for one in bottles]
            made = lambda answer: [(paths[one["title"]], names) for one in answer["shelf"]["drinks"]]
            found, strayed, counted = asked(program, place, f"menu {seed}", made)
            faults += found
            off += strayed
            tried += counted
    if off * OFF > tried:
        faults.append(f"{off} of {tried} programs are off")
    print(f"{tried} menus and the demos': HiGHS has as many bottles, {off} programs off at other specs")
    if faults:
        sys.exit("\n".join(faults))
    if tried < words.menus // 2:
        sys.exit(f"only {tried} menus ask anything")


if __name__ == "__main__":
    main()
