// Volts times amperes tell watts from kilowatts.
#pragma once

#include <string>
#include <vector>

#include "ingest/dialect.hpp"
#include "ingest/understand.hpp"

namespace telltale::host {

/// Where the power column is a thousand times what volts and amperes make, or
/// a thousandth, its unit is corrected between W and kW, with a note.
void check_power(const Table& table, const std::vector<std::size_t>& rows,
                 DecimalMark decimal, std::vector<Column>& columns,
                 std::vector<std::string>& notes);

}  // namespace telltale::host
