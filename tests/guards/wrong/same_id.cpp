// Two checks of one list may not share an id.
#include "telltale/detect/check_list.hpp"
#include "telltale/detect/checks/coolant_cold.hpp"
#include "telltale/detect/checks/coolant_high.hpp"

#if MISTAKE == 1
using List = telltale::CheckList<telltale::CoolantHigh, telltale::CoolantHigh>;
#else
using List = telltale::CheckList<telltale::CoolantHigh, telltale::CoolantCold>;
#endif
static_assert(List::kSize == 2);
