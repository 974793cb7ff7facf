// Words that mostly name something else, and when they do not.
#pragma once

#include "ingest/header_name.hpp"

namespace telltale::host {

/// Takes out foreign words that the header's other words explain: "exhaust
/// manifold temp", "wind. temp" for a winding, "% of rated".
void pardon_foreign(HeaderName& name);

}  // namespace telltale::host
