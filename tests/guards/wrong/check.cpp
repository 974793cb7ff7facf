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
#if MISTAKE != 5
  static constexpr Explanation explanation{
      .sees = "", .decides = "", .blind = "", .fooled = ""};
#endif
#if MISTAKE == 2
  static constexpr float limits(const Profile&) { return 0.0F; }
#else
  static constexpr Limits limits(const Profile&) { return {}; }
#endif
#if MISTAKE == 3
  void step(const Moment<R>&, Ledger<R>&) {}
#elif MISTAKE == 4
  bool step(Moment<R>&, Ledger<R>&) { return true; }
#else
  bool step(const Moment<R>&, Ledger<R>&) { return true; }
#endif
#if MISTAKE == 6
  explicit Mine(int) {}
#endif
};

[[maybe_unused]] constexpr std::size_t kSize = CheckList<Mine>::kSize;

}  // namespace
