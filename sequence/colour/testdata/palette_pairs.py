"""Solves the pairs of palette_pairs.mjs with SciPy's linprog. See README.md."""

import json
import sys

from scipy.optimize import linprog

pairs = []
for pair in json.load(sys.stdin):
    n, m = len(pair["p"]), len(pair["q"])
    rows = [[1.0 if v // m == i else 0.0 for v in range(n * m)] for i in range(n)]
    columns = [[1.0 if v % m == j else 0.0 for v in range(n * m)] for j in range(m)]
    p, q = ([s["weight"] for s in pair[side]] for side in "pq")
    shares = [w / sum(p) for w in p] + [w / sum(q) for w in q]
    result = linprog([c for row in pair["cost"] for c in row], A_eq=(rows + columns)[:-1], b_eq=shares[:-1],
                     method="highs-ds", options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    if result.status != 0:
        raise SystemExit(result.message)
    pairs.append({"p": pair["p"], "q": pair["q"], "distance": round(result.fun, 6)})
print("[\n" + ",\n".join(json.dumps(p, separators=(",", ":")) for p in pairs) + "\n]")
