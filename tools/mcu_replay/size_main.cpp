// What firmware pays for the core: all checks or, with TELLTALE_ONLY, one of
// them (or none: telltale::CheckList<>).
#include "telltale/telltale.hpp"

#ifndef TELLTALE_ONLY
#define TELLTALE_ONLY telltale::AllChecks
#endif

namespace {

using Sized = telltale::Box<float, TELLTALE_ONLY>;

Sized box;
constinit telltale::Profile profile;
volatile float reading = 0.0F;
volatile unsigned told = 0;

void take(void*, const telltale::Finding<float>& finding) {
  told = told + finding.check;
}

}  // namespace

int main() {
  if (box.configure(profile).error != telltale::SetupError::none) return 1;
  const telltale::FindingSink<float> sink(take, nullptr);
  for (telltale::TimeMs now{};; now = now + telltale::seconds(1)) {
    for (std::size_t i = 0; i < telltale::kChannelCount; ++i) {
      box.readings().put(static_cast<telltale::Channel>(i), now, reading);
    }
    box.scan(now, sink);
  }
}
