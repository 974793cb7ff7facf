// Each check alone, and none, for core_bench.
#include "core_loops.hpp"

namespace telltale::bench {
namespace {

template <template <class> class... Cs>
std::vector<Case> each(CheckList<Cs...> /*all*/) {
  return {{Cs<double>::info.slug, judge_frames<double, CheckList<Cs>>,
           kUsualRows}...};
}

}  // namespace

Case without_checks() {
  return {"double, frames, no checks", judge_frames<double, CheckList<>>,
          kUsualRows};
}
std::vector<Case> one_by_one() { return each(AllChecks{}); }

}  // namespace telltale::bench
