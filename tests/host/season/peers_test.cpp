// Peers: factors as published, a bad one named, healthy ones left alone.
#include "season/peers.hpp"

#include <algorithm>
#include <cmath>

#include "catch.hpp"
#include "noise.hpp"

namespace telltale::host::season {
namespace {

std::vector<FigureFollow> compared(const std::vector<double>& levels,
                                   BadWay bad, double least) {
  std::vector<FigureFollow> figures(levels.size());
  std::vector<PeerValue> values;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    values.push_back({levels[i], 0.1, &figures[i]});
  }
  compare(values, bad, least);
  return figures;
}

// Croux and Rousseeuw 1992 (as in R robustbase): b_n of the MAD.
TEST_CASE("small samples have their published factors") {
  CHECK(mad_factor(5) == Approx(1.206));
  CHECK(mad_factor(8) == Approx(1.129));
  CHECK(mad_factor(20) == Approx(20.0 / 19.2));
}

TEST_CASE("the MAD of normal samples comes out right on average") {
  Noise noise(17);
  double sum = 0.0;
  constexpr int kSamples = 4000;
  for (int s = 0; s < kSamples; ++s) {
    std::vector<double> x = noise.series(8);
    std::sort(x.begin(), x.end());
    const double middle = 0.5 * (x[3] + x[4]);
    for (double& v : x) v = std::abs(v - middle);
    std::sort(x.begin(), x.end());
    sum += 1.4826 * mad_factor(8) * 0.5 * (x[3] + x[4]);
  }
  CHECK(sum / kSamples == Approx(1.0).margin(0.03));
}

TEST_CASE("a low one stands out, on its bad side only") {
  const std::vector<double> levels = {300, 305, 296, 302, 299, 298, 303, 220};
  const auto down = compared(levels, BadWay::down, 5.0);
  CHECK(down[7].peers.rank == 1);
  CHECK(down[7].peers.of == 8);
  CHECK(down[7].peers.z > 5.0);
  CHECK(down[7].peers.p < 1e-3);
  CHECK(down[0].peers.p > 0.1);
  const auto up = compared(levels, BadWay::up, 5.0);
  CHECK(up[7].peers.rank == 8);
  CHECK(up[7].peers.p > 0.99);
}

TEST_CASE("equal sets do not make small differences large") {
  const auto same =
      compared({300, 300, 300, 300, 300, 300, 301}, BadWay::both, 5.0);
  for (const FigureFollow& figure : same) CHECK(figure.peers.p > 0.5);
}

TEST_CASE("four are too few to say what is usual") {
  for (const auto& figure : compared({1, 2, 3, 99}, BadWay::up, 1.0)) {
    CHECK_FALSE(figure.peers.known);
  }
}

}  // namespace
}  // namespace telltale::host::season
