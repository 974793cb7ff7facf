// The catalogue of checks at run time: what each says about itself.
#pragma once

#include <cstdint>
#include <span>
#include <string_view>

#include "telltale/detect/check.hpp"

namespace telltale::host {

/// One check's card; all pointers live for ever.
struct CheckCard {
  const CheckInfo* info;
  const Advice* advice;
  const Explanation* explanation;
  const When* when;
  Limits (*limits)(const Profile&);
};

/// All checks, in the order of contract section 6.
std::span<const CheckCard> catalogue();
/// nullptr where no check has that name or id.
const CheckCard* check_named(std::string_view slug);
const CheckCard* check_of(std::uint16_t id);

}  // namespace telltale::host
