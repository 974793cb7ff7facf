// FieldValue: a field of a digest as the store and the digest file hold it,
// and the way there and back for every type of field.
#pragma once

#include <cmath>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <variant>

#include "checks/catalogue.hpp"
#include "season/digest_fields.hpp"
#include "season/figure_kind.hpp"
#include "support/units.hpp"

namespace telltale::host::season {

/// Nothing (null), a whole number, a number, a text.
using FieldValue =
    std::variant<std::monostate, std::int64_t, double, std::string>;

/// Names of enumerators as they are stored.
template <class E>
struct EnumNames;
template <>
struct EnumNames<Severity> {
  static constexpr std::string_view kNames[] = {"not judged", "healthy", "note",
                                                "attention", "urgent"};
};
template <>
struct EnumNames<Phase> {
  static constexpr std::string_view kNames[] = {
      "unknown", "stopped", "cranking",  "running-up",
      "no-load", "on-load", "cool-down", "stopping"};
};
template <>
struct EnumNames<Generator> {
  static constexpr std::string_view kNames[] = {"synchronous", "asynchronous"};
};
template <>
struct EnumNames<Cooling> {
  static constexpr std::string_view kNames[] = {"fresh water", "sea water"};
};
template <>
struct EnumNames<Exhaust> {
  static constexpr std::string_view kNames[] = {"unknown", "wet", "dry"};
};
template <>
struct EnumNames<WindingClass> {
  static constexpr std::string_view kNames[] = {"A", "E", "B", "F", "H"};
};
template <>
struct EnumNames<PerformanceClass> {
  static constexpr std::string_view kNames[] = {"G1", "G2", "G3"};
};

template <class E>
concept NamedEnum = requires {
  EnumNames<E>::kNames;
};

// --- to a value --------------------------------------------------------------

template <class T>
FieldValue to_value(const T& x) {
  if constexpr (std::is_same_v<T, std::string>) {
    return x.empty() ? FieldValue{} : FieldValue{x};
  } else if constexpr (std::is_floating_point_v<T>) {
    return std::isfinite(x) ? FieldValue{static_cast<double>(x)} : FieldValue{};
  } else if constexpr (std::is_same_v<T, TimeMs>) {
    return is_set(x) ? FieldValue{x.ms} : FieldValue{};
  } else if constexpr (std::is_same_v<T, std::optional<int>>) {
    return x ? FieldValue{std::int64_t{*x}} : FieldValue{};
  } else if constexpr (std::is_same_v<T, std::uint8_t>) {
    // Poles, legs: none of them means that it is not known.
    return x > 0 ? FieldValue{std::int64_t{x}} : FieldValue{};
  } else if constexpr (std::is_same_v<T, Exhaust>) {
    if (x == Exhaust::unknown) return FieldValue{};
    return std::string(EnumNames<T>::kNames[static_cast<std::size_t>(x)]);
  } else if constexpr (NamedEnum<T>) {
    return std::string(EnumNames<T>::kNames[static_cast<std::size_t>(x)]);
  } else if constexpr (std::is_same_v<T, FigureKind>) {
    return std::string(info_of(x).slug);
  } else if constexpr (std::is_same_v<T, Channel>) {
    return x == Channel::none ? FieldValue{}
                              : FieldValue{std::string(info_of(x).slug)};
  } else if constexpr (std::is_same_v<T, LogUnit>) {
    return std::string(name_of(x));
  } else if constexpr (std::is_same_v<T, CheckId>) {
    const CheckCard* card = check_of(*x.id);
    return card == nullptr ? FieldValue{}
                           : FieldValue{std::string(card->info->slug)};
  } else {
    static_assert(std::is_integral_v<T>);
    return static_cast<std::int64_t>(x);
  }
}

// --- from a value ------------------------------------------------------------

/// A number out of a value: whole or not; NaN where there is none.
inline double number_in(const FieldValue& v) {
  if (const auto* x = std::get_if<double>(&v)) return *x;
  if (const auto* x = std::get_if<std::int64_t>(&v)) {
    return static_cast<double>(*x);
  }
  return kNone;
}

/// Sets `x`; false where the value is of the wrong type or unknown. Null sets
/// what stands for nothing, where the type has that.
template <class T>
bool from_value(const FieldValue& v, T& x) {
  const bool null = std::holds_alternative<std::monostate>(v);
  const auto* text = std::get_if<std::string>(&v);
  const auto* whole = std::get_if<std::int64_t>(&v);
  if constexpr (std::is_same_v<T, std::string>) {
    if (!null && text == nullptr) return false;
    x = null ? std::string{} : *text;
    return true;
  } else if constexpr (std::is_floating_point_v<T>) {
    if (text != nullptr) return false;
    x = static_cast<T>(number_in(v));
    return true;
  } else if constexpr (std::is_same_v<T, TimeMs>) {
    if (!null && whole == nullptr) return false;
    x = null ? kNoTime : TimeMs{*whole};
    return true;
  } else if constexpr (std::is_same_v<T, std::optional<int>>) {
    if (!null && whole == nullptr) return false;
    x = null ? std::optional<int>{}
             : std::optional<int>(static_cast<int>(*whole));
    return true;
  } else if constexpr (std::is_same_v<T, std::uint8_t>) {
    x = whole != nullptr ? static_cast<T>(*whole) : T{0};
    return null || whole != nullptr;
  } else if constexpr (NamedEnum<T>) {
    if (text == nullptr) return false;
    std::size_t i = 0;
    for (const std::string_view name : EnumNames<T>::kNames) {
      if (name == *text) {
        x = static_cast<T>(i);
        return true;
      }
      ++i;
    }
    return false;
  } else if constexpr (std::is_same_v<T, FigureKind>) {
    const auto kind = text != nullptr ? figure_named(*text) : std::nullopt;
    if (kind) x = *kind;
    return kind.has_value();
  } else if constexpr (std::is_same_v<T, Channel>) {
    x = text != nullptr ? channel_of(*text) : Channel::none;
    return null || x != Channel::none;
  } else if constexpr (std::is_same_v<T, LogUnit>) {
    const auto unit = text != nullptr ? log_unit_named(*text) : std::nullopt;
    if (unit) x = *unit;
    return unit.has_value();
  } else if constexpr (std::is_same_v<T, CheckId>) {
    const CheckCard* card = text != nullptr ? check_named(*text) : nullptr;
    if (card == nullptr) return false;
    *x.id = card->info->id;
    return true;
  } else {
    static_assert(std::is_integral_v<T>);
    if (whole == nullptr) return false;
    x = static_cast<T>(*whole);
    return true;
  }
}

}  // namespace telltale::host::season
