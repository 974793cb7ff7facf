// Everything of the core.
#pragma once

#include "telltale/acquire/frame_builder.hpp"
#include "telltale/advise/event_record.hpp"
#include "telltale/base/version.hpp"
#include "telltale/box.hpp"
#include "telltale/detect/checks/all.hpp"
#include "telltale/detect/finding_queue.hpp"
#include "telltale/detect/protection_checks.hpp"
#include "telltale/monitor.hpp"
#include "telltale/profile.hpp"

namespace telltale {

/// A monitor for a box: single precision, all checks. Name a shorter CheckList
/// to save memory.
using BoxMonitor = Monitor<float, AllChecks>;
/// A monitor for the host.
using HostMonitor = Monitor<double, AllChecks>;

}  // namespace telltale
