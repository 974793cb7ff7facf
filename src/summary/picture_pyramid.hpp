// PicturePyramid: the recent past in detail, the distant past in outline, so
// that a stretch can be pictured once it has proved worth it.
#pragma once

#include <cstddef>
#include <vector>

#include "summary/picture.hpp"

namespace telltale::host {

/// Levels of columns: the lowest holds scans, each further one columns of two
/// from below, and every level remembers its last kReach. A stretch of n scans
/// that ends now can so be had in kReach / 2 columns or more, or scan by scan
/// where n is smaller. Memory grows with the logarithm of the log's length.
class PicturePyramid {
 public:
  static constexpr std::size_t kReach = 512;

  /// The next scan. REQUIRES: times rise.
  void add(const PictureColumn& scan);

  /// What lies in from <= time <= to, at most `most` columns.
  [[nodiscard]] Picture window(TimeMs from, TimeMs to,
                               std::size_t most = kReach) const;

 private:
  struct Level {
    std::vector<PictureColumn> ring;
    std::size_t oldest = 0;
    PictureColumn half;  // waits for its other half to go one level up
    bool has_half = false;

    void push(const PictureColumn& column);
    [[nodiscard]] const PictureColumn& at(std::size_t i) const {
      return ring[(oldest + i) % ring.size()];
    }
    /// Nothing has been forgotten that lies at or after `from`.
    [[nodiscard]] bool reaches(TimeMs from) const {
      return ring.size() < kReach || at(0).first <= from;
    }
  };

  void add_level();

  std::vector<Level> levels_;
};

}  // namespace telltale::host
