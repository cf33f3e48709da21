"""Two checkers, one verdict: proofs of demos, seeded shelves and damaged trees.

    python tests/proof/agree.py WASHLINE FOLDER [--shelves 20] [--damages 300]

Writes a proof of every demo and of seeded briefs (`benches/peers/shelves.py`, 15 and 30 candidates) with the program; both
checkers accept each. Proofs that stand in FOLDER already beside their briefs (`cargo test --test answers seeded_` leaves them in
target/tmp/proofs) are checked as well. Then lines of trees are damaged by chance: one checker refuses what the other refuses.
"""
import argparse
import pathlib
import random
import subprocess
import sys

from check import Refused, check

ROOT = pathlib.Path(__file__).parents[2]
FAULTS = (Refused, ValueError, KeyError, IndexError, TypeError, AttributeError, StopIteration)


def ours(proof, brief, house):
    try:
        check(proof.read_text(), brief.read_text(), house.read_text() if house else None)
        return True
    except FAULTS:
        return False


def theirs(program, proof, brief):
    status = subprocess.run([program, "proof", proof, brief], capture_output=True).returncode
    assert status in (0, 2), f"{proof}: exit status {status}"
    return status == 0


def damaged(text, draw):
    """Another line somewhere in a tree."""
    lines = text.split("\n")
    inside, places = False, []
    for number, line in enumerate(lines):
        inside = line != "end" and (inside or line == "tree")
        places += [number] * (inside and line != "tree")
    at = draw.choice(places)
    words = lines[at].split(" ")
    kind = draw.randrange(4)
    if kind == 0:
        del lines[at]
    elif kind == 1:
        lines[at] = lines[draw.choice(places)]
    else:
        word = draw.randrange(len(words))
        digits = [i for i, c in enumerate(words[word]) if c.isdigit()]
        if kind == 2 and digits:
            i = draw.choice(digits)
            words[word] = words[word][:i] + draw.choice("0123456789") + words[word][i + 1:]
        elif len(words) > 2:
            del words[word]
        lines[at] = " ".join(words)
    return "\n".join(lines)


def main():
    options = argparse.ArgumentParser()
    options.add_argument("program")
    options.add_argument("folder", type=pathlib.Path)
    options.add_argument("--shelves", type=int, default=20)
    options.add_argument("--damages", type=int, default=300)
    asked = options.parse_args()
    asked.folder.mkdir(parents=True, exist_ok=True)
    pairs = [(p, p.with_suffix(".toml"), None) for p in sorted(asked.folder.glob("*.proof")) if p.with_suffix(".toml").exists()]
    house = ROOT / "problems-demo" / "house.toml"
    briefs = [(b, house if "house.toml" in b.read_text() else None) for b in sorted(house.parent.glob("*.toml")) if b != house]
    shelves = asked.folder / "shelves"
    seeds = ["--sizes", "15,30", "--count", str(asked.shelves // 2)]
    subprocess.run([sys.executable, ROOT / "benches" / "peers" / "shelves.py", shelves, *seeds], check=True, capture_output=True)
    briefs += [(b, None) for b in sorted(shelves.rglob("*.toml"))]
    unproved = 0
    for brief, beside in briefs:
        proof = asked.folder / f"{brief.stem}.of-demo-or-shelf"
        command = [asked.program, "spec", brief, "--only", "card", "--proof", proof, "--force"]
        said = subprocess.run(command, capture_output=True, text=True)
        if "No proof is written" in said.stderr:
            print(f"{brief.name}: {said.stderr.strip()}")
            unproved += 1
            assert brief.is_relative_to(shelves), "every demo has a proof"
            continue
        assert not brief.parent.samefile(house.parent) or proof.stat().st_size < 200_000, f"{proof} is large"
        pairs.append((proof, brief, beside))
    for proof, brief, beside in pairs:
        assert ours(proof, brief, beside) and theirs(asked.program, proof, brief), f"{proof} is refused"
    print(f"{len(pairs)} proofs, accepted twice; {unproved} shelves without one")
    assert unproved * 10 <= asked.shelves, "too few shelves have a proof"
    draw, refused, other = random.Random(7), 0, asked.folder / "damaged"
    small = [pair for pair in pairs if pair[0].stat().st_size < 8_000]
    for _ in range(asked.damages):
        proof, brief, beside = draw.choice(small)
        other.write_text(damaged(proof.read_text(), draw))
        verdicts = ours(other, brief, beside), theirs(asked.program, other, brief)
        assert verdicts[0] == verdicts[1], f"{other} of {proof}: {verdicts}"
        refused += not verdicts[0]
    print(f"{asked.damages} damaged trees, {refused} refused, by both")
    assert refused * 2 > asked.damages


main()
