// The word table: spellings that headers use, folded into the concept words of
// channels.def.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace telltale::host {

enum class WordKind : std::uint8_t {
  concept_word,  // says what is measured
  neutral,       // says nothing that matters: engine number, "value", ...
  foreign        // says that it is something else: mains, set point, boost
};

/// One thing a header says.
struct HeaderWord {
  std::string text;  // the concept, or the spelling of a neutral or foreign
  WordKind kind = WordKind::concept_word;
};

/// What a word (folded, letters and digits only) means: one or more concepts,
/// a neutral or a foreign word. Compounds ("oldruck", "coolanttemp", "vbatt")
/// are taken apart. Nothing where the table does not have it.
std::optional<std::vector<HeaderWord>> look_up_word(std::string_view word);

/// Whether a concept only says which set or position it is and may be left
/// over: "engine", "generator", "load", "output", ...
bool may_be_left_over(std::string_view concept_word);

/// Alternatives for a channel beside those of channels.def, as there.
std::string_view more_words_for(std::string_view slug);

}  // namespace telltale::host
