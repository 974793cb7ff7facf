// Text to number, strictly: the whole text is a number or there is none.
#pragma once

#include <optional>
#include <string_view>

namespace telltale::host {

/// The number that the whole of `text` is, correctly rounded, whatever the
/// locale. `decimal` is the only mark accepted before the fraction. A leading
/// '+' is allowed. Nothing for an empty text, surrounding blanks, "nan",
/// "inf", hexadecimals, a number too large for a double, group separators.
/// Never throws, never allocates.
std::optional<double> parse_number(std::string_view text, char decimal = '.');

/// The same for the row loop: true and `value` set where [begin, end) is a
/// number, else false.
bool read_number(const char* begin, const char* end, char decimal,
                 double& value) noexcept;

/// Whether digits in threes may be read as thousands.
enum class Grouping {
  proven,   ///< the file's decimal mark is known from elsewhere
  possible  ///< only where the text itself leaves no doubt
};

/// A number with thousands separators: "1,234.5" (decimal '.'), "1.234,5"
/// (decimal ','), "1 234" and "1'234" (either). A single comma or point before
/// three digits could be a decimal mark; it is read as a separator only where
/// `grouping` says that the decimal mark is proven. Nothing otherwise.
std::optional<double> parse_grouped_number(std::string_view text, char decimal,
                                           Grouping grouping);

/// Splits "41 psi" into the number and what follows it. The number is the
/// longest prefix that is one; blanks between are dropped.
struct NumberWithSuffix {
  double value;
  std::string_view suffix;
};
std::optional<NumberWithSuffix> parse_number_prefix(std::string_view text,
                                                    char decimal);

}  // namespace telltale::host
