// telltale checks [NAME] [--profile FILE] [--units ...]
//
// Every check: name, severity, limit in force for this profile, source of the
// limit; or one check explained on a page.
#include "commands/checks.hpp"

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <string>

#include "checks/catalogue.hpp"
#include "profile/inference.hpp"
#include "report/page.hpp"
#include "report/phrases.hpp"
#include "support/exit_codes.hpp"
#include "support/options.hpp"
#include "support/output.hpp"
#include "telltale/advise/cautions.hpp"

namespace telltale::tool {
namespace {

struct ChecksOptions {
  CommonOptions common;
  std::string name;
  bool json = false;
};

std::string limits_of(const host::CheckCard& check, const Profile& profile,
                      const host::ValueText& text) {
  return host::limits_text(check, profile, text);
}

void table(const Profile& profile, const host::ValueText& text,
           host::Page& page) {
  for (const host::CheckCard& check : host::catalogue()) {
    page.line(fmt::format("{:<25}{}", check.info->slug, check.info->title));
    page.paragraph("    limit   ", limits_of(check, profile, text));
    page.paragraph("    source  ", check.info->source);
  }
  page.line();
  page.paragraph("", "telltale checks NAME explains one of them on a page.");
}

template <class Texts>
void list(host::Page& page, std::string_view lead, const Texts& texts) {
  int number = 0;
  for (const std::string_view item : texts) {
    if (item.empty()) continue;
    ++number;
    page.paragraph(fmt::format("{:<12}{}. ", number == 1 ? lead : "", number),
                   item);
  }
}

std::string channels_of(const CheckInfo& info) {
  std::string all;
  std::string one;
  for (const ChannelInfo& channel : kChannels) {
    if ((info.needs & bit(channel.channel)) != 0) {
      all += fmt::format("{}{}", all.empty() ? "" : ", ", channel.slug);
    }
    if ((info.needs_one & bit(channel.channel)) != 0) {
      one += fmt::format("{}{}", one.empty() ? "" : " or ", channel.slug);
    }
  }
  if (!all.empty() && !one.empty()) return all + ", and " + one;
  if (all.empty() && one.empty()) return "no channel in particular";
  return all + one;
}

void explain(const host::CheckCard& check, const Profile& profile,
             const host::ValueText& text, host::Page& page) {
  const CheckInfo& info = *check.info;
  page.line(fmt::format("{}: {}", info.slug, info.title));
  page.line();
  page.paragraph("limit       ", limits_of(check, profile, text));
  page.paragraph("source      ", info.source);
  page.paragraph("needs       ", channels_of(info));
  page.line();
  page.paragraph("sees        ", check.explanation->sees);
  page.paragraph("decides     ", check.explanation->decides);
  page.paragraph("is blind    ", check.explanation->blind);
  page.paragraph("is fooled   ", check.explanation->fooled);
  page.line();
  list(page, "causes", check.advice->causes);
  list(page, "next", check.advice->next);
  for (const CautionText& caution : kCautions) {
    if ((check.advice->cautions & caution.bit) != 0) {
      page.paragraph("caution     ", caution.text);
    }
  }
  page.paragraph("            ", kDeference);
}

nlohmann::ordered_json as_json(const Profile& profile) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const host::CheckCard& check : host::catalogue()) {
    const Limits limits = check.limits(profile);
    nlohmann::ordered_json levels = nlohmann::ordered_json::object();
    for (Severity severity :
         {Severity::note, Severity::attention, Severity::urgent}) {
      const Level& level = limits[severity];
      if (!level.exists()) continue;
      levels[std::string(name_of(severity))] = {
          {"limit", level.limit}, {"delay_s", level.delay_ms / 1000.0}};
    }
    out.push_back({{"check", check.info->slug},
                   {"title", check.info->title},
                   {"unit", name_of(limits.unit)},
                   {"side", limits.side == Side::above ? "above" : "below"},
                   {"limits", levels},
                   {"source", check.info->source}});
  }
  return out;
}

int fail(const host::Error& error) {
  complain(error);
  return kCouldNotDo;
}

int run(const ChecksOptions& options) {
  const host::Result<host::ProfileFile> file = profile_of(options.common);
  if (!file) return fail(file.error());
  std::vector<std::string> inferred;
  const Profile profile = host::Inference{}.complete(*file, inferred);
  const host::LogLayout no_log;
  const host::ValueText text(options.common.units == host::UnitSystem::as_logged
                                 ? host::UnitSystem::metric
                                 : options.common.units,
                             no_log);
  fmt::memory_buffer out;
  host::Page page(out);
  if (!options.name.empty()) {
    const host::CheckCard* check = host::check_named(options.name);
    if (check == nullptr) {
      return fail({"no check is called \"" + options.name + "\"", "",
                   "telltale checks lists them"});
    }
    explain(*check, profile, text, page);
  } else if (options.json) {
    const std::string json = as_json(profile).dump(2) + "\n";
    out.append(json.data(), json.data() + json.size());
  } else {
    table(profile, text, page);
  }
  if (const auto error = write_output("-", {out.data(), out.size()})) {
    return fail(*error);
  }
  return kNothingFound;
}

}  // namespace

void add_checks(CLI::App& program, int& exit_code) {
  CLI::App* command = program.add_subcommand(
      "checks", "every check with its limit in force, or one explained");
  auto options = std::make_shared<ChecksOptions>();
  command->add_option("NAME", options->name, "the check to explain");
  command->add_flag("--json", options->json, "the table as JSON");
  declare_judging(*command, options->common);
  command->callback([options, &exit_code] { exit_code = run(*options); });
}

}  // namespace telltale::tool
