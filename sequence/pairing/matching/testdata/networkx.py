"""Prints 200 random graphs' recipes with the weight of a heaviest matching each.

See README.md beside this file for the generator and the columns.
"""

import networkx


class Dice:
    def __init__(self, seed):
        self.state = seed
        self.roll(1)

    def roll(self, sides):
        self.state = (self.state * 6364136223846793005 + 1442695040888963407) % 2**64
        return (self.state >> 33) % sides


def graph(n, percent, low, top, seed):
    dice = Dice(seed)
    g = networkx.Graph()
    g.add_nodes_from(range(n))
    for i in range(n):
        for j in range(i + 1, n):
            keep = dice.roll(100) < percent
            weight = low + dice.roll(top - low + 1)
            if keep:
                g.add_edge(i, j, weight=weight)
    return g


def recipes():
    kinds = [
        (100, 1, 1_000_000),
        (100, 1, 3),
        (60, 1, 6),
        (25, 1, 12),
        (8, 1, 4),
        (4, 1, 2),
        (50, 900, 1000),
        (70, -50, 50),
    ]
    for seed in range(200):
        percent, low, top = kinds[seed % len(kinds)]
        yield 5 + seed * 37 % 86, percent, low, top, 1000 + seed


print("n\tpercent\tlow\ttop\tseed\ttotal")
for recipe in recipes():
    g = graph(*recipe)
    mate = networkx.max_weight_matching(g)
    total = sum(g[a][b]["weight"] for a, b in mate)
    print(*recipe, total, sep="\t")
