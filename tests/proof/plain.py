"""What a proof says of its brief, held against the brief: whatever is written there as plain numbers.

The rest, as what becomes of a preparation, is taken as the proof says.
"""
import pathlib
import re
import tomllib
from fractions import Fraction as F

from check import check, need
from physics import PURE, SPIRIT, SYRUP, poly, volume

LARDER = pathlib.Path(__file__).parents[2] / "src" / "larder" / "larder.toml"
# Arnold, Liquid Intelligence (2014), pp. 123-126, from memory: as src/liquid/melt.rs has it.
MELTS = {"shake": (-1.567, 1.742, 0.203), "stir": (-1.21, 1.246, 0.145),
         "build": (0, 0, 0.24), "none": (0, 0, 0)}


def plain(figure):
    """A number, or the typical one of a table; nothing of anything else."""
    figure = figure.get("typical") if isinstance(figure, dict) else figure
    return F(figure) if isinstance(figure, (int, float)) and not isinstance(figure, bool) else None


def near(a, b):
    return b is None or abs(a - b) <= F(1, 10**9) * (1 + abs(b))


def digest(*texts):
    """FNV-1a, 64 bits, a zero byte after each text."""
    hashed = 0xCBF29CE484222325
    for byte in b"".join(text.encode() + b"\0" for text in texts):
        hashed = (hashed ^ byte) * 0x100000001B3 % 2**64
    return hashed


def holds(proof, brief, house=None):
    """How many leaves a proof closes, and how many figures of it agree with its brief."""
    of, parts, leaves = check(proof)
    hashed = digest(brief) if house is None else digest(brief, house)
    need(of == f"brief {hashed:016x}", "it is the proof of another brief")
    return leaves, sum(compare(part, brief, house) for part in parts)


def compare(part, brief, house):
    """How many figures agree; the first that does not is refused."""
    doc, larder = tomllib.loads(brief), tomllib.loads(LARDER.read_text())["entry"]
    names = {c.get("name") or c.get("larder") or c.get("house"): c for c in doc.get("candidate", [])}
    facts = [] if part.claim[1] == "nothing" else [*rules(part, doc)]
    for at, column in enumerate(part.columns):
        mine = names.get(column.name)
        if mine is None:
            facts.append((f"{column.name} is no candidate", house is not None or "bring" in doc))
            continue
        facts.append((f"{column.name} is out", not mine.get("out")))
        if "house" not in mine:
            a_step = {thing: form["step", at] / column.unit for thing, form in part.parts[0].items()}
            entry = next((entry for entry in larder if entry["name"] == mine.get("larder")), {})
            facts += [(f"{column.name}: {what}", agrees) for what, agrees in ingredient(a_step, entry | mine)]
    for why, agrees in facts:
        need(agrees, f"the brief says otherwise: {why}")
    return len(facts)


def rules(part, doc):
    """What is counted, limited and aimed at."""
    said = lambda word: [rest for own, *rest in part.said if own == word]
    names, properties = [c.name for c in part.columns], [*doc.get("properties", {})]
    measure = lambda key: f"property{properties.index(key)}" if key in properties else key
    serve, aim, answer = (doc.get(table, {}) for table in ("serve", "aim", "answer"))
    for key, target in doc.get("targets", {}).items():
        for side, value in target.items() if isinstance(target, dict) else []:
            if plain(value) is not None:
                yield f"{key} {side}", [measure(key), side, plain(value)] in said("limit")
    if "bring" not in doc and "house" not in doc:
        usable = [c for c in doc["candidate"] if not c.get("out")]
        written = [(c.get("name") or c.get("larder"), bool(c.get("must"))) for c in usable]
        yield "other candidates, or musts", written == [(c.name, c.must) for c in part.columns]
    everything = {"min": 1, "max": serve.get("most", len(names)), "among": names}
    for rule, (least, most, *of) in zip([*doc.get("choose", []), everything], said("group"), strict=True):
        yield "another count", [least, most] == [rule.get("min", 0), rule.get("max", len(of))]
        among = sorted(name for name in names if name in rule.get("among", []))
        yield "another group", "among" not in rule or sorted(names[int(c)] for c in of) == among
    sides = [(rule, side) for rule in doc.get("proportion", []) for side in ("min", "max") if side in rule]
    yield "other proportions", [ratio[:2] for ratio in said("ratio")] == [[s, plain(r[s])] for r, s in sides]
    if "melt" not in serve and not said("ice"):
        yield "another melt", said("melt") == [[F(float(f)) for f in MELTS[serve.get("method", "none")]]]
    for key, word, sign in (("lowest", "low", 1), ("highest", "high", -1)):
        if isinstance(aim.get(key), str):
            column = names.index(aim[key]) if aim[key] in names else "-"
            yield "another aim", said("aim")[0] in ([word, measure(aim[key])], ["amount", column, sign])
    wanted, within, *matters = said("answer")[0]
    yield "other alternatives", wanted == answer.get("alternatives", 6)
    yield "another share", within == (plain(answer["within"]) if "within" in answer else "-")
    if plain(aim.get("to")) is not None:
        yield "other differences matter", matters == ["by", plain(aim["to"])]


def ingredient(p, mine):
    """What one ml or g is and costs."""
    price = re.fullmatch(r"([\d.]+) per ([\d.]+) (ml|l|g|kg)", str(mine.get("price")))
    share = plain(mine.get("yield", 1))
    if price and share and (price[3] in ("g", "kg")) == (p["poured"] == 0):
        pack = F(price[2]) * (1000 if price[3] in ("l", "kg") else 1)
        yield "another price", near(p["cost"], F(price[1]) / pack / share)
    if "made" not in mine and "brix" not in mine and p["poured"]:
        figures = (plain(mine.get(key, 0)) for key in ("strength", "sugar", "acid", "polyols"))
        strength, sugar, acid, polyols = figures
        yield "another strength", near(100 * p["ethanol"] / PURE, strength)
        yield "another acid", near(1000 * p["acid"], acid)
        yield "other sweetness", None in (sugar, polyols) or near(1000 * p["sweet"], sugar + polyols)
        e, w, s = p["ethanol"], p["water"], p["sweet"]
        if w:
            filled = volume(p, w, 1 / poly(SPIRIT, e / (e + w)), 1 / poly(SYRUP, s / (s + w)))
            yield "it fills no ml", near(filled, F(1))
