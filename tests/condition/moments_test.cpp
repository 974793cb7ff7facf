// Mean and sd against the NIST StRD univariate sets.
#include "telltale/condition/moments.hpp"

#include <cmath>
#include <vector>

#include "catch.hpp"

namespace telltale {
namespace {

/// Correct digits: -log10 of the relative error.
double digits(double value, double certified) {
  return value == certified
             ? 16
             : -std::log10(std::abs(value - certified) / std::abs(certified));
}

template <class R>
Moments<R> moments_of(const std::vector<double>& data) {
  Moments<R> m;
  for (const double x : data) m.add(static_cast<R>(x));
  return m;
}

/// NIST StRD NumAcc2..4: c, then 500 times (c - 0.1, c + 0.1); mean c, sd 0.1.
std::vector<double> num_acc(double low, double c, double high) {
  std::vector<double> data{c};
  for (int i = 0; i < 500; ++i) {
    data.push_back(low);
    data.push_back(high);
  }
  return data;
}

// NIST StRD Mavro: 50 filter transmittances.
const std::vector<double> kMavro = {
    2.00180, 2.00170, 2.00180, 2.00190, 2.00180, 2.00170, 2.00150, 2.00140,
    2.00150, 2.00150, 2.00170, 2.00180, 2.00180, 2.00190, 2.00190, 2.00210,
    2.00200, 2.00160, 2.00140, 2.00130, 2.00130, 2.00150, 2.00150, 2.00160,
    2.00150, 2.00140, 2.00130, 2.00140, 2.00150, 2.00140, 2.00150, 2.00160,
    2.00150, 2.00160, 2.00190, 2.00200, 2.00200, 2.00210, 2.00220, 2.00230,
    2.00240, 2.00250, 2.00270, 2.00260, 2.00260, 2.00260, 2.00270, 2.00260,
    2.00250, 2.00240};

TEST_CASE("moments reach the certified digits of NIST StRD") {
  // Floors: what Welford in double reaches, limited by the inputs' own
  // binary rounding for the last two.
  const auto mavro = moments_of<double>(kMavro);
  CHECK(digits(mavro.mean(), 2.00185600000000) >= 14);
  CHECK(digits(mavro.sd(), 0.000429123454003053) >= 11.5);

  const auto acc1 = moments_of<double>({10000001, 10000003, 10000002});
  CHECK(acc1.mean() == 10000002);
  CHECK(acc1.sd() == 1);
  const auto acc2 = moments_of<double>(num_acc(1.1, 1.2, 1.3));
  CHECK(digits(acc2.mean(), 1.2) >= 14);
  CHECK(digits(acc2.sd(), 0.1) >= 14);
  const auto acc3 =
      moments_of<double>(num_acc(1000000.1, 1000000.2, 1000000.3));
  CHECK(digits(acc3.mean(), 1000000.2) >= 14);
  CHECK(digits(acc3.sd(), 0.1) >= 9);
  const auto acc4 =
      moments_of<double>(num_acc(10000000.1, 10000000.2, 10000000.3));
  CHECK(digits(acc4.sd(), 0.1) >= 8);
}

// The cancellation case: {4, 7, 13, 16} + 1e9 has variance 30 exactly.
TEST_CASE("a billion added changes nothing of the variance") {
  CHECK(moments_of<double>({1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16}).variance() ==
        30);
}

TEST_CASE("single precision still moves after ten million samples") {
  Moments<float> m;
  // Level 400 first, 402 later: mean 401, sd 1. An uncompensated update stops
  // following after some ten thousand samples.
  for (int i = 0; i < 5'000'000; ++i) m.add(400.0F);
  for (int i = 0; i < 5'000'000; ++i) m.add(402.0F);
  CHECK(m.mean() == Approx(401.0F).margin(1e-3));
  CHECK(m.sd() == Approx(1.0F).epsilon(1e-3));
  CHECK(m.count() == 10'000'000);
}

TEST_CASE("nothing seen is no number") {
  const Moments<double> m;
  CHECK(std::isnan(m.mean()));
  CHECK(std::isnan(m.variance()));
  CHECK(m.count() == 0);
}

}  // namespace
}  // namespace telltale
