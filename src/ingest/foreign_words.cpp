// Pardons of foreign words.
#include "ingest/foreign_words.hpp"

#include <array>
#include <string>
#include <string_view>

namespace telltale::host {
namespace {

struct Pardon {
  std::string_view word;
  std::string_view beside;   // a concept, said or implied
  std::string_view becomes;  // the concept meant, or ""
};
constexpr std::array kPardons = {
    Pardon{"wind", "temperature", "winding"},
    Pardon{"time", "running", "hours"},
    Pardon{"manifold", "exhaust", ""},
    Pardon{"inlet", "sea", ""},
    Pardon{"inlet", "raw", ""},
    Pardon{"rated", "percent", "load"},
    Pardon{"rating", "percent", "load"},
    Pardon{"nominal", "percent", "load"},
};

}  // namespace

void pardon_foreign(HeaderName& name) {
  for (const Pardon& pardon : kPardons) {
    if (name.implied != pardon.beside &&
        !name.concepts.contains(std::string(pardon.beside))) {
      continue;
    }
    if (std::erase(name.foreign, pardon.word) > 0 && !pardon.becomes.empty()) {
      name.concepts.emplace(pardon.becomes);
    }
  }
}

}  // namespace telltale::host
