#include "season/past.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "season/figure_facts.hpp"
#include "season/own_oil_line.hpp"
#include "season/reference.hpp"
#include "support/safe_text.hpp"
#include "telltale/condition/median.hpp"

namespace telltale::host::season {
namespace {

constexpr std::size_t kUsualRuns = 20;   // the last so many are the usual
constexpr std::size_t kServiceRuns = 8;  // on either side of a service
constexpr std::size_t kLeastServiceRuns = 3;
// Readings are no finer than this share of what is worth a look.
constexpr double kLeastSpread = 0.1;

double median_of(std::vector<double> x) {
  return median_in_place(std::span<double>(x));
}
std::vector<double> part(const std::vector<double>& x, std::size_t from,
                         std::size_t to) {
  return {x.begin() + static_cast<std::ptrdiff_t>(from),
          x.begin() + static_cast<std::ptrdiff_t>(to)};
}

/// Only what began before that time.
UnitHistory earlier(const UnitHistory& all, TimeMs before) {
  UnitHistory out;
  out.unit = all.unit;
  out.metered = all.metered;
  out.zone_known = all.zone_known;
  for (const PastRun& run : all.runs) {
    if (!is_set(run.start) || run.start >= before) break;
    out.runs.push_back(run);
  }
  for (std::size_t k = 0; k < kFigureCount; ++k) {
    for (const PastFigure& f : all.figures[k]) {
      if (f.run < out.runs.size()) out.figures[k].push_back(f);
    }
  }
  return out;
}

/// The last job done before a time.
const UnitDigest::Service* last_service(const UnitDigest& unit, TimeMs before) {
  const UnitDigest::Service* last = nullptr;
  for (const UnitDigest::Service& item : unit.service) {
    if (!is_set(item.done_on) || item.done_on >= before) continue;
    if (last == nullptr || last->done_on < item.done_on) last = &item;
  }
  return last;
}

class Beside {
 public:
  Beside(const UnitHistory& past, const RunDigest& run, TimeMs service_on)
      : past_(past),
        run_(run),
        service_on_(service_on),
        profile_(profile_of(past.unit.about)) {}

  [[nodiscard]] FigurePast figure(const RunFigure& now) const {
    const FigureInfo& info = info_of(now.kind);
    FigurePast out;
    out.figure = info.slug;
    out.title = info.title;
    out.unit = info.unit;
    out.channel = info.channel;
    out.now = now.value;
    const Basis basis = basis_named(now.basis);
    const ReferenceTable here = {{{now.kind, basis},
                                  {now.at, run_.water_degc, run_.air_degc,
                                   run_.start_degc, run_.load_pct}}};
    const Adjusted then = adjust(past_, now.kind, here, profile_);
    if (then.basis != basis || then.value.empty()) return out;
    out.last = then.value.back();
    out.last_at = past_.runs[then.run.back()].start;
    usual(then, out);
    about_service(then, out);
    return out;
  }

 private:
  void usual(const Adjusted& then, FigurePast& out) const {
    const std::size_t all = then.value.size();
    const std::size_t n = std::min(all, kUsualRuns);
    std::vector<double> last = part(then.value, all - n, all);
    out.runs = static_cast<int>(n);
    out.usual = median_of(last);
    if (n < kLeastUsual) return;
    const FigureKind kind = *figure_named(out.figure);
    const double worth = worth_of(kind, then.basis, profile_, out.usual);
    for (double& x : last) x = std::abs(x - out.usual);
    const double sigma =
        std::max(1.4826 * median_of(last), kLeastSpread * worth);
    // Of one more run about the median of n, and of the correction to today's
    // condition; a MAD is worth 37 % of its points.
    const double m = static_cast<double>(n);
    const double se = std::sqrt(sigma * sigma * (1.0 + 1.5708 / m) +
                                then.doubt(all - n).level);
    const double half =
        boost::math::quantile(boost::math::students_t(std::max(2.0, 0.37 * m)),
                              0.975) *
        se;
    out.low = out.usual - half;
    out.high = out.usual + half;
    const double off = out.now - out.usual;
    out.unusual = std::abs(off) > half && std::abs(off) >= 0.5 * worth;
    const BadWay bad = info_of(kind).bad;
    out.worse = bad == BadWay::both || (bad == BadWay::up ? off > 0 : off < 0);
  }
  void about_service(const Adjusted& then, FigurePast& out) const {
    if (!is_set(service_on_)) return;
    std::size_t first = 0;  // after it
    while (first < then.run.size() &&
           past_.runs[then.run[first]].start < service_on_) {
      ++first;
    }
    const std::size_t to = std::min(first + kServiceRuns, then.value.size());
    if (first < kLeastServiceRuns || to - first < kLeastServiceRuns) return;
    out.before_service = median_of(
        part(then.value, first - std::min(first, kServiceRuns), first));
    out.after_service = median_of(part(then.value, first, to));
    const double worth = worth_of(*figure_named(out.figure), then.basis,
                                  profile_, out.before_service);
    out.service_told =
        std::abs(out.after_service - out.before_service) >= 0.5 * worth;
  }

  const UnitHistory& past_;
  const RunDigest& run_;
  TimeMs service_on_;
  Profile profile_;
};

}  // namespace

Result<OwnPast> OwnPast::load(Store& store, const std::string& but_sha256) {
  OwnPast out;
  out.store_ = store.name();
  const Result<std::vector<UnitRow>> units = store.units();
  if (!units) return units.error();
  for (const UnitRow& unit : *units) {
    Result<UnitHistory> history =
        load_history(store.database(), unit, but_sha256);
    if (!history) return history.error();
    const Result<OilLine> line = own_oil_line(store.database(), *history);
    if (!line) return line.error();
    out.histories_.push_back(std::move(*history));
    out.lines_.push_back(*line);
  }
  return out;
}

const UnitHistory* OwnPast::of(const std::string& unit) const {
  const std::string name = printable(unit, 200);
  for (const UnitHistory& history : histories_) {
    if (history.unit.about.name == name) return &history;
  }
  return nullptr;
}

OilLine OwnPast::oil_line(const std::string& unit) const {
  const UnitHistory* history = of(unit);
  if (history == nullptr) return {};
  return lines_[static_cast<std::size_t>(history - histories_.data())];
}

RunPast OwnPast::beside(const RunDigest& run) const {
  RunPast out;
  const UnitHistory* history = of(run.unit);
  if (history == nullptr) {
    out.why_not =
        fmt::format("{} holds no other run of {}", store_,
                    run.unit.empty() ? "a set without a name" : run.unit);
    return out;
  }
  if (!is_set(run.start)) {
    out.why_not = "this log has no dates, so that nothing says what came first";
    return out;
  }
  const UnitHistory past = earlier(*history, run.start);
  if (past.runs.empty()) {
    out.why_not = fmt::format("{} holds no earlier run of this set", store_);
    return out;
  }
  out.runs = static_cast<int>(past.runs.size());
  out.first = past.runs.front().start;
  out.last = past.runs.back().start;
  if (const auto* item = last_service(past.unit.about, run.start)) {
    out.service = item->name;
    out.service_on = item->done_on;
  }
  out.own_oil_line = oil_line(run.unit).known;
  const Beside beside(past, run, out.service_on);
  for (const RunFigure& now : run.figures) {
    if (std::isfinite(now.value)) out.figures.push_back(beside.figure(now));
  }
  return out;
}

}  // namespace telltale::host::season
