"""washline and the solvers: what each says of a brief or a model."""

import json
import pathlib
import re
import subprocess
import sys

import highspy

# How far two optima may lie apart, relative to them; where they are nothing (less than that), as many units.
SAME = 1e-6
# The tightest that HiGHS takes is 1e-10.
TIGHT = 1e-9
FORMS = ("lp", "mps")
NOTHING = "no solution"


def same(a, b):
    """Whether two optima are the same. What is no number is a solver's word for why it has none."""
    if isinstance(a, str) or isinstance(b, str):
        return a == b == NOTHING
    return abs(a - b) <= SAME * (1.0 if abs(b) < SAME else abs(b))


# A solver knows of no difference that does not matter.
FINE = ["--set", "aim.to=0"]


def washline(program, *words):
    """What washline answers as JSON, the best by score alone."""
    words = [*words, *FINE] if words[0] == "spec" else words
    done = subprocess.run([program, *map(str, words), "--format", "json"], stdout=subprocess.PIPE, text=True)
    if done.returncode not in (0, 1):
        sys.exit(f"washline {' '.join(map(str, words))}: exit status {done.returncode}")
    return json.loads(done.stdout)


def model(program, brief, form, free, folder):
    """The exported model as a file."""
    path = pathlib.Path(folder) / f"{pathlib.Path(brief).stem}{'-free' if free else ''}.{form}"
    words = [program, "model", str(brief), "--as", form, *FINE] + (["--free"] if free else [])
    with open(path, "w") as out:
        subprocess.run(words, stdout=out, check=True)
    return path


def read(path):
    """HiGHS with a model."""
    solver = highspy.Highs()
    for option, value in [("output_flag", False), ("threads", 1), ("parallel", "off"), ("mip_rel_gap", 0.0),
                          ("mip_abs_gap", 0.0), ("primal_feasibility_tolerance", TIGHT),
                          ("dual_feasibility_tolerance", TIGHT), ("mip_feasibility_tolerance", TIGHT)]:
        if solver.setOptionValue(option, value) != highspy.HighsStatus.kOk:
            sys.exit(f"HiGHS does not take {option} = {value}")
    if solver.readModel(str(path)) != highspy.HighsStatus.kOk:
        sys.exit(f"HiGHS cannot read {path.name}")
    return solver


def highs(path):
    """HiGHS's optimum and its values by name."""
    solver = read(path)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return NOTHING, {}
    if status != highspy.HighsModelStatus.kOptimal:
        return f"HiGHS ended with {status}", {}
    lp = solver.getLp()
    kinds = lp.integrality_ or [highspy.HighsVarType.kContinuous] * lp.num_col_
    # Whole amounts as whole numbers: what is within a tolerance of one is no better for it.
    values = [round(x) if kind == highspy.HighsVarType.kInteger else x
              for x, kind in zip(solver.getSolution().col_value, kinds)]
    optimum = sum(cost * x for cost, x in zip(lp.col_cost_, values)) + lp.offset_
    return optimum, dict(zip(lp.col_names_, values))


def glpk(path):
    """GLPK's optimum."""
    form = "--lp" if path.suffix == ".lp" else "--freemps"
    written = path.with_suffix(path.suffix + ".glpk")
    told = subprocess.run(["glpsol", form, str(path), "--mipgap", "0", "-w", str(written)],
                          stdout=subprocess.PIPE, text=True).stdout
    # "s mip ROWS COLUMNS o OBJECTIVE", or "s bas ROWS COLUMNS PRIMAL DUAL OBJECTIVE" of a linear program.
    solution = re.search(r"^s (mip|bas) (.*)$", written.read_text() if written.exists() else "", re.M)
    if solution is None:
        return f"GLPK says of {path.name}: {told[-300:]}"
    fields = solution.group(2).split()
    good = "o" if solution.group(1) == "mip" else "f"
    return float(fields[-1]) if set(fields[2:-1]) == {good} else NOTHING
