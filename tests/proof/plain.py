"""What a proof says of its brief, held against the brief: whatever is written there as plain numbers."""
import pathlib
import re
import tomllib
from fractions import Fraction as F

from facts import CITRIC, PURE, SPIRIT, SYRUP, WATER, need, poly

LARDER = pathlib.Path(__file__).parents[2] / "src" / "larder" / "larder.toml"
# Arnold, Liquid Intelligence (2014), pp. 123-126, from memory: as src/liquid/melt.rs has it.
MELTS = {"shake": (-1.567, 1.742, 0.203), "stir": (-1.21, 1.246, 0.145), "build": (0, 0, 0.24), "none": (0, 0, 0)}
NEAR = F(1, 10**9)


def plain(figure):
    """A number, or the typical one of a table; nothing of anything else."""
    figure = figure.get("typical") if isinstance(figure, dict) else figure
    return F(figure) if isinstance(figure, (int, float)) and not isinstance(figure, bool) else None


def near(a, b):
    return abs(a - b) <= NEAR * (1 + abs(b))


def compare(part, brief, house):
    """How many figures agree; the first that does not is refused."""
    doc = tomllib.loads(brief)
    written = doc.get("candidate", [])
    names = {c.get("name") or c.get("larder") or c.get("house"): c for c in written}
    seen = 0
    if part.claim[1] != "nothing":
        seen += rules(part, doc, written)
    larder = {entry["name"]: entry for entry in tomllib.loads(LARDER.read_text())["entry"]}
    for column in part.columns:
        mine = names.get(column["name"])
        if mine is None:
            need(house is not None or "bring" in doc, f"{column['name']} is no candidate")
            continue
        need(not mine.get("out"), f"{column['name']} is out")
        if "house" not in mine:
            seen += ingredient(column, mine, larder.get(mine.get("larder"), {}))
    return seen


def rules(part, doc, written):
    """What is counted and limited."""
    seen = 0
    properties = list(doc.get("properties", {}))
    for key, target in doc.get("targets", {}).items():
        measure = f"property{properties.index(key)}" if key in properties else key
        for side, value in target.items() if isinstance(target, dict) else []:
            if plain(value) is not None:
                need((measure, side, plain(value)) in part.limits, f"{key} {side} is not {value}")
                seen += 1
    serve = doc.get("serve", {})
    if "bring" not in doc and "house" not in doc:
        usable = [c.get("name") or c.get("larder") for c in written if not c.get("out")]
        need(usable == [c["name"] for c in part.columns], "other candidates")
        need([bool(c.get("must")) for c in written if not c.get("out")] == [c["must"] for c in part.columns], "other musts")
    need(len(part.groups) == len(doc.get("choose", [])) + 1, "other counts")
    least, most, members = part.groups[-1]
    need(least == 1 and most == serve.get("most", len(part.columns)) and members == list(range(len(part.columns))), "another most")
    for rule, (least, most, members) in zip(doc.get("choose", []), part.groups):
        need(least == rule.get("min", 0) and most == rule.get("max", len(members)), "another count")
        among = {c["name"] for c in part.columns} & set(rule.get("among", []))
        need("among" not in rule or among == {part.columns[c]["name"] for c in members}, "another group")
    sides = [(side, plain(rule[side])) for rule in doc.get("proportion", []) for side in ("min", "max") if side in rule]
    need([(side, at) for side, at, *_ in part.ratios] == sides, "other proportions")
    seen += 3 + len(sides) + len(part.groups)
    if "melt" not in serve and not part.ice:
        need(part.melt == [F(float(f)) for f in MELTS[serve.get("method", "none")]], "another melt")
        seen += 1
    aim, answer = doc.get("aim", {}), doc.get("answer", {})
    for key, word in (("lowest", "low"), ("highest", "high")):
        if isinstance(aim.get(key), str):
            measure = f"property{properties.index(aim[key])}" if aim[key] in properties else aim[key]
            own = [c["name"] for c in part.columns]
            amount = ["amount", str(own.index(aim[key])) if aim[key] in own else "-", "1" if word == "low" else "-1"]
            need(part.aim in ([word, measure], amount), "another aim")
            seen += 1
    if plain(aim.get("to")) is not None:
        need(part.matters(F(0)) == plain(aim["to"]), "other differences matter")
    need(part.wanted == answer.get("alternatives", 6) + 1, "other alternatives")
    need(part.within == (plain(answer["within"]) / 100 if "within" in answer else None), "another share")
    return seen + 2


def ingredient(column, mine, entry):
    """What one ml or g is and costs."""
    seen = 0
    price = re.fullmatch(r"([\d.]+) per ([\d.]+) (ml|l|g|kg)", str(mine.get("price")))
    if price and plain(mine.get("yield", 1)):
        pack = F(price[2]) * (1000 if price[3] in ("l", "kg") else 1)
        weighed = (price[3] in ("g", "kg")) != (column["portions"][0][12] == 0)
        if not weighed:
            need(near(column["cost"], F(price[1]) / pack / plain(mine.get("yield", 1))), f"{column['name']} costs something else")
            seen += 1
    if "made" in mine or "brix" in mine or column["portions"][0][12] == 0:
        return seen
    e, w, s, a, excess, *_ = column["portions"][0]
    figure = lambda key: plain(mine[key] if key in mine else entry.get(key, 0))
    strength, sugar, acid, polyols = map(figure, ("strength", "sugar", "acid", "polyols"))
    for stated, found in ((strength, 100 * e / PURE), (acid, 1000 * a)):
        if stated is not None:
            need(near(found, stated), f"{column['name']} is another liquid")
            seen += 1
    if sugar is not None and polyols is not None:
        need(near(1000 * s, sugar + polyols), f"{column['name']} is as sweet as another")
        seen += 1
    # It fills its millilitre.
    volume = (e + w) / poly(SPIRIT, e / (e + w)) + (s + w) / poly(SYRUP, s / (s + w)) - w / WATER + CITRIC * a if w else F(1) - excess
    need(near(volume + excess, F(1)), f"{column['name']} fills no millilitre")
    return seen + 1
