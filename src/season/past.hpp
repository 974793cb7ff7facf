// A set's own past, for the health report of a new log of it.
#pragma once

#include <string>
#include <vector>

#include "report/run_past.hpp"
#include "season/history.hpp"
#include "season/run_digest.hpp"
#include "season/store.hpp"
#include "telltale/profile.hpp"

namespace telltale::host::season {

/// Fewest earlier runs with a figure for saying what is usual.
inline constexpr std::size_t kLeastUsual = 5;

/// What a store knows of the sets of one log; the log itself is left out, so
/// that no run is compared with itself.
class OwnPast {
 public:
  static Result<OwnPast> load(Store& store, const std::string& but_sha256);

  /// See own_oil_line.
  [[nodiscard]] OilLine oil_line(const std::string& unit) const;

  /// That run beside the set's earlier ones.
  [[nodiscard]] RunPast beside(const RunDigest& run) const;

 private:
  [[nodiscard]] const UnitHistory* of(const std::string& unit) const;

  std::string store_;
  std::vector<UnitHistory> histories_;
  std::vector<OilLine> lines_;  // of each
};

}  // namespace telltale::host::season
