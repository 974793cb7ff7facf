// Which column of a journal says what.
#include <algorithm>
#include <string>
#include <vector>

#include "alarms/event_words.hpp"
#include "alarms/journal_planner.hpp"
#include "alarms/journal_words.hpp"
#include "ingest/text_roles.hpp"
#include "ingest/understand.hpp"
#include "support/safe_text.hpp"

namespace telltale::host {

void JournalPlanner::find_bus_codes() {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i) || !column.stats.mostly_numbers()) continue;
    if (says(column.header, {"spn"}) && !plan_.spn) {
      take(i, "alarm", "what is wrong: SPN of SAE J1939", plan_.spn);
    } else if (says(column.header, {"fmi"}) && !plan_.fmi) {
      take(i, "alarm", "in which way: FMI of SAE J1939", plan_.fmi);
    }
  }
}

std::optional<std::size_t> JournalPlanner::mapped(Role role) const {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    if (t_.columns[i].plan.role == role) return i;
  }
  return std::nullopt;
}

void JournalPlanner::find_state() {
  plan_.state = mapped(Role::state);
  if (plan_.state) return;
  int best = 0;
  std::size_t at = 0;
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i)) continue;
    const Happenings h = happenings_of(column.stats);
    if (h.came == 0 || h.other * 10 > h.came + h.went + h.other) continue;
    const bool named = says(column.header, kStateWords);
    const bool numeric = column.stats.numbers > column.stats.texts;
    // An alarm of its own says yes and no too.
    if (numeric && !named) continue;
    if (column.stats.words.size() > 12) continue;
    const int score = (h.went > 0 ? 4 : 0) + (named ? 3 : 0) + !numeric;
    if (score > best) {
      best = score;
      at = i;
    }
  }
  if (best >= 3) take(at, "state", "what happened: came or went", plan_.state);
}

void JournalPlanner::find_came_and_went() {
  std::optional<std::size_t> came;
  std::optional<std::size_t> went;
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i) || column.stats.texts == 0 || is_yes_no(column)) continue;
    if (says(column.header, kOffWords)) {
      if (!went) went = i;
    } else if (says(column.header, kOnWords) && !came) {
      came = i;
    }
  }
  if (!came || !went || plan_.state || plan_.end) return;
  // Both name the same alarms.
  const auto& words = t_.columns[*came].stats.words;
  const auto& other = t_.columns[*went].stats.words;
  const bool shared =
      std::any_of(words.begin(), words.end(),
                  [&](const auto& word) { return other.contains(word.first); });
  if (!shared) return;
  take(*came, "alarm", "names alarms that came", plan_.came);
  take(*went, "alarm", "names alarms that went", plan_.went);
}

void JournalPlanner::find_unit() {
  plan_.unit = mapped(Role::unit);
  for (std::size_t i = 0; i < t_.columns.size() && !plan_.unit; ++i) {
    if (!is_free(i)) continue;
    if (take_unit(t_.columns[i])) plan_.unit = i;
  }
  for (std::size_t i = 0; i < t_.columns.size() && !plan_.unit; ++i) {
    const Column& column = t_.columns[i];
    const bool named =
        says(column.header, {"turbine", "pump", "plant", "station", "site",
                             "area", "compressor", "module", "line", "location",
                             "ship", "berth", "quay", "node"});
    if (!is_free(i) || !named || says(column.header, kNameWords) ||
        column.header.tokens.size() > 3) {
      continue;
    }
    std::vector<double> values = column.stats.sorted;
    values.erase(std::unique(values.begin(), values.end()), values.end());
    const std::size_t distinct = values.size() + column.stats.words.size();
    if (distinct == 0 || distinct > 64 || !column.stats.integers) continue;
    take(i, "unit", distinct == 1 ? "names the unit" : "names the units",
         plan_.unit);
  }
}

void JournalPlanner::find_name() {
  int best = 0;
  std::size_t at = 0;
  if (const auto told = mapped(Role::alarm)) {
    take(*told, "alarm", "as the map says", plan_.name);
    return;
  }
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i) || column.stats.cells == column.stats.missing) continue;
    const bool texts = column.stats.texts >= column.stats.numbers;
    const bool named = says(column.header, kNameWords);
    const bool text_named =
        says(column.header, kTextWords) ||
        says(column.header, {"name", "id", "number", "no", "nr"});
    if (!named && !text_named) continue;
    if (!texts && !column.stats.integers) continue;
    if (is_yes_no(column)) continue;
    if (says(column.header, kPriorityWords) && distinct_of(column) <= 8) {
      continue;
    }
    // What has but one text tells no alarms apart, but may be all there is.
    const int score =
        (named ? 8 : 4) + (texts ? 2 : 0) + (distinct_of(column) > 1 ? 8 : 0) +
        (says(column.header, {"tag", "alarm", "tagname"}) ? 2 : 0);
    if (score > best) {
      best = score;
      at = i;
    }
  }
  if (best > 0) take(at, "alarm", "names the alarm", plan_.name);
}

void JournalPlanner::find_more_words() {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    const Column& column = t_.columns[i];
    if (!is_free(i)) continue;
    if (!plan_.priority && says(column.header, kPriorityWords) &&
        distinct_of(column) <= 24 && distinct_of(column) > 0) {
      take(i, "", "class or priority of the alarm", plan_.priority, "priority");
    } else if (!plan_.text && column.stats.texts > column.stats.numbers &&
               (says(column.header, kTextWords) ||
                says(column.header, kNameWords)) &&
               distinct_of(column) > 1) {
      take(i, "", "more words on the alarm", plan_.text, "text");
    }
  }
}

void JournalPlanner::find_contacts() {
  for (std::size_t i = 0; i < t_.columns.size(); ++i) {
    Column& column = t_.columns[i];
    if (!is_free(i) || !is_yes_no(column)) continue;
    column.use.name = "alarm";
    column.use.why = "an alarm of its own: yes or no";
    plan_.contacts.push_back({i, printable(column.header.text, 80)});
  }
}

void JournalPlanner::find_columns() {
  channels_ = count_channels();
  find_end();
  find_duration();
  find_bus_codes();
  find_unit();
  find_state();
  find_came_and_went();
  if (!plan_.came && !(plan_.spn && plan_.fmi)) find_name();
  if (plan_.name || plan_.spn) find_more_words();
}

}  // namespace telltale::host
