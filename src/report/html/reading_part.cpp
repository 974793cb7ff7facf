#include "report/html/reading_part.hpp"

#include <cctype>
#include <map>
#include <string>
#include <vector>

#include "ingest/columns_text.hpp"
#include "report/html/table.hpp"

namespace telltale::host {
namespace {

std::string capital(std::string text) {
  if (!text.empty()) {
    text[0] =
        static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  }
  return text;
}

}  // namespace

void write_not_checked(const HealthReport& report, Document& doc) {
  // Reason and check; then the runs it holds for.
  std::map<std::string, std::map<std::string_view, std::vector<std::string>>>
      by_reason;
  for (const RunReport& run : report.runs) {
    for (const NotChecked& item : run.not_checked()) {
      by_reason[item.why][item.check->info->title].push_back(name_of_run(run));
    }
  }
  if (by_reason.empty()) {
    doc.put("<p>Every check could judge every run.</p>");
    return;
  }
  doc.put("<dl class=\"reasons\">");
  for (const auto& [why, checks] : by_reason) {
    doc.put("<div><dt>{}</dt><dd>", safe(why));
    bool first = true;
    for (const auto& [title, runs] : checks) {
      doc.put("{}{}", first ? "" : ", ", title);
      first = false;
      if (runs.size() == report.runs.size()) continue;
      if (runs.size() > 3) {
        doc.put(" ({} of {} runs)", runs.size(), report.runs.size());
      } else {
        doc.put(" ({})", fmt::join(runs, "; "));
      }
    }
    doc.put("</dd></div>");
  }
  doc.put("</dl>");
}

void write_reading(const HealthReport& report, Document& doc) {
  const LogLayout& layout = report.layout;
  doc.put("<p>{} rows of {} lines; {} could not be read. {}; time {}.</p>",
          grouped(static_cast<double>(report.tally.rows), 0),
          grouped(static_cast<double>(report.tally.lines), 0),
          grouped(static_cast<double>(report.tally.rejected), 0),
          safe(capital(dialect_words(layout))), safe(time_words(layout)));
  for (const UnitReport& unit : report.units) {
    if (unit.inferred.empty()) continue;
    doc.put("<h3>Worked out from the log{}{}</h3><ul>",
            unit.name.empty() ? "" : ": ", safe(unit.name, 60));
    for (const std::string& line : unit.inferred) {
      doc.put("<li>{}</li>", safe(line));
    }
    doc.put("</ul>");
  }
  if (!report.notes.empty()) {
    doc.put("<h3>Worth knowing</h3><ul>");
    for (const std::string& note : report.notes) {
      doc.put("<li>{}</li>", safe(note));
    }
    doc.put("</ul>");
  }
  open_table(doc.out(), "Columns of the log",
             {{"Header", kWords},
              {"Read as", kWords},
              {"Unit", kWords},
              {"Why", kWords}});
  for (const ColumnUse& column : layout.columns) {
    doc.put(
        "<tr><th scope=\"row\">{}</th><td class=\"word\">{}</td>"
        "<td class=\"word\">{}</td><td class=\"word\">{}</td></tr>",
        safe(column.header, 80),
        column.name.empty() ? std::string("not used") : safe(column.name),
        symbol_of(column.unit), safe(column.why));
  }
  close_table(doc.out());
}

}  // namespace telltale::host
