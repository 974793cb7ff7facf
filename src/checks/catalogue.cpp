// Made of AllChecks, so that a new check is listed by itself.
#include "checks/catalogue.hpp"

#include <array>

#include "telltale/detect/checks/all.hpp"

namespace telltale::host {
namespace {

template <template <class> class C>
CheckCard card() {
  return {&C<double>::info, &C<double>::advice, &C<double>::explanation,
          &C<double>::when, &C<double>::limits};
}

template <template <class> class... Cs>
std::array<CheckCard, sizeof...(Cs)> cards(CheckList<Cs...>) {
  return {card<Cs>()...};
}

}  // namespace

std::span<const CheckCard> catalogue() {
  static const auto kCards = cards(AllChecks{});
  return kCards;
}

const CheckCard* check_named(std::string_view slug) {
  for (const CheckCard& card : catalogue()) {
    if (card.info->slug == slug) return &card;
  }
  return nullptr;
}

const CheckCard* check_of(std::uint16_t id) {
  for (const CheckCard& card : catalogue()) {
    if (card.info->id == id) return &card;
  }
  return nullptr;
}

}  // namespace telltale::host
