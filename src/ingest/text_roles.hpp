// Columns of words: the controller's state, its alarms, the name of the set.
#pragma once

#include "ingest/column.hpp"

namespace telltale::host {

/// Each takes the column, filling `use` and `plan`, where header and cells say
/// that it is one of that kind; else false and nothing is changed.

/// Words for what the set is doing; numbers are not guessed.
bool take_state(Column& column);
/// Texts of alarms, codes of alarms, or one alarm's yes and no.
bool take_alarm(Column& column);
/// A few names, or numbers that a header calls numbers of sets.
bool take_unit(Column& column);

}  // namespace telltale::host
