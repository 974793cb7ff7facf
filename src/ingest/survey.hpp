// Understands a log before it is read: from bytes to a layout and a plan.
#pragma once

#include "ingest/byte_store.hpp"
#include "ingest/column_plan.hpp"
#include "ingest/log.hpp"
#include "ingest/map_file.hpp"
#include "ingest/text_encoding.hpp"
#include "ingest/time_order.hpp"
#include "support/result.hpp"

namespace telltale::host {

struct Survey {
  LogLayout layout;
  DecodePlan plan;
  EncodingGuess encoding;
  double stamp_step_s = 0;  // median step between different stamps; 0: none
};

/// How the survey's rows are to be put in order.
TimeOrderOptions order_options_of(const Survey& survey);

/// `map` may be null. Nothing the map says is guessed.
Result<Survey> survey_log(const ByteStore& store, const ReadOptions& options,
                          const LogMap* map);

}  // namespace telltale::host
