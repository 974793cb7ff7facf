#include "season/digest_file.hpp"

#include <nlohmann/json.hpp>

#include "season/digest_fields.hpp"
#include "season/field_value.hpp"

namespace telltale::host::season {
namespace {

using Json = nlohmann::ordered_json;

Json as_json(const FieldValue& v) {
  if (const auto* x = std::get_if<std::int64_t>(&v)) return *x;
  if (const auto* x = std::get_if<double>(&v)) return *x;
  if (const auto* x = std::get_if<std::string>(&v)) return *x;
  return nullptr;
}

template <class T>
Json object_of(const T& item) {
  Json out = Json::object();
  // Visitors may write; this one does not.
  each_field(
      [&out](const char* name, auto& member) {
        const FieldValue value = to_value(member);
        if (std::holds_alternative<std::monostate>(value)) return;
        out[name] = as_json(value);
      },
      const_cast<T&>(item));
  return out;
}

template <class T>
Json list_of(const std::vector<T>& items) {
  Json out = Json::array();
  for (const T& item : items) out.push_back(object_of(item));
  return out;
}

/// Thrown and caught in this file only.
struct Damage {
  std::string what;
};

FieldValue as_value(const Json& j, const char* name) {
  if (j.is_null()) return {};
  if (j.is_number_integer()) return j.get<std::int64_t>();
  if (j.is_number()) return j.get<double>();
  if (j.is_string()) return j.get<std::string>();
  throw Damage{fmt::format("\"{}\" holds neither number nor text", name)};
}

template <class T>
void read_object(const Json& j, T& item) {
  if (!j.is_object()) throw Damage{"an object is missing"};
  each_field(
      [&j](const char* name, auto& member) {
        const auto found = j.find(name);
        using Member = std::remove_cvref_t<decltype(member)>;
        if (found == j.end()) {
          // What is left out is null, where the type has a null.
          Member kept = member;
          if (!from_value(FieldValue{}, member)) member = kept;
          return;
        }
        if (!from_value(as_value(*found, name), member)) {
          throw Damage{fmt::format("\"{}\" makes no sense", name)};
        }
      },
      item);
}

template <class T>
void read_list(const Json& j, const char* name, std::vector<T>& items) {
  const auto found = j.find(name);
  if (found == j.end()) return;
  for (const Json& one : *found) {
    items.emplace_back();
    read_object(one, items.back());
  }
}

void append_line(const Json& j, fmt::memory_buffer& out) {
  const std::string text =
      j.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
  out.append(text.data(), text.data() + text.size());
  out.push_back('\n');
}

Json unit_json(const UnitDigest& unit) {
  Json out = object_of(unit);
  out["limits"] = list_of(unit.limits);
  out["service"] = list_of(unit.service);
  return out;
}

Json run_json(const RunDigest& run) {
  Json out = Json::object();
  out["unit"] = run.unit;
  out.update(object_of(run));
  out["phases"] = list_of(run.phases);
  out["channels"] = list_of(run.channels);
  out["load_bins"] = list_of(run.load_bins);
  out["temperature_bins"] = list_of(run.temperature_bins);
  out["load_steps"] = list_of(run.load_steps);
  out["findings"] = list_of(run.findings);
  out["figures"] = list_of(run.figures);
  return out;
}

RunDigest read_run(const Json& j) {
  RunDigest run;
  read_object(j, run);
  const auto unit = j.find("unit");
  if (unit == j.end() || !unit->is_string()) throw Damage{"a run has no unit"};
  run.unit = unit->get<std::string>();
  read_list(j, "phases", run.phases);
  read_list(j, "channels", run.channels);
  read_list(j, "load_bins", run.load_bins);
  read_list(j, "temperature_bins", run.temperature_bins);
  read_list(j, "load_steps", run.load_steps);
  read_list(j, "findings", run.findings);
  read_list(j, "figures", run.figures);
  return run;
}

LogDigest read_log(const Json& head) {
  LogDigest digest;
  const auto log = head.find("log");
  if (log == head.end()) throw Damage{"the log's facts are missing"};
  read_object(*log, digest);
  if (digest.sha256.size() != 64) throw Damage{"the log's hash is missing"};
  if (const auto units = head.find("units"); units != head.end()) {
    for (const Json& one : *units) {
      digest.units.emplace_back();
      read_object(one, digest.units.back());
      read_list(one, "limits", digest.units.back().limits);
      read_list(one, "service", digest.units.back().service);
    }
  }
  read_list(head, "findings", digest.findings);
  return digest;
}

}  // namespace

void write_digest(const LogDigest& digest, fmt::memory_buffer& out) {
  Json head;
  head["schema"] = kDigestSchema;
  head["log"] = object_of(digest);
  head["units"] = Json::array();
  for (const UnitDigest& unit : digest.units) {
    head["units"].push_back(unit_json(unit));
  }
  head["findings"] = list_of(digest.findings);
  append_line(head, out);
  for (const RunDigest& run : digest.runs) {
    append_line({{"run", run_json(run)}}, out);
  }
  append_line(
      {{"end", {{"sha256", digest.sha256}, {"runs", digest.runs.size()}}}},
      out);
}

bool looks_like_digest(std::string_view first_bytes) {
  constexpr std::string_view kStart = "{\"schema\":\"telltale.digest/";
  return first_bytes.substr(0, kStart.size()) == kStart;
}

Error DigestReader::damaged(std::string what) const {
  return {std::move(what), fmt::format("{}:{}", name_, line_),
          "make the digest again"};
}

std::optional<Result<LogDigest>> DigestReader::next() {
  std::string text = std::move(held_);
  held_.clear();
  bool have = !text.empty();
  // After damage, everything up to the next head is passed over.
  while (!have && std::getline(*in_, text)) {
    ++line_;
    if (text.empty()) continue;
    have = looks_like_digest(text);
    if (!have && line_ == 1) {
      return Result<LogDigest>(damaged("is no digest file"));
    }
  }
  if (!have) return std::nullopt;
  try {
    const Json head = Json::parse(text);
    if (head.at("schema") != kDigestSchema) {
      return Result<LogDigest>(
          damaged("was written by another version of the program"));
    }
    LogDigest digest = read_log(head);
    while (std::getline(*in_, text)) {
      ++line_;
      if (looks_like_digest(text)) {
        held_ = text;
        break;
      }
      const Json body = Json::parse(text);
      if (const auto run = body.find("run"); run != body.end()) {
        digest.runs.push_back(read_run(*run));
        continue;
      }
      const Json& end = body.at("end");
      if (end.at("sha256") != digest.sha256 ||
          end.at("runs") != digest.runs.size()) {
        throw Damage{"the digest does not hold what its end says"};
      }
      return Result<LogDigest>(std::move(digest));
    }
    return Result<LogDigest>(
        damaged("the digest of " + digest.file + " is cut off"));
  } catch (const Damage& damage) {
    return Result<LogDigest>(damaged(damage.what));
  } catch (const Json::exception&) {
    return Result<LogDigest>(damaged("the digest is damaged"));
  }
}

}  // namespace telltale::host::season
