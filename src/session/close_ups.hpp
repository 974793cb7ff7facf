// CloseUps: for every finding of a unit, a picture of the stretch it is about.
#pragma once

#include <memory>
#include <vector>

#include "report/health_report.hpp"
#include "summary/picture_pyramid.hpp"
#include "summary/picture_store.hpp"
#include "telltale/detect/finding.hpp"

namespace telltale::host {

/// Follows findings as FindingBook does. A stretch is pictured a little after
/// it has closed; if it opens again soon, once more and longer.
class CloseUps {
 public:
  /// REQUIRES: `store` outlives this.
  explicit CloseUps(PictureStore& store) : store_(&store) {}

  void take(const Finding<double>& finding);
  /// Pictures what is due at `now`, from what `past` remembers.
  void step(TimeMs now, DurationMs interval, const PicturePyramid& past);
  /// Hands the findings of a run their pictures, to be drawn when due; forgets
  /// what else belonged to it.
  void attach(std::uint16_t run, std::vector<FindingReport>& findings);
  /// The log is over: pictures all that is left.
  void finish(DurationMs interval, const PicturePyramid& past);

 private:
  struct Stretch {
    Finding<double> finding;
    std::shared_ptr<Picture> picture;
    bool open = true;      // more may come
    bool drawn = false;    // as far as it is known
    bool settled = false;  // its run is over: no more findings come
    TimeMs drawn_since = kNoTime;
    TimeMs drawn_until = kNoTime;
  };
  /// Time to show before and after.
  struct Margins {
    DurationMs before;
    DurationMs after;
  };

  Stretch* find(const Finding<double>& finding);
  [[nodiscard]] static Margins margins(const Finding<double>& finding,
                                       DurationMs interval);
  void draw(Stretch& stretch, DurationMs interval, const PicturePyramid& past);

  PictureStore* store_;
  std::vector<Stretch> stretches_;
};

}  // namespace telltale::host
