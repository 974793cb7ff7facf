// How thin engine oil gets: log10 of viscosity against temperature, by table.
#pragma once

#include <array>
#include <concepts>
#include <cstddef>

namespace telltale {

namespace detail {
// Not in the function: it would be copied at every call.
inline constexpr std::array<float, 19> kLogViscosity = {
    3.94695F, 3.49482F, 3.10846F, 2.77632F, 2.48914F, 2.23946F, 2.02119F,
    1.82936F, 1.65990F, 1.50941F, 1.37510F, 1.25466F, 1.14613F, 1.04790F,
    0.95860F, 0.87710F, 0.80243F, 0.73376F, 0.67041F};
}  // namespace detail

/// log10 of the kinematic viscosity (mm2/s) of a typical SAE 15W-40 (105 at
/// 40 degC, 14.0 at 100 degC) by the relation of ASTM D341, tabulated every
/// 10 K so that a box needs no logarithm; straight lines between, within 0.4 %
/// of the relation. A test recomputes the table with ViscosityLine.
///
/// What matters to the oil-pressure line is the shape: other engine grades
/// differ by nearly a constant factor, which the fit takes up.
template <std::floating_point R>
constexpr R log_viscosity(R celsius) {
  constexpr R kFirst = R(-20);
  constexpr R kStep = R(10);
  R place = (celsius - kFirst) / kStep;
  if (!(place > R(0))) place = R(0);
  if (place > R(17.999)) place = R(17.999);
  const auto i = static_cast<std::size_t>(place);
  const R share = place - static_cast<R>(i);
  const R low = static_cast<R>(detail::kLogViscosity[i]);
  const R high = static_cast<R>(detail::kLogViscosity[i + 1]);
  return low + share * (high - low);
}

}  // namespace telltale
