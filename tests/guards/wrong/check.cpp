// A check is refused where it breaks the contract of detect/check.hpp; each
// mistake breaks another clause.
#include "telltale/detect/check_list.hpp"

namespace {

using namespace telltale;

template <std::floating_point R>
class Mine {
 public:
  static constexpr CheckInfo info{
      .id = 900, .slug = "mine", .title = "Mine", .source = "none"};
  static constexpr When when{};
#if MISTAKE != 1
  static constexpr Advice advice{.summary = "{value}"};
#endif
  static constexpr Explanation explanation{
      .sees = "", .decides = "", .blind = "", .fooled = ""};
  static constexpr Limits limits(const Profile&) { return {}; }
#if MISTAKE == 2
  void configure(const Profile&) {}
#else
  SetupError configure(const Profile&) { return SetupError::none; }
#endif
#if MISTAKE == 3
  void step(const Moment<R>&, const FindingSink<R>&) {}
#elif MISTAKE == 4
  bool step(Moment<R>&, const FindingSink<R>&) { return true; }
#else
  bool step(const Moment<R>&, const FindingSink<R>&) { return true; }
#endif
#if MISTAKE != 5
  void reset() {}
#endif
#if MISTAKE == 6
  explicit Mine(int) {}
#endif
};

[[maybe_unused]] constexpr std::size_t kSize = CheckList<Mine>::kSize;

}  // namespace
