// Solves the graphs of README.md with LEMON's MaxWeightedMatching.
//
// On standard input, one graph a line: n percent low top seed, anything after that
// ignored; lines that begin with no digit are passed over. On standard output the
// same five, the weight of a heaviest matching, and, with the argument "time", the
// milliseconds it took, the least of five runs, making the graph not counted.
#include <chrono>
#include <cctype>
#include <cstdint>
#include <cstring>
#include <iostream>
#include <lemon/matching.h>
#include <lemon/smart_graph.h>
#include <sstream>
#include <string>
#include <vector>

struct Dice {
  uint64_t state;
  explicit Dice(uint64_t seed) : state(seed) { roll(1); }
  int64_t roll(int64_t sides) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return int64_t(state >> 33) % sides;
  }
};

int main(int argc, char **argv) {
  bool timed = argc > 1 && !std::strcmp(argv[1], "time");
  std::string line;
  while (std::getline(std::cin, line)) {
    if (line.empty() || !std::isdigit((unsigned char)line[0])) continue;
    int64_t n, percent, low, top, seed;
    std::istringstream(line) >> n >> percent >> low >> top >> seed;
    lemon::SmartGraph graph;
    lemon::SmartGraph::EdgeMap<int64_t> weight(graph);
    std::vector<lemon::SmartGraph::Node> node;
    for (int64_t i = 0; i < n; i++) node.push_back(graph.addNode());
    Dice dice(seed);
    for (int64_t i = 0; i < n; i++)
      for (int64_t j = i + 1; j < n; j++) {
        bool keep = dice.roll(100) < percent;
        int64_t w = low + dice.roll(top - low + 1);
        if (keep) weight[graph.addEdge(node[i], node[j])] = w;
      }
    int64_t total = 0;
    double least = 1e300;
    for (int round = 0; round < (timed ? 5 : 1); round++) {
      auto start = std::chrono::steady_clock::now();
      lemon::MaxWeightedMatching<lemon::SmartGraph, lemon::SmartGraph::EdgeMap<int64_t>> m(graph, weight);
      m.run();
      total = m.matchingWeight();
      std::chrono::duration<double, std::milli> took = std::chrono::steady_clock::now() - start;
      if (took.count() < least) least = took.count();
    }
    std::cout << n << '\t' << percent << '\t' << low << '\t' << top << '\t' << seed << '\t' << total;
    if (timed) std::cout << '\t' << least;
    std::cout << '\n';
  }
}
