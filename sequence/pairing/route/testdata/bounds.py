"""Prints, for recipes of points in the plane, a lower bound on the length of the
shortest open path through all of them. See README.md beside this file.
"""

import networkx
import numpy
from scipy.optimize import linprog
from scipy.sparse import coo_matrix


class Dice:
    def __init__(self, seed):
        self.state = seed

    def roll(self, sides):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % sides


def plane(n, seed):
    dice = Dice(seed)
    points = [(dice.roll(1000), dice.roll(1000)) for _ in range(n)]
    return lambda i, j: abs(points[i][0] - points[j][0]) + abs(points[i][1] - points[j][1])


def bound(n, cost):
    """The subtour relaxation of the ring through the points and a gate to which every
    step costs nothing (Dantzig, Fulkerson, Johnson 1954)."""
    gate = n
    edges = [(i, j) for i in range(n + 1) for j in range(i + 1, n + 1)]
    costs = numpy.array([0 if j == gate else cost(i, j) for i, j in edges])
    rows, columns = [], []
    for e, (i, j) in enumerate(edges):
        rows += [i, j]
        columns += [e, e]
    degree = coo_matrix((numpy.ones(len(rows)), (rows, columns)), shape=(n + 1, len(edges))).tocsr()
    cuts = []
    while True:
        above, limit = None, None
        if cuts:
            r, c = [], []
            for k, inside in enumerate(cuts):
                for e, (i, j) in enumerate(edges):
                    if (i in inside) != (j in inside):
                        r.append(k)
                        c.append(e)
            above = coo_matrix((-numpy.ones(len(r)), (r, c)), shape=(len(cuts), len(edges))).tocsr()
            limit = -2 * numpy.ones(len(cuts))
        answer = linprog(costs, A_ub=above, b_ub=limit, A_eq=degree, b_eq=2 * numpy.ones(n + 1), bounds=(0, 1), method="highs")
        graph = networkx.Graph()
        graph.add_nodes_from(range(n + 1))
        for e, (i, j) in enumerate(edges):
            if answer.x[e] > 1e-7:
                graph.add_edge(i, j, weight=answer.x[e])
        parts = list(networkx.connected_components(graph))
        if len(parts) > 1:
            cuts += [set(p) for p in parts]
            continue
        value, (one, _) = networkx.stoer_wagner(graph)
        if value >= 2 - 1e-6:
            return answer.fun
        cuts.append(set(one))


print("n\tseed\tbound")
for n, seed in [(60, 1), (120, 2), (250, 1), (250, 2), (250, 3)]:
    print(n, seed, "%.2f" % bound(n, plane(n, seed)), sep="\t", flush=True)
