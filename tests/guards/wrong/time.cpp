// Points in time, spans of time and bare numbers do not mix.
#include "telltale/base/time.hpp"

using namespace telltale;

int main() {
  const TimeMs now{1000};
  const DurationMs second{1000};
#if MISTAKE == 1
  return now + now == now ? 1 : 0;
#elif MISTAKE == 2
  return now == second ? 1 : 0;
#elif MISTAKE == 3
  return second - now == second ? 1 : 0;
#elif MISTAKE == 4
  return now + 5 > now ? 1 : 0;
#else
  return now + second > now && now - now < second ? 0 : 1;
#endif
}
