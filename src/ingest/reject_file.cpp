// The file of rejected lines.
#include "ingest/reject_file.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <system_error>

namespace telltale::host {

Result<RejectFile> RejectFile::open(const std::string& path,
                                    Encoding encoding) {
  std::FILE* file = std::fopen(path.c_str(), "wbe");
  if (file == nullptr) {
    return Error{
        "it can't be written: " + std::generic_category().message(errno), path,
        "give another file for --rejects"};
  }
  return RejectFile(file, encoding);
}

void RejectFile::write(LineFate fate, std::uint64_t line,
                       std::string_view detail, std::string_view text) {
  begin(fate, line, detail);
  more(text);
  end();
}

void RejectFile::begin(LineFate fate, std::uint64_t line,
                       std::string_view detail) {
  if (within_) end();
  fmt::print(file_.get(), "# line {}: {}{}{}\n", line, text_of(fate),
             detail.empty() ? "" : ": ", detail);
  within_ = true;
}

void RejectFile::more(std::string_view text) {
  const bool one_byte =
      encoding_ == Encoding::latin1 || encoding_ == Encoding::windows1252;
  const std::string bytes = one_byte ? encode_back(text, encoding_) : "";
  const std::string_view out = one_byte ? std::string_view(bytes) : text;
  std::fwrite(out.data(), 1, out.size(), file_.get());
}

void RejectFile::end() {
  std::fputc('\n', file_.get());
  within_ = false;
}

bool RejectFile::flush() {
  if (within_) end();
  return std::fflush(file_.get()) == 0 && std::ferror(file_.get()) == 0;
}

}  // namespace telltale::host
