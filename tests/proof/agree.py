"""Two checkers side by side: proofs of demos, seeded briefs and conflicts, and damaged ones.

    python tests/proof/agree.py WASHLINE FOLDER [--shelves 20] [--damages 300]

Writes a proof of every demo and of seeded shelves (`benches/peers/shelves.py`, 15 and 30 candidates) with the
program; both checkers accept each. Proofs that stand in FOLDER already beside their briefs (`cargo test
--test answers seeded_` leaves them in target/tmp/proofs) are checked as well. Then proofs are damaged by chance:
the program accepts nothing that is refused in fractions. What is accepted is still true: the claim of a damaged
tree is that of the whole one; and where a brief is changed, nothing in the proof of its own answer scores under
the cutoffs.
"""
import argparse
import collections
import os
import pathlib
import random
import re
import subprocess
import sys
import time
from multiprocessing import Pool

from check import Part
from plain import digest, holds

ROOT = pathlib.Path(__file__).parents[2]
HOUSE = ROOT / "problems-demo" / "house.toml"
# What each damage is done to, by the letters of its lines.
KINDS = {"a multiplier": "f", "a branch": "awpsh", "a bound": "l", "a leaf dropped": "fx",
         "a line": "awpshlfx"}
# Of so many damages one is a changed brief: that has to be solved.
SOLVED = 25


def ours(proof, brief, house):
    try:
        holds(proof, brief.read_text(), house.read_text() if house else None)
        return True
    except Exception:
        return False


def theirs(program, proof, brief):
    status = subprocess.run([program, "proof", proof, brief], capture_output=True).returncode
    assert status in (0, 2), f"{proof}: exit status {status}"
    return status == 0


def proved(program, brief, proof):
    """What is said while a proof is written."""
    command = [program, "spec", brief, "--only", "card", "--proof", proof, "--force"]
    return subprocess.run(command, capture_output=True, text=True)


def another_digit(word, draw):
    """Another digit somewhere in a word that has any."""
    at = draw.choice([i for i, c in enumerate(word) if c.isdigit()])
    return word[:at] + draw.choice("0123456789".replace(word[at], "")) + word[at + 1:]


def damaged(text, kind, draw):
    """Another tree; nothing where it has no such line."""
    lines = text.split("\n")
    inside, places = False, []
    for number, line in enumerate(lines):
        inside = line != "end" and (inside or line == "tree")
        places += [number] * (inside and line != "tree" and line[0] in KINDS[kind])
    places = [at for at in places if kind != "a multiplier" or " " in lines[at]]
    if not places:
        return None
    at = draw.choice(places)
    words = lines[at].split(" ")
    if kind == "a leaf dropped":
        del lines[at]
    elif kind == "a multiplier":
        word = draw.randrange(1, len(words), 2)
        words[word] = another_digit(words[word], draw)
        lines[at] = " ".join(words)
    elif kind != "a line":
        word = draw.randrange(1, len(words))
        words[word] = another_digit(words[word], draw)
        lines[at] = " ".join(words)
    elif draw.random() < 0.5 or len(words) < 3:
        lines[at] = lines[draw.choice(places)]
    else:
        del words[draw.randrange(len(words))]
        lines[at] = " ".join(words)
    return "\n".join(lines)


def facts(text):
    """The lines of a proof before its facts, its facts, and its specs with their tree."""
    found = re.match(r"(.*\nparts 1\nclaim (?:best|sets)\n)(.*?\n)(spec .*)", text, re.DOTALL)
    return found and found.groups()


def moved(program, proof, brief, other, draw):
    """The tree of a proof under the facts of a changed brief, and its own proof; nothing if it has none."""
    text = brief.read_text()
    # Figures, but for those of the title and in names.
    places = [*re.finditer(r'(?<=[ "=])[1-9][\d.]*(?= per|[ ,}\n])', text[text.index("\n"):])]
    old, place = facts(proof.read_text()), draw.choice(places)
    changed = other.with_suffix(".toml")
    start, end = (at + text.index("\n") for at in place.span())
    changed.write_text(text[:start] + another_digit(place[0], draw) + text[end:])
    other.unlink(missing_ok=True)
    own = proved(program, changed, other)
    new = facts(other.read_text()) if own.returncode == 0 and other.exists() else None
    if not (old and new):
        return None
    head = re.sub("brief .*", f"brief {digest(changed.read_text()):016x}", old[0])
    return head + new[1] + old[2], other.read_text()


def still_true(text, own):
    """Whether nothing that is listed by the proof of a brief's own answer scores under another's cutoffs."""
    parts = [Part(iter(proof.split("\n")[3:])) for proof in (text, own)]
    cutoffs = ((parts[0].sets.get(used, parts[0].others), score) for used, score in parts[1].scores.items())
    return all(cut is None or score >= cut for cut, score in cutoffs)


def damage(asked):
    """Damages a proof, by its number: what was damaged, and what the checkers say.

    What is true only by less than a last digit is accepted in fractions, and the program's intervals doubt it.
    """
    program, folder, small, number = asked
    draw, other = random.Random(number), folder / f"damaged-{os.getpid()}"
    while True:
        proof, brief, house = draw.choice(small)
        kind = "a brief changed" if number % SOLVED == 0 and not house else draw.choice(list(KINDS))
        own, text = None, None
        if kind == "a brief changed":
            text, own = moved(program, proof, brief, other, draw) or (None, None)
            brief = other.with_suffix(".toml")
        else:
            text = damaged(proof.read_text(), kind, draw)
        if text is not None and text != proof.read_text():
            break
    other.write_text(text)
    exact, inside = ours(text, brief, house), theirs(program, other, brief)
    assert exact or not inside, f"{proof}, damage {number} ({kind}): only the program accepts it"
    assert not own or not exact or still_true(text, own), f"{proof}, damage {number}: it is not true"
    return kind, "accepted" if inside else "doubted" if exact else "refused"


def accepted(asked):
    """Whether both checkers accept a proof, and how long ours takes."""
    program, (proof, brief, house) = asked
    begun = time.process_time()
    assert ours(proof.read_text(), brief, house), f"{proof} is refused in fractions"
    taken = time.process_time() - begun
    assert theirs(program, proof, brief), f"{proof} is refused by the program"
    return taken


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("folder", type=pathlib.Path)
    options.add_argument("--shelves", type=int, default=20)
    options.add_argument("--damages", type=int, default=300)
    asked = options.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    seeded = sorted(asked.folder.glob("*.proof"))
    pairs = [(p, p.with_suffix(".toml"), None) for p in seeded if p.with_suffix(".toml").exists()]
    shelves = asked.folder / "shelves"
    seeds = ["--sizes", "15,30", "--count", str(asked.shelves // 2)]
    maker = ROOT / "benches" / "peers" / "shelves.py"
    subprocess.run([sys.executable, maker, shelves, *seeds], check=True, capture_output=True)
    demos = [brief for brief in sorted(HOUSE.parent.glob("*.toml")) if brief != HOUSE]
    unproved = 0
    for brief in [*demos, *sorted(shelves.rglob("*.toml"))]:
        proof = asked.folder / f"{brief.stem}.of-demo-or-shelf"
        said = proved(asked.program, brief, proof).stderr
        if "No proof is written" in said:
            print(f"{brief.name}: {said.strip()}")
            unproved += 1
            assert brief not in demos, "every demo has a proof"
            continue
        assert brief not in demos or proof.stat().st_size <= 200_000, f"{proof} is large"
        pairs.append((proof, brief, HOUSE if "house.toml" in brief.read_text() else None))
    with Pool() as pool:
        seconds = pool.map(accepted, [(asked.program, pair) for pair in pairs], 1)
        claims = [re.search(r"\nclaim (\w+)", proof.read_text())[1] for proof, *_ in pairs]
        sizes = sorted(proof.stat().st_size for proof, *_ in pairs)
        print(f"{len(pairs)} proofs, accepted twice: {dict(collections.Counter(claims))}")
        print(f"{unproved} shelves without one; bytes: median {sizes[len(sizes) // 2]}, most {sizes[-1]}; "
              f"in fractions {sum(seconds):.0f} s, at most {max(seconds):.1f} s")
        assert unproved * 10 <= asked.shelves, "too few shelves have a proof"
        small = [pair for pair in pairs if pair[0].stat().st_size < 8_000]
        tasks = [(asked.program, asked.folder, small, number) for number in range(asked.damages)]
        done = collections.Counter(pool.imap_unordered(damage, tasks, 10))
    for kind in sorted({kind for kind, _ in done}):
        refused, still, doubted = (done[kind, said] for said in ("refused", "accepted", "doubted"))
        print(f"{kind}: {refused} refused by both, {still} still true for both, {doubted} true by a last digit")
    many = collections.Counter()
    for (_, said), count in done.items():
        many[said] += count
    print(f"{asked.damages} damages, {many['refused']} refused")
    assert many["refused"] * 2 > asked.damages and many["doubted"] * 100 <= asked.damages


if __name__ == "__main__":
    main()
