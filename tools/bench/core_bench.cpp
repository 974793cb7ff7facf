// How many samples a second the core judges: all checks on 14 channels, in
// double and in single precision, from ready frames and from single readings;
// how that grows with the rows; and what each check costs.
//
//   core_bench [ROUNDS]
//
// Loops take turns; medians are printed, and the quickest and slowest round.
// Processor time, not time on the wall: one core is asked, whatever else runs.
#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "core_loops.hpp"

namespace {

using namespace telltale;
using namespace telltale::bench;

double median(std::vector<double> x) {
  std::sort(x.begin(), x.end());
  return x[x.size() / 2];
}

void run(std::vector<Case>& cases, const std::vector<Row>& rows, int rounds) {
  for (int round = 0; round < rounds; ++round) {
    for (Case& one : cases) one.ns.push_back(one.loop(rows, one.samples));
  }
}

void print_rates(const std::vector<Case>& cases) {
  std::puts(
      "| all checks, 14 channels | samples | million samples a second | "
      "ns a sample | quickest to slowest |\n|---|---|---|---|---|");
  for (const Case& one : cases) {
    const double ns = median(one.ns);
    const auto [low, high] = std::minmax_element(one.ns.begin(), one.ns.end());
    std::printf("| %s | %zu | %.2f | %.0f | %.0f to %.0f |\n", one.name.data(),
                one.samples, 1000 / ns, ns, *low, *high);
  }
}

}  // namespace

int main(int argc, char** argv) {
  const int rounds = argc > 1 ? std::atoi(argv[1]) : 5;
  if (rounds < 1) return 2;
  const std::vector<Row> rows = made_rows();

  std::vector<Case> all = {
      {"double, frames", judge_frames<double, AllChecks>, kUsualRows},
      {"double, readings", judge_readings<double, AllChecks>, kUsualRows},
      {"single, frames", judge_frames<float, AllChecks>, kUsualRows},
      {"single, readings", judge_readings<float, AllChecks>, kUsualRows},
      {"double, frames, x10", judge_frames<double, AllChecks>, kUsualRows * 10},
      {"double, frames, x0.1", judge_frames<double, AllChecks>,
       kUsualRows / 10},
      without_checks()};
  run(all, rows, rounds);
  print_rates(all);

  const double none = median(all.back().ns);
  std::vector<Case> single = one_by_one();
  run(single, rows, rounds);
  std::puts("\n| check, beyond no checks | ns a sample |\n|---|---|");
  for (const Case& one : single) {
    std::printf("| %s | %.1f |\n", one.name.data(), median(one.ns) - none);
  }
  return 0;
}
