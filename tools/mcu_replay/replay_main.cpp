// Replays a packed log through all checks and prints what they tell, one
// finding a line: for the laptop, the emulated controllers and the emulated
// gateway alike.
//
// Reads packed.log in the working folder; emulated controllers have no command
// line. TELLTALE_REPLAY_REAL is float or double.
#include <cstdio>

#include "packed_log.hpp"

namespace {

using Real = TELLTALE_REPLAY_REAL;
using Replayed = telltale::Box<Real, telltale::AllChecks>;

// Too large for the stack of a small controller.
Replayed box;
telltale::Profile profile;

long tenths(Real x) { return static_cast<long>(x * Real(1000)); }

void print(void*, const telltale::Finding<Real>& f) {
  // Times and figures as whole numbers: printf of floats is large on a box.
  std::printf(
      "%u %u %u %u %u %ld.%03d %ld.%03d %ld\n", static_cast<unsigned>(f.check),
      static_cast<unsigned>(f.channel), static_cast<unsigned>(f.severity),
      static_cast<unsigned>(f.event), static_cast<unsigned>(f.run),
      static_cast<long>(f.since.ms / 1000), static_cast<int>(f.since.ms % 1000),
      static_cast<long>(f.until.ms / 1000), static_cast<int>(f.until.ms % 1000),
      f.value == f.value ? tenths(f.value) : 0L);
}

}  // namespace

int main() {
  std::FILE* in = std::fopen("packed.log", "rb");
  if (in == nullptr) return 2;
  telltale::replay::Plate plate;
  if (!telltale::replay::get(in, plate)) return 2;
  profile = plate.profile();
  if (box.configure(profile).error != telltale::SetupError::none) return 3;
  const telltale::FindingSink<Real> sink(print, nullptr);
  telltale::replay::Sample sample;
  long samples = 0;
  while (telltale::replay::get_sample(in, sample)) {
    telltale::replay::feed(box, sample, sink);
    ++samples;
  }
  box.finish(sink);
  std::printf("samples %ld\n", samples);
  std::fclose(in);
  return 0;
}
