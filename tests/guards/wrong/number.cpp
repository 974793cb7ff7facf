// The core counts in float or double, nothing else.
#include "telltale/telltale.hpp"

using namespace telltale;

#if MISTAKE == 1
[[maybe_unused]] FrameBuilder<int>* builder = nullptr;
#elif MISTAKE == 2
[[maybe_unused]] Finding<long>* finding = nullptr;
#elif MISTAKE == 3
[[maybe_unused]] Monitor<int, AllChecks>* monitor = nullptr;
#else
[[maybe_unused]] FrameBuilder<float>* builder = nullptr;
[[maybe_unused]] Finding<double>* finding = nullptr;
[[maybe_unused]] Monitor<float, AllChecks>* monitor = nullptr;
#endif
