// Numbers for the texts of a unit column.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

namespace telltale::host {

/// The log's units in order of appearance. Bounded: a column with more names
/// than this names no units.
class UnitNames {
 public:
  static constexpr std::size_t kMost = 256;

  /// The unit's number; nothing where there are too many already.
  std::optional<std::uint16_t> number_of(std::string_view name) {
    if (!names_.empty() && name == names_[last_]) return last_;
    const auto found = numbers_.find(std::string(name));
    if (found != numbers_.end()) return last_ = found->second;
    if (names_.size() >= kMost) return std::nullopt;
    last_ = static_cast<std::uint16_t>(names_.size());
    names_.emplace_back(name);
    numbers_.emplace(name, last_);
    return last_;
  }

  [[nodiscard]] const std::vector<std::string>& names() const { return names_; }

 private:
  std::vector<std::string> names_;
  std::unordered_map<std::string, std::uint16_t> numbers_;
  std::uint16_t last_ = 0;
};

}  // namespace telltale::host
