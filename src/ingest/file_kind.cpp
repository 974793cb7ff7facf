// File signatures (public format descriptions) and a test for plain text.
#include "ingest/file_kind.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "ingest/text_encoding.hpp"

namespace telltale::host {
namespace {

using namespace std::string_view_literals;  // NOLINT: for ""sv

struct Signature {
  std::string_view bytes;
  std::string_view what;
  std::string_view remedy;
};

constexpr std::string_view kExport = "export it as CSV first";
constexpr std::string_view kUnpack = "unpack it first";

// A gzip file is read as it is and so not listed.
constexpr std::array kSignatures = {
    Signature{"\x89PNG\r\n"sv, "a picture (PNG)", "give the log itself"},
    Signature{"\xFF\xD8\xFF"sv, "a picture (JPEG)", "give the log itself"},
    Signature{"GIF8"sv, "a picture (GIF)", "give the log itself"},
    Signature{"%PDF-"sv, "a PDF document", "give the log itself"},
    Signature{"PK\x03\x04"sv, "a spreadsheet or zip archive",
              "export the sheet as CSV, or unpack the archive"},
    Signature{"\xD0\xCF\x11\xE0"sv, "an old spreadsheet", kExport},
    Signature{"SQLite format 3"sv, "a database", kExport},
    Signature{"BZh"sv, "compressed by bzip2", kUnpack},
    Signature{"\xFD"
              "7zXZ"sv,
              "compressed by xz", kUnpack},
    Signature{"\x28\xB5\x2F\xFD"sv, "compressed by zstd", kUnpack},
    Signature{"7z\xBC\xAF"sv, "a 7z archive", kUnpack},
    Signature{"Rar!"sv, "a rar archive", kUnpack},
    Signature{"\x7F"
              "ELF"sv,
              "a program", "give the log itself"},
    Signature{"{\""sv, "JSON", kExport},
    Signature{"{ \""sv, "JSON", kExport},
    Signature{"[{"sv, "JSON", kExport},
    Signature{"<?xml"sv, "XML", kExport},
    Signature{"<!DOCTYPE"sv, "a web page", "download the log itself"},
    Signature{"<html"sv, "a web page", "download the log itself"},
    Signature{"{\\rtf"sv, "a text document (RTF)", "save it as plain text"},
};

}  // namespace

std::optional<Error> refuse_binary(std::string_view head,
                                   const std::string& name) {
  for (const Signature& signature : kSignatures) {
    if (head.starts_with(signature.bytes)) {
      return Error{"not a log but " + std::string(signature.what), name,
                   std::string(signature.remedy)};
    }
  }
  const EncodingGuess guess = guess_encoding(head);
  if (guess.encoding == Encoding::utf16le ||
      guess.encoding == Encoding::utf16be || head.starts_with("\x1F\x8B")) {
    return std::nullopt;
  }
  // A log cut by a power failure may hold a stretch of zero bytes; a file
  // where every fiftieth byte is none that text uses is no log.
  const auto odd = std::count_if(head.begin(), head.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return byte < 0x20 && c != '\t' && c != '\n' && c != '\r' && c != '\f' &&
           c != '\v' && c != '\0' && c != '\x1a';
  });
  const auto zeros = std::count(head.begin(), head.end(), '\0');
  const auto size = static_cast<std::ptrdiff_t>(head.size());
  const bool all_zeros = zeros == size && size > 0;
  const bool has_line = head.find_first_of("\r\n") != head.npos;
  if (all_zeros || (odd > 3 && odd * 50 > size) ||
      (zeros * 10 > size && !has_line)) {
    return Error{all_zeros ? "the file holds nothing but zero bytes"
                           : "not a log: the file is binary",
                 name, "copy it again from the logger, as CSV"};
  }
  return std::nullopt;
}

}  // namespace telltale::host
