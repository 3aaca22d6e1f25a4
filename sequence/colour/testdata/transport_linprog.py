"""Solves 100 seeded transportation problems with SciPy, for transport_test.go.

Debian package python3-scipy (1.10.1); run in this folder:
    /usr/bin/python3 transport_linprog.py > transport_linprog.json
Costs have three decimals. Every fifth problem has equal shares and small whole
costs, so that ties and empty arcs abound; some shares are zero.
"""

import json
import random

from scipy.optimize import linprog

draw = random.Random(1781)


def problem(k):
    n, m = draw.randint(1, 8), draw.randint(1, 8)
    if k % 5 == 0:
        supply, demand = [1] * n, [1] * m
        cost = [[draw.randint(0, 6) for _ in range(m)] for _ in range(n)]
    else:
        supply = [draw.randint(1, 1000) for _ in range(n)]
        demand = [draw.randint(1, 1000) for _ in range(m)]
        if k % 7 == 0 and n > 1 and m > 1:
            supply[draw.randrange(n)] = 0
            demand[draw.randrange(m)] = 0
        cost = [[draw.randint(0, 100000) / 1000 for _ in range(m)] for _ in range(n)]
    return cost, supply, demand


def optimum(cost, supply, demand):
    n, m = len(supply), len(demand)
    rows = [[1.0 if v // m == i else 0.0 for v in range(n * m)] for i in range(n)]
    columns = [[1.0 if v % m == j else 0.0 for v in range(n * m)] for j in range(m)]
    shares = [s / sum(supply) for s in supply] + [d / sum(demand) for d in demand]
    flat = [c for row in cost for c in row]
    # One equation follows from the others; without it rounding cannot make the
    # system contradict itself.
    result = linprog(flat, A_eq=(rows + columns)[:-1], b_eq=shares[:-1], method="highs-ds",
                     options={"primal_feasibility_tolerance": 1e-10, "dual_feasibility_tolerance": 1e-10})
    if result.status != 0:
        raise SystemExit(result.message)
    return result.fun


problems = []
for k in range(100):
    cost, supply, demand = problem(k)
    problems.append({"cost": [c for row in cost for c in row], "supply": supply, "demand": demand,
                     "optimum": round(optimum(cost, supply, demand), 9)})
print("[\n" + ",\n".join(json.dumps(p, separators=(",", ":")) for p in problems) + "\n]")
