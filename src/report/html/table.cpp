#include "report/html/table.hpp"

#include <iterator>

#include "support/safe_text.hpp"

namespace telltale::host {

void open_table(fmt::memory_buffer& out, std::string_view caption,
                std::initializer_list<Head> heads) {
  const auto put = std::back_inserter(out);
  fmt::format_to(put,
                 "<div class=\"scroll\" tabindex=\"0\" role=\"group\" "
                 "aria-label=\"{0}\"><table><caption>{0}</caption><thead><tr>",
                 html(caption));
  for (const Head& head : heads) {
    fmt::format_to(put, "<th scope=\"col\"{}>{}</th>",
                   head.words ? " class=\"word\"" : "", html(head.title));
  }
  fmt::format_to(put, "</tr></thead><tbody>");
}

void close_table(fmt::memory_buffer& out) {
  fmt::format_to(std::back_inserter(out), "</tbody></table></div>\n");
}

}  // namespace telltale::host
