// The chattering index against published definitions and closed forms.
#include "telltale/condition/run_lengths.hpp"

#include <cmath>
#include <initializer_list>
#include <random>

#include "catch.hpp"

namespace telltale {
namespace {

template <class R = double>
RunLengths<R> raised_at(std::initializer_list<int> at_s) {
  RunLengths<R> runs;
  for (const int s : at_s) runs.raise(TimeMs{s * 1000});
  return runs;
}

// Cases computed by hand from the definition of Kondaveeti, Izadi, Shah et al.
// (conference paper 2010, journal paper 2013); the papers' own tables were not
// at hand.
TEST_CASE("the chattering index of listed raises is that of its definition") {
  CHECK(raised_at({0, 20, 40, 60}).index() == 0.05);
  CHECK(raised_at({0, 10, 20, 30, 40}).index() == 0.1);
  const auto mixed = raised_at({0, 5, 8, 30, 600, 603, 4200});
  CHECK(mixed.index() == Approx(0.152359).margin(5e-7));
  CHECK(mixed.index_within() == Approx(0.152020).margin(5e-7));
  CHECK(raised_at({0, 1800, 3600}).index() == Approx(0.000556).margin(5e-7));
  CHECK(raised_at({0, 60, 120}).index() == Approx(1.0 / 60.0).margin(1e-15));
  CHECK(raised_at({0, 5, 10, 15, 20, 40}).index() == Approx(0.17));
  CHECK(raised_at({0, 1, 3, 7}).index() == Approx(7.0 / 12.0));
}

TEST_CASE("exactly three a minute chatter, a little fewer do not") {
  CHECK(raised_at({0, 20, 40, 60, 80}).chatters());
  CHECK_FALSE(raised_at({0, 20, 40, 60, 81}).chatters());
  CHECK(raised_at<float>({0, 20, 40, 60, 80}).chatters());
  CHECK_FALSE(raised_at<float>({0, 20, 40, 60, 81}).chatters());
}

// Two raises that happen to lie 20 s apart have an index of 0.05 already.
TEST_CASE("few raises prove nothing") {
  CHECK(raised_at({0, 20}).index() == 0.05);
  CHECK_FALSE(raised_at({0, 20}).chatters());
  CHECK_FALSE(raised_at({0, 1, 2, 3}).chatters());
  CHECK(raised_at({0, 1, 2, 3, 4}).chatters());
  CHECK(std::isnan(raised_at({}).index()));
  CHECK(std::isnan(raised_at({7}).index()));
  CHECK(std::isnan(raised_at({7}).index_within()));
}

TEST_CASE("run lengths are whole seconds and at least one") {
  RunLengths<double> runs;
  for (const int ms : {0, 0, 1499, 2999, 5498}) runs.raise(TimeMs{ms});
  CHECK(runs.count_of(1) == 2);  // 0 ms and 1499 ms
  CHECK(runs.count_of(2) == 2);  // 1500 ms and 2499 ms
  CHECK(runs.longer() == 0);
  runs.raise(TimeMs{5498 + 60'499});
  CHECK(runs.count_of(60) == 1);
  runs.raise(TimeMs{5498 + 60'499 + 60'500});
  CHECK(runs.longer() == 1);
}

TEST_CASE("a time that steps back counts as no time gone by") {
  RunLengths<double> runs;
  runs.raise(TimeMs{10'000});
  runs.raise(TimeMs{4'000});
  CHECK(runs.count_of(1) == 1);
  CHECK(runs.last() == TimeMs{10'000});
}

// Closed form: geometric run lengths with p give -p ln p / (1 - p).
TEST_CASE("geometric run lengths have the index of the closed form") {
  std::mt19937 random(5);
  std::geometric_distribution<int> gap(0.5);
  RunLengths<double> runs;
  std::int64_t at_s = 0;
  for (int i = 0; i < 400'000; ++i) {
    runs.raise(TimeMs{at_s * 1000});
    at_s += gap(random) + 1;
  }
  CHECK(runs.index() == Approx(0.693147181).epsilon(0.005));
}

// Independent readings at 1 s, limit at +1 sigma: with p = 0.1586553 and
// q = 1 - p the raises come at p q a second and the index is
// p q / (q - p) [(-ln p - q) / q - (-ln q - p) / p] = 0.214947313.
TEST_CASE("a limit at one sigma of white noise has the index it must have") {
  std::mt19937_64 random(11);
  std::bernoulli_distribution above(0.1586553);
  RunLengths<double> runs;
  constexpr int kReadings = 4'000'000;
  bool before = false;
  for (int i = 0; i < kReadings; ++i) {
    const bool now = above(random);
    if (now && !before) runs.raise(TimeMs{std::int64_t{i} * 1000});
    before = now;
  }
  CHECK(runs.raises() / double{kReadings} == Approx(0.133484).epsilon(0.005));
  CHECK(runs.index() == Approx(0.214947313).epsilon(0.005));
}

TEST_CASE("single precision tells the same as double over a long life") {
  RunLengths<float> box;
  RunLengths<double> host;
  std::mt19937 random(3);
  std::uniform_int_distribution<int> gap_ms(200, 400'000);
  std::int64_t ms = 0;
  for (int i = 0; i < 200'000; ++i) {
    box.raise(TimeMs{ms});
    host.raise(TimeMs{ms});
    ms += gap_ms(random);
  }
  CHECK(static_cast<double>(box.index()) == Approx(host.index()).epsilon(1e-5));
}

TEST_CASE("an input costs a box this much and no more") {
  CHECK(sizeof(RunLengths<float>) <= 264);
  CHECK(sizeof(RunLengths<float, 20>) <= 112);
}

}  // namespace
}  // namespace telltale
